"""Signing words off: two people, every line kept, a changed letter is a draft again, and leaflets that say so."""

import datetime
import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from leaflets.catalogue import MessageKey, sign_off_hash
from leaflets.cli import main as cli
from leaflets.compose.messages import source_messages
from leaflets.content import load_content
from leaflets.errors import LeafletError
from leaflets.pipeline import check, make
from leaflets.review import approval, to_review
from leaflets.signoff import FILE_NAME, Entry, Ledger, add_to_ledger, load_ledger

NOON = datetime.datetime(2026, 11, 25, 12, tzinfo=datetime.UTC)
KEY = MessageKey("drops/course", "Use the drops.", None)
ROUTINE = Path(__file__).parent / "visits" / "routine.toml"


def _entry(act: Any = "approved", words: tuple[str, ...] = ("Stosuj krople.",), who: str = "Ada") -> Entry:
    return Entry(act, "pl", KEY, words, who, "clinical lead", NOON)


def _set(clinic: Path, setting: str, value: str) -> None:
    path = clinic / "clinic.toml"
    lines = [
        f"{setting} = {value}" if line.startswith(f"{setting} ") else line for line in path.read_text().splitlines()
    ]
    path.write_text("\n".join(lines), "utf-8")


def _run(*arguments: str, answers: str = "") -> Result:
    result = CliRunner().invoke(cli, list(arguments), input=answers)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def test_a_line_comes_back_as_it_was_written(tmp_path: Path) -> None:
    add_to_ledger(tmp_path, [_entry("translated", who="Bo"), _entry()])
    add_to_ledger(tmp_path, [_entry("withdrawn")])
    ledger = load_ledger(tmp_path)
    assert ledger.entries == (_entry("translated", who="Bo"), _entry(), _entry("withdrawn"))
    assert len((tmp_path / FILE_NAME).read_text("utf-8").splitlines()) == 3


def test_words_are_approved_until_a_letter_changes_or_somebody_withdraws() -> None:
    ledger = Ledger("signoff.jsonl", (_entry(),))
    assert sign_off_hash("pl", KEY, ["Stosuj krople."]) in ledger.approved
    for other in (
        sign_off_hash("pl", KEY, ["Stosuj kropl."]),
        sign_off_hash("ro", KEY, ["Stosuj krople."]),
        sign_off_hash("pl", KEY._replace(context="drops/upkeep"), ["Stosuj krople."]),
        sign_off_hash("pl", KEY._replace(source="Use the drops!"), ["Stosuj krople."]),
    ):
        assert other not in ledger.approved
    assert Ledger("x", (_entry(), _entry("withdrawn"))).approved == frozenset()
    assert Ledger("x", (_entry(), _entry("withdrawn"), _entry())).approved == {_entry().hash}


@pytest.mark.parametrize("who", ["Bo", " bo ", "BO"])
def test_whoever_translated_words_cannot_approve_them(who: str) -> None:
    ledger = Ledger("signoff.jsonl", (_entry("translated", who="Bo"),))
    with pytest.raises(LeafletError, match="cannot approve"):
        ledger.require_another(_entry(who=who), "")
    with pytest.raises(LeafletError, match="cannot approve"):
        Ledger("signoff.jsonl", ()).require_another(_entry(who=who), "Bo")
    ledger.require_another(_entry(who="Ada"), "Bo")


def _changed(line: str, **values: Any) -> str:
    return json.dumps({**json.loads(line), **values})


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda line: _changed(line, words=["Zakazane."]), "hash does not fit"),
        (lambda line: _changed(line, source="Other."), "hash does not fit"),
        (lambda line: _changed(line, act="liked"), "is no act"),
        (lambda line: _changed(line, who=" "), "'who' is empty"),
        (lambda line: _changed(line, when="yesterday"), "isoformat"),
        (lambda _line: "no json", "no line of a ledger"),
        (lambda _line: "[]", "no object"),
        (lambda line: line.replace('"role"', '"rule"'), "it has no role"),
    ],
)
def test_a_ledger_that_was_edited_is_refused_with_the_line(
    tmp_path: Path, spoil: Callable[[str], str], said: str
) -> None:
    good = _entry().as_json()
    (tmp_path / FILE_NAME).write_text(f"{good}\n{spoil(good)}\n", "utf-8")
    with pytest.raises(LeafletError) as refused:
        load_ledger(tmp_path)
    (problem,) = refused.value.problems
    assert problem.place == f"{tmp_path / FILE_NAME}:2"
    assert said in problem.message


