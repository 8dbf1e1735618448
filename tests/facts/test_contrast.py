"""The contrast of colours against published examples of the WCAG formula."""

import pytest

from leaflets.colours import contrast, darkened, lightened
from leaflets.render.html import DARK_GROUND, LEAST_CONTRAST

# Pairs with white as published in WCAG material and reproduced by many tools (from memory), to two figures. The greys
# are the well-known ones on either side of 4.5 to 1 and 3 to 1, the primaries those of the luminance weights:
# red (1.05 / 0.2626 = 4.00), green (1.05 / 0.7652 = 1.37), blue (1.05 / 0.1222 = 8.59), worked by hand.
_PUBLISHED = [
    ("#ffffff", 1.00),
    ("#000000", 21.00),
    ("#767676", 4.54),
    ("#777777", 4.48),
    ("#949494", 3.03),
    ("#959595", 2.99),
    ("#595959", 7.00),
    ("#ff0000", 4.00),
    ("#00ff00", 1.37),
    ("#0000ff", 8.59),
]


@pytest.mark.parametrize(("colour", "ratio"), _PUBLISHED)
def test_the_contrast_with_white_is_the_published_one(colour: str, ratio: float) -> None:
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=0.006)


@pytest.mark.parametrize(("colour", "ratio"), _PUBLISHED)
def test_the_contrast_of_two_colours_is_the_same_either_way(colour: str, ratio: float) -> None:
    assert contrast(colour, "#ffffff") == contrast("#ffffff", colour) == pytest.approx(ratio, abs=0.006)
    # Luminance 0.05 apart by the formula: the contrast with black and that with white multiply to 21.
    assert contrast(colour, "#000000") * contrast(colour, "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("colour", ["#000000", "#6b2d5c", "#24504a", "#0000ff", "#767676", "#ffffff"])
def test_any_colour_is_made_light_enough_for_the_dark_and_no_lighter_than_needed(colour: str) -> None:
    found = lightened(colour, DARK_GROUND, LEAST_CONTRAST)
    assert contrast(found, DARK_GROUND) >= LEAST_CONTRAST
    if contrast(colour, DARK_GROUND) >= LEAST_CONTRAST:
        assert found == colour
    else:
        assert contrast(found, DARK_GROUND) < LEAST_CONTRAST + 0.3  # a hundredth of the way to white


@pytest.mark.parametrize("colour", ["#ffee00", "#00ff00", "#777777", "#ff0000", "#767676", "#6b2d5c", "#ffffff"])
def test_any_colour_is_made_dark_enough_for_paper_and_no_darker_than_needed(colour: str) -> None:
    found = darkened(colour, "#ffffff", 4.5)
    assert contrast(found, "#ffffff") >= 4.5
    if contrast(colour, "#ffffff") >= 4.5:
        assert found == colour
    else:
        assert contrast(found, "#ffffff") < 4.7  # a hundredth of the way to black


def test_a_contrast_that_white_itself_has_not_is_refused() -> None:
    with pytest.raises(ValueError, match="too little contrast"):
        lightened("#000000", "#777777", 7)


def test_capital_letters_make_no_difference() -> None:
    assert contrast("#6B2D5C", "#ffffff") == contrast("#6b2d5c", "#ffffff")
