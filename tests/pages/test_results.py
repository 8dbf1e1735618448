"""What the program says of each leaflet it made: the contract's fields, with values that hold together."""

import datetime
import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from leaflets import demo
from leaflets.pipeline import make

DEMO_VISITS = sorted((Path(demo.__file__).parent / "visits").glob("*.toml"))

# Field -> type: the contract with everything that calls the program. "confirmed" is more than the contract.
TOP = {
    "ref": str,
    "status": str,
    "leaflet_id": str,
    "content_version": str,
    "blocks": list,
    "withheld": list,
    "ask": list,
    "confirmed": list,
    "readability": dict,
    "coverage": dict,
    "findings": list,
    "pages": int,
    "files": dict,
}
ROWS: dict[str, dict[str, type]] = {
    "blocks": {"id": str, "rule": str, "ears": list, "because": list},
    "withheld": {"rule": str, "ears": list, "because": list},
    "ask": {"rule": str, "ears": list, "not_recorded": list, "to_confirm": list},
    "confirmed": {"rule": str, "ears": list, "because": list, "by": str, "reason": str},
    "findings": {"code": str, "severity": str, "place": str, "message": str, "hint": str},
}
READABILITY = {"formula": str, "grade": float, "low": float, "high": float, "reading_age_years": int, "words": int}
COVERAGE = {"language": str, "messages": int, "missing": int, "stale": int, "draft": int, "reviewed": int}


def _types(value: dict[str, Any]) -> dict[str, type]:
    return {name: type(part) for name, part in value.items()}


def test_the_result_has_the_fields_of_the_contract_and_their_types(made: Any) -> None:
    result = made.result
    assert _types(result) == TOP
    for name, row in ROWS.items():
        for one in result[name]:
            assert _types(one) == row
    assert _types(result["readability"]) == READABILITY
    assert _types(result["coverage"]) == COVERAGE
    dated = result["blocks"] and {"drops/course", "next/review"} & {block["id"] for block in result["blocks"]}
    assert set(result["files"]) == {"pdf", "html", *(["ics"] if dated else [])}


def test_a_leaflet_was_made(made: Any) -> None:
    result = made.result
    assert result["status"] == "ok"
    assert result["ref"] == made.record["ref"]
    assert not [one for one in result["findings"] if one["severity"] not in ("note", "warn")]
    assert re.fullmatch(r"L-[0-9A-F]{5}-[0-9A-F]{5}", result["leaflet_id"])
    assert re.fullmatch(r"[0-9a-f]{8}", result["content_version"])
    for ending, path in result["files"].items():
        name = (
            f"{made.record['ref']}.{made.record['reader']}.{made.record['language']}.{made.record['format']}.{ending}"
        )
        assert Path(path).name == name
        assert Path(path).stat().st_size > 0


def test_reasons_and_places_are_those_of_the_visit(made: Any) -> None:
    examined = {ear for ear in ("left", "right") if ear in made.record}
    for kind in ("blocks", "withheld", "ask", "confirmed"):
        for one in made.result[kind]:
            assert set(one["ears"]) <= examined
    for block in made.result["blocks"]:
        assert block["because"]
    assert {one["id"] for one in made.result["blocks"]} >= {"today/findings", "help/urgent", "next/contact"}


def test_readability_and_coverage_add_up(made: Any) -> None:
    reading, covered = made.result["readability"], made.result["coverage"]
    assert reading["formula"] == "flesch-kincaid"
    assert reading["low"] <= reading["grade"] <= reading["high"]
    # NIH and the American Medical Association: below sixth grade wanted.
    assert reading["grade"] <= 6
    assert covered["language"] == made.record["language"]
    assert covered["messages"] == covered["draft"] + covered["reviewed"] + covered["missing"]
    # Nobody has signed anything off: the words are drafts in every language.
    assert (covered["reviewed"], covered["missing"], covered["stale"]) == (0, 0, 0)


def test_the_same_visit_gives_the_same_bytes(made: Any, tmp_path: Path) -> None:
    again = make(made.record, out=tmp_path).as_json()
    for ending, path in made.result["files"].items():
        assert Path(again["files"][ending]).read_bytes() == Path(path).read_bytes(), ending
    assert {**again, "files": {}} == {**made.result, "files": {}}


def test_another_visit_has_another_id(made_once: Callable[[Path], Any]) -> None:
    ids = [made_once(path).result["leaflet_id"] for path in DEMO_VISITS]
    assert len(set(ids)) == len(ids)


def test_the_invented_visits_are_many_and_say_so() -> None:
    records = [tomllib.loads(path.read_text("utf-8")) for path in DEMO_VISITS]
    assert len(records) >= 10
    assert all("invented" in path.read_text("utf-8") for path in DEMO_VISITS)
    assert {record["reader"] for record in records} == {"adult", "carer"}
    assert all(isinstance(record["date"], datetime.date) for record in records)