def test_a_leaflet_whose_every_word_is_approved_is_not_marked(clinic: Path) -> None:
    _set(clinic, "issue_drafts", "false")
    stopped = make(ROUTINE, clinic=clinic)
    assert stopped.status == "stopped"
    assert "RULE16" in {finding.code for finding in stopped.findings}

    messages = source_messages(load_content(clinic).words)
    entries = [Entry("approved", "en", message.key, (), "Ada", "clinical lead", NOON) for message in messages]
    add_to_ledger(clinic, entries)
    result = make(ROUTINE, clinic=clinic)
    assert result.status == "ok"
    assert result.coverage is not None
    assert (result.coverage["draft"], result.coverage["reviewed"]) == (0, result.coverage["messages"])
    evidence = check(ROUTINE, clinic=clinic).evidence
    assert evidence is not None
    assert 'class="mark' not in evidence.leaflet.html


def test_one_withdrawn_sentence_brings_the_mark_back(clinic: Path) -> None:
    messages = source_messages(load_content(clinic).words)
    entries = [Entry("approved", "en", message.key, (), "Ada", "clinical lead", NOON) for message in messages]
    wash = next(one for one in entries if one.key.source == "Even a small slip can cut, or push wax in.")
    add_to_ledger(clinic, [*entries, Entry("withdrawn", "en", wash.key, (), "Ada", "clinical lead", NOON)])
    evidence = check(ROUTINE, clinic=clinic).evidence
    assert evidence is not None
    assert 'class="mark' in evidence.leaflet.html


# The command


def test_a_reviewer_is_walked_through_and_each_approval_is_kept_at_once(clinic: Path) -> None:
    arguments = ("words", "review", "cy", "--clinic", str(clinic), "--who", "Ada", "--role", "clinical lead")
    result = _run(*arguments, "--block", "drops/how-to", answers="a\ns\na\nq\n")
    assert result.exit_code == 0
    assert "As it prints:" in result.stdout
    assert "that is: " in result.stdout
    assert "2 approved" in result.stdout
    assert len(load_ledger(clinic).entries) == 2
    assert {entry.who for entry in load_ledger(clinic).entries} == {"Ada"}
    again = _run(*arguments, "--block", "drops/how-to", answers="q\n")
    first = load_ledger(clinic).entries[0].key.source
    assert f"en: {first}\n" not in again.stdout


def test_the_english_words_are_signed_off_in_the_same_way(clinic: Path) -> None:
    result = _run(
        "words", "review", "en", "--clinic", str(clinic), "--who", "Ada", "--role", "lead", "--block", "drops/how-to",
        answers="a\nq\n",
    )  # fmt: skip
    assert result.exit_code == 0
    (entry,) = load_ledger(clinic).entries
    assert (entry.locale, entry.words) == ("en", ())
    assert entry.hash in load_content(clinic).ledger.approved


def test_the_translator_named_in_the_catalogue_cannot_sign(clinic: Path) -> None:
    content = load_content(clinic)
    first = next(to_review(content, "cy"))
    translator = content.catalogue("cy").translator  # type: ignore[union-attr]
    with pytest.raises(LeafletError, match="cannot approve"):
        approval(content, "cy", first, translator, "lead", NOON)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("words", "review", "xx", "--clinic", "CLINIC", "--who", "A", "--role", "b"), "no catalogue for 'xx'"),
        (("words", "review", "cy", "--clinic", "CLINIC", "--who", " ", "--role", "b"), "is empty"),
        (("words", "check", "xx"), "no catalogue for 'xx'"),
        (("words", "update", "--new", "q!"), "not a locale that is known"),
        (("coverage", "--language", "xx"), "no catalogue for 'xx'"),
    ],
)
def test_what_cannot_be_is_one_line_and_exit_code_2(clinic: Path, arguments: tuple[str, ...], said: str) -> None:
    result = _run(*(str(clinic) if one == "CLINIC" else one for one in arguments))
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert said in result.stderr


