"""What the engine takes in: the standard library alone, a whole leaflet, a megabyte, and text made to be slow.

Times are measured by `make bench`; here it is enough that each of these ends.
"""

import subprocess
import sys
from pathlib import Path

import pytest

from leaflets.readability.report import grade_units
from leaflets.readability.segment import split_units

PACKAGE = Path(__file__).parents[2] / "leaflets"

# A bare parent package stands in for ours, so that only what this part imports is seen.
IMPORTED = f"""
import sys, types
parent = types.ModuleType("leaflets")
parent.__path__ = [{str(PACKAGE)!r}]
sys.modules["leaflets"] = parent
import leaflets.readability.report as report
report.grade_units(["Keep your ear dry after microsuction."] * 10, "en")
foreign = {{name.partition(".")[0] for name in sys.modules}} - set(sys.stdlib_module_names) - {{"leaflets"}}
print(",".join(sorted(name for name in foreign if not name.startswith("_"))))
"""


def test_the_engine_takes_the_standard_library_alone() -> None:
    command = [sys.executable, "-I", "-S", "-c", IMPORTED]
    assert subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip() == ""


def test_a_leaflet_of_600_words_is_counted() -> None:
    # 75 units of 8 words
    text = "\n".join(
        [
            "Keep your left ear dry for 48 hours.",
            "Do not put cotton buds in it, please.",
            "- You may feel dizzy for a few minutes",
        ]
        * 25
    )
    report = grade_units([unit.text for unit in split_units(text)], "en")
    assert (report.words, report.sentences) == (600, 75)


@pytest.mark.parametrize(
    "piece", ["ear ", "a.", "aa.", ". ", '."', "x@", "www.", "1-", "\u0301a", "don'", "aa.com/", "ear-"]
)
def test_a_hundred_kilobytes_of_anything_end(piece: str) -> None:
    """A pattern that looks back over what it has read would take hours here."""
    text = piece * (100_000 // len(piece))
    report = grade_units([unit.text for unit in split_units(text)] or [text], "en")
    assert report.words <= len(text)


def test_a_megabyte_is_graded() -> None:
    report = grade_units([unit.text for unit in split_units("Keep your left ear dry for 48 hours. " * 28_000)], "en")
    assert (report.words, report.sentences) == (224_000, 28_000)
