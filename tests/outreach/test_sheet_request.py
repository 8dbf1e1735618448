"""What a sheet can be asked for, and what is said of everything else."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import leaflets
from leaflets.cli import main
from leaflets.errors import LeafletError
from leaflets.outreach_request import LARGEST_CLASS, SMALLEST_CLASS, SchoolRequest, TopicRequest
from leaflets.sheets import make_sheet

GOOD: dict[str, Any] = {"band": "5-7", "language": "en", "country": "GB", "date": "2026-11-25"}


def run(*arguments: str, out: Path) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["sheet", *arguments, "--out", str(out)])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output


@pytest.mark.parametrize(
    ("arguments", "place", "said"),
    [
        (("school", "--band", "5-7", "--class-size", "0"), "--class-size", "0 is no class size (give 1 to 60"),
        (("school", "--band", "5-7", "--class-size", "10000"), "--class-size", "10000 is no class size"),
        (("school", "--band", "5-7", "--class-size", "-3"), "--class-size", "-3 is no class size"),
        (("school", "--band", "12-14"), "--band", "'12-14' is not a value (allowed: 5-7, 7-11)"),
        (("school",), "--band", "is missing"),
        (("wxa",), "topic", "there are no sheets for the topic 'wxa' (did you mean 'wax'? allowed: wax, cotton-buds"),
        (("scool",), "topic", "did you mean 'school'?"),
        (("wax", "--language", "xx"), "--language", "there are no sheets for the language 'xx' (allowed: en, ar"),
        (("wax", "--language", "p l"), "--language", "is not written as it has to be"),
        (("wax", "--beside", "xx"), "--beside", "there are no sheets for the language 'xx'"),
        (("wax", "--beside", "en"), "--beside", "is the language of the sheet itself"),
        (("wax", "--country", "ZZ"), "--country", "there are no sheets for the country 'ZZ'"),
        (("wax", "--country", "gb"), "--country", "is not written as it has to be"),
        (("wax", "--paper", "a3"), "--paper", "'a3' is not a value (allowed: a4, letter)"),
        (("wax", "--class-size", "3"), "--class-size", "is for a school pack alone"),
        (("wax", "--seed", "oak"), "--seed", "is for a school pack alone"),
        (("school", "--band", "5-7", "--seed", " "), "--seed", "says nothing"),
        (("school", "--band", "5-7", "--seed", "o\x07ak"), "--seed", "holds a character that cannot be printed"),
        (("school", "--band", "5-7", "--seed", "oak" * 40), "--seed", "has 120 characters"),
    ],
)
def test_bad_input_is_one_line_with_its_option_and_what_to_do(
    arguments: tuple[str, ...], place: str, said: str, tmp_path: Path
) -> None:
    code, output = run(*arguments, out=tmp_path / "out")
    assert code == 2
    (line,) = output.strip().splitlines()
    assert line.startswith(f"{place}: ")
    assert said in line
    assert line.endswith(")")
    assert not (tmp_path / "out").exists()


def test_everything_that_is_wrong_is_said_at_once(tmp_path: Path) -> None:
    code, output = run(
        "school", "--band", "8", "--class-size", "0", "--language", "zz", "--country", "ZZ", out=tmp_path
    )
    assert code == 2
    assert {line.split(":")[0] for line in output.strip().splitlines()} == {
        "--band",
        "--class-size",
        "--language",
        "--country",
    }


@pytest.mark.parametrize("size", [SMALLEST_CLASS, 30, LARGEST_CLASS])
def test_classes_of_every_usual_size_can_be_asked_for(size: int) -> None:
    # 1 to 60: two classes of 30 together are the most; common practice, no source.
    assert SchoolRequest(**GOOD, class_size=size).class_size == size


@pytest.mark.parametrize("size", [SMALLEST_CLASS - 1, LARGEST_CLASS + 1, 2.5, "3", True])
def test_no_other_size_is_taken(size: object) -> None:
    with pytest.raises(ValueError, match="class_size"):
        SchoolRequest(**GOOD, class_size=size)


def test_a_request_has_no_field_about_a_person_and_cannot_be_changed() -> None:
    about_a_sheet = {"language", "country", "paper", "date", "beside"}
    assert set(TopicRequest.model_fields) == about_a_sheet | {"topic"}
    assert set(SchoolRequest.model_fields) == about_a_sheet | {"band", "class_size", "seed"}
    with pytest.raises(ValueError, match="frozen"):
        SchoolRequest(**GOOD).seed = "oak"  # type: ignore[misc]
    with pytest.raises(ValueError, match="child"):
        SchoolRequest(**GOOD, child="A. N.")


def test_the_functions_stand_at_the_top_of_the_package(tmp_path: Path) -> None:
    assert leaflets.make_sheet is make_sheet
    with pytest.raises(LeafletError, match="0 is no class size"):
        leaflets.make_school_pack("5-7", class_size=0, out=tmp_path)


def test_the_result_for_a_program_has_the_fields_of_a_leaflets_result(tmp_path: Path) -> None:
    code, output = run("wax", "--json", out=tmp_path)
    result = json.loads(output)
    assert code == 0
    assert set(result) == {
        *("sheet", "status", "leaflet_id", "content_version", "blocks", "withheld", "ask", "readability", "coverage"),
        *("findings", "pages", "parts", "files"),
    }
    assert (result["sheet"], result["status"], result["pages"]) == ("wax", "ok", 2)
    assert set(result["files"]) == {"pdf", "html"}
    assert {"ears/nothing-inside", "help/urgent"} <= {block["id"] for block in result["blocks"]}
    assert result["coverage"]["missing"] == 0
    assert result["readability"]["grade"] < 6


def test_a_language_without_the_words_stops_and_writes_nothing(french_clinic: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    arguments = ("school", "--band", "5-7", "--language", "fr", "--clinic", str(french_clinic))
    code, output = run(*arguments, "--json", out=out)
    result = json.loads(output)
    assert (code, result["status"], result["files"], result["pages"]) == (1, "stopped", {}, None)
    assert {one["code"] for one in result["findings"] if one["severity"] == "stop"} == {"TRAN01"}
    assert result["coverage"]["missing"] == result["coverage"]["messages"]
    code, output = run(*arguments, out=out)
    assert code == 1
    assert "Stopped: no sheet for school." in output
    assert not out.exists()
