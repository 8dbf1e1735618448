"""Every paper format in every language, and every child's page, as checkers from outside see them.

What tests/rendering/test_formats.py, test_locales_in_print.py and test_childs_page.py do not make already.
"""

import subprocess
from pathlib import Path
from types import ModuleType

import outloud
import pytest

from leaflets import demo
from leaflets.formats import FORMATS
from leaflets.locale_files import locales_in
from leaflets.model import Result
from leaflets.pipeline import make
from leaflets.vocabulary import CHILD_READERS

VISITS = Path(demo.__file__).parent / "visits"
DROPS = VISITS / "02-drops-for-the-right-ear.toml"
CHILD = VISITS / "09-a-child-with-a-tube.toml"
LANGUAGES = [files.locale for files in locales_in(Path(demo.__file__).parents[2] / "locales")]
PAPERS = [row.name for row in FORMATS.values() if row.kind == "paper" and row.name != "a4"]
IN_OTHER_TESTS = {"formats": ("ar", "ur", "bn"), "children": ("ar", "ur", "pl")}


def _require_sound(result: Result, structure: ModuleType) -> None:
    assert result.status == "ok", [finding for finding in result.findings if finding.severity == "stop"]
    pdf = Path(result.files["pdf"])
    assert subprocess.run(["qpdf", "--check", pdf], capture_output=True, check=False).returncode == 0
    told = outloud.check(str(pdf))
    assert told.error is None
    assert [finding.rule for finding in told.findings if finding.severity == "error"] == []
    assert structure.structure_faults(pdf) == []


@pytest.mark.parametrize("format_", PAPERS)
@pytest.mark.parametrize("language", [one for one in LANGUAGES if one not in IN_OTHER_TESTS["formats"]])
def test_every_paper_is_sound_in_every_language(
    format_: str, language: str, structure: ModuleType, tmp_path: Path
) -> None:
    _require_sound(make(DROPS, language=language, format=format_, out=tmp_path), structure)


@pytest.mark.parametrize("reader", CHILD_READERS)
@pytest.mark.parametrize("language", [one for one in LANGUAGES if one not in IN_OTHER_TESTS["children"]])
def test_every_childs_leaflet_is_sound_in_every_language(
    reader: str, language: str, structure: ModuleType, tmp_path: Path
) -> None:
    _require_sound(make(CHILD, language=language, reader=reader, out=tmp_path), structure)