# Gaps


def _own_catalogue(clinic: Path, text: str) -> None:
    path = clinic / "locales" / "fr" / "LC_MESSAGES" / "leaflets.po"
    path.parent.mkdir(parents=True)
    path.write_text(text, "utf-8")


def _french(clinic: Path, without: str) -> None:
    """Write a French catalogue of nonsense that is whole but for one message."""
    from leaflets.catalogue.po_files import new_catalogue_text, with_translations  # noqa: PLC0415

    messages = source_messages(load_content(clinic).words)
    text = new_catalogue_text("fr", messages, NOON.date())
    words = {
        message.key: [f"« {part} »" for part in message.key[1:] if part]
        for message in messages
        if message.key.source != without
    }
    _own_catalogue(clinic, with_translations(text, "leaflets.po", "fr", words, "Bo", NOON.date()))


def test_a_sentence_that_is_not_translated_stops_unless_the_clinic_allows_a_marked_gap(clinic: Path) -> None:
    evidence = check(ROUTINE, clinic=clinic).evidence
    assert evidence is not None
    blocks = max((block for block in evidence.leaflet.blocks if not block.safety), key=lambda block: block.priority)
    gap = next(one.source for one in evidence.leaflet.messages if one.context == blocks.id)
    _french(clinic, without=gap)
    stopped = make(ROUTINE, clinic=clinic, language="fr")
    assert stopped.status == "stopped"
    assert [finding.severity for finding in stopped.findings if finding.code == "TRAN01"] == ["stop"]
    assert stopped.coverage is not None
    assert stopped.coverage["missing"] == 1

    _set(clinic, "allow_gaps", "true")
    record = {**tomllib.loads(ROUTINE.read_text("utf-8")), "language": "fr"}
    checked = check(record, clinic=clinic)
    assert [finding.severity for finding in checked.result.findings if finding.code == "TRAN01"] == ["warn"]
    assert checked.evidence is not None
    assert "« A sentence is missing here: ask us about it. »" in checked.evidence.leaflet.html
    assert gap not in checked.evidence.leaflet.html


def test_a_gap_in_a_safety_block_always_stops(clinic: Path) -> None:
    _set(clinic, "allow_gaps", "true")
    _french(clinic, without="Even a small slip can cut, or push wax in.")
    stopped = make(ROUTINE, clinic=clinic, language="fr")
    assert [finding.severity for finding in stopped.findings if finding.code == "TRAN01"] == ["stop"]


# A clinic's own words


def test_a_clinic_s_own_block_is_used_checked_and_named_by_its_own_path(clinic: Path) -> None:
    theirs = load_content().words.sources["blocks/ears/nothing-inside.html"]
    own = clinic / "templates" / "blocks" / "ears" / "nothing-inside.html"
    own.parent.mkdir(parents=True)
    own.write_text(theirs.replace("Even a small slip can cut, or push wax in.", "Do NOT dig."), "utf-8")
    checked = check(ROUTINE, clinic=clinic)
    assert checked.evidence is not None
    assert "Do NOT dig." in checked.evidence.leaflet.html
    (shouting,) = [finding for finding in checked.result.findings if finding.code == "READ17"]
    line = theirs[: theirs.index("Even a small slip")].count("\n") + 1
    assert shouting.place == f"{own}:{line}"
    assert "Do NOT dig." in {one.key.source for one in source_messages(load_content(clinic).words)}
    assert "Do NOT dig." not in {one.key.source for one in source_messages(load_content().words)}
    stopped = make(ROUTINE, clinic=clinic, language="pl")
    assert stopped.status == "stopped"
    assert [finding.place for finding in stopped.findings if finding.code == "TRAN01"] == [f"{own}:{line}"]


def test_a_clinic_s_block_that_is_broken_is_named_with_its_line(clinic: Path) -> None:
    own = clinic / "templates" / "blocks" / "ears" / "nothing-inside.html"
    own.parent.mkdir(parents=True)
    own.write_text("{#\nsection = 'care'\n#}\n{% block adult %}", "utf-8")
    with pytest.raises(LeafletError) as refused:
        load_content(clinic)
    assert any(problem.place.startswith(f"{own}:") for problem in refused.value.problems)
