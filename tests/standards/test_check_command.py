"""`leaflets check --json` carries the checklists; `leaflets make --json` stays as the contract has it."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from leaflets import demo
from leaflets.cli import main as cli

ROUTINE = Path(__file__).parents[1] / "visits" / "routine.toml"
DEMO_VISITS = sorted((Path(demo.__file__).parent / "visits").glob("*.toml"))

STOPPED = """ref = "A-1"
date = 2026-11-25
reader = "adult"
[right]
eardrum = "perforated"
wax_after = "not-cleared"
[plan]
drops = "olive-oil"
drops_for = ["right"]
"""


def test_check_answers_both_checklists_and_make_has_no_such_key(tmp_path: Path) -> None:
    checked = json.loads(CliRunner().invoke(cli, ["check", str(ROUTINE), "--json"]).stdout)
    made = json.loads(CliRunner().invoke(cli, ["make", str(ROUTINE), "--out", str(tmp_path), "--json"]).stdout)
    assert set(checked) == {*made, "standards"}
    # 24 items of PEMAT-P for print (17 + 7), 20 of the index.
    assert {key: len(one["items"]) for key, one in checked["standards"].items()} == {"pemat-p": 24, "cci": 20}


@pytest.mark.parametrize("visit", DEMO_VISITS, ids=lambda visit: visit.stem)
def test_every_demonstration_leaflet_meets_what_a_program_answers_alone(visit: Path) -> None:
    checked = json.loads(CliRunner().invoke(cli, ["check", str(visit), "--json"]).stdout)
    for standard in checked["standards"].values():
        for item in standard["items"]:
            if item["computed"] == "whole":
                assert item["answer"] == "met", item


def test_where_there_is_no_leaflet_there_is_nothing_to_judge(tmp_path: Path) -> None:
    visit = tmp_path / "visit.toml"
    visit.write_text(STOPPED)
    result = CliRunner().invoke(cli, ["check", str(visit), "--json"])
    assert result.exit_code == 1
    assert json.loads(result.stdout)["standards"] is None
