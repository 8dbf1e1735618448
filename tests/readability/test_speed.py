"""Import, first use, a leaflet, and a megabyte: times with slack for a busy machine."""

import subprocess
import sys
import time
from pathlib import Path

import pytest

from leaflets.readability.report import grade_units
from leaflets.readability.segment import split_units

PACKAGE = Path(__file__).parents[2] / "leaflets"

# A bare parent package stands in for ours, so that only this part is measured.
MEASURE = f"""
import sys, time, types
parent = types.ModuleType("leaflets")
parent.__path__ = [{str(PACKAGE)!r}]
sys.modules["leaflets"] = parent
start = time.perf_counter()
import leaflets.readability.report as report
imported = time.perf_counter()
report.grade_units(["Keep your ear dry after microsuction."] * 10, "en")
used = time.perf_counter()
foreign = {{name.partition(".")[0] for name in sys.modules}} - set(sys.stdlib_module_names) - {{"leaflets"}}
print(imported - start, used - imported, ",".join(sorted(name for name in foreign if not name.startswith("_"))))
"""


def measure() -> tuple[float, float, str]:
    output = subprocess.run(
        [sys.executable, "-I", "-S", "-c", MEASURE], capture_output=True, text=True, check=True
    ).stdout.split(" ")
    return float(output[0]), float(output[1]), output[2].strip()


def test_importing_is_quick_and_takes_the_standard_library_alone() -> None:
    measured = [measure() for _ in range(4)]
    assert min(imported for imported, _, _ in measured) < 0.060
    assert min(used for _, used, _ in measured) < 0.080
    assert {foreign for _, _, foreign in measured} == {""}


def test_a_leaflet_of_600_words_takes_about_a_millisecond() -> None:
    # 75 units of 8 words
    text = "\n".join(
        [
            "Keep your left ear dry for 48 hours.",
            "Do not put cotton buds in it, please.",
            "- You may feel dizzy for a few minutes",
        ]
        * 25
    )
    best = 1.0
    for _ in range(12):
        start = time.perf_counter()
        report = grade_units([unit.text for unit in split_units(text)], "en")
        best = min(best, time.perf_counter() - start)
    assert (report.words, report.sentences) == (600, 75)
    assert best < 0.005


@pytest.mark.parametrize(
    "piece", ["ear ", "a.", "aa.", ". ", '."', "x@", "www.", "1-", "\u0301a", "don'", "aa.com/", "ear-"]
)
def test_a_hundred_kilobytes_of_anything_take_time_in_proportion(piece: str) -> None:
    text = piece * (100_000 // len(piece))
    start = time.perf_counter()
    grade_units([unit.text for unit in split_units(text)] or [text], "en")
    assert time.perf_counter() - start < 1.5


def test_a_megabyte_is_graded() -> None:
    start = time.perf_counter()
    report = grade_units([unit.text for unit in split_units("Keep your left ear dry for 48 hours. " * 28_000)], "en")
    assert (report.words, report.sentences) == (224_000, 28_000)
    assert time.perf_counter() - start < 5
