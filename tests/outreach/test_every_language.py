"""School packs and prevention leaflets in every language that is shipped: whole, current, and within their paper."""

import datetime
from pathlib import Path

import pytest

from leaflets import demo
from leaflets.locale_files import locales_in
from leaflets.school import make_school_pack
from leaflets.sheets import make_sheet

DAY = datetime.date(2026, 11, 25)
LANGUAGES = [files.locale for files in locales_in(Path(demo.__file__).parents[2] / "locales")]


@pytest.mark.parametrize("band", ["5-7", "7-11"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_pack_is_made_in_every_language_and_fits_its_paper(language: str, band: str) -> None:
    result = make_school_pack(band, language=language, seed="oak", date=DAY)
    assert [finding for finding in result.findings if finding.severity == "stop"] == []
    assert result.status == "ok"
    assert {part.language for part in result.parts} == {language}


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_leaflet_on_wax_is_made_in_every_language(language: str) -> None:
    result = make_sheet("wax", language=language, date=DAY)
    assert [finding for finding in result.findings if finding.severity == "stop"] == []
    assert result.status == "ok"
