"""The contrast of colours against published examples of the WCAG formula."""

import pytest

from leaflets.clinic import contrast_with_white

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
    assert contrast_with_white(colour) == pytest.approx(ratio, abs=0.006)


def test_capital_letters_make_no_difference() -> None:
    assert contrast_with_white("#6B2D5C") == contrast_with_white("#6b2d5c")
