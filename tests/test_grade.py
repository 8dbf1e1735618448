"""`leaflets grade`, as a person and as a program use it, with texts good and bad."""

import io
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from rich.console import Console

from leaflets.cli import main as cli
from leaflets.cli.grade import grade_plain_text, printable, read_plain_text
from leaflets.cli.show_grade import show_grade
from leaflets.errors import LeafletError
from leaflets.readability.report import grade_units
from leaflets.readability.second_opinion import KNOWN_FAULTS, second_opinion

# The contract with everything that calls the program.
KEYS = [
    "language",
    "formula",
    "status",
    "words",
    "sentences",
    "syllables",
    "grade",
    "low",
    "high",
    "reading_age_years",
    "scores",
    "findings",
]
EASY = "Keep your ear dry.\n" * 10
LONG = "Keep " + "dry " * 24 + "now."


def _run(*arguments: str, text: str | bytes = "") -> Result:
    result = CliRunner().invoke(cli, ["grade", *arguments], input=text)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert "Traceback" not in result.output
    return result


def _answer(text: str | bytes, language: str = "en", *options: str) -> dict[str, Any]:
    result = _run("-", "--language", language, "--json", *options, text=text)
    assert result.exit_code == 0, result.output
    return dict(json.loads(result.stdout))


# The answer


def test_a_program_gets_the_keys_of_the_contract() -> None:
    answer = _answer(EASY)
    assert list(answer)[: len(KEYS)] == KEYS
    # By hand: 40 words in 10 units, each word one syllable: 0.39 * 4 + 11.8 * 1 - 15.59 = -2.23. Ten units that are
    # alike have no spread: the interval has no width. The age is at least 5 years.
    assert [answer[key] for key in ("words", "sentences", "syllables")] == [40, 10, 40]
    assert [answer[key] for key in ("grade", "low", "high")] == [-2.23] * 3
    assert answer["reading_age_years"] in (5, [5, 5])
    assert (answer["formula"], answer["status"], answer["language"]) == ("flesch-kincaid", "validated", "en")
    # By hand: 206.835 - 1.015 * 4 - 84.6 * 1 = 118.175, of which binary rounding may make 118.17 or 118.18.
    assert answer["scores"]["flesch-kincaid"] == -2.23
    assert answer["scores"]["flesch-reading-ease"] == pytest.approx(118.175, abs=0.006)
    assert answer["findings"] == []


def test_a_finding_has_its_line_and_column() -> None:
    # By hand: "microsuction" begins after "We used " (8 characters) on the third line.
    answer = _answer("Keep dry.\n\nWe used microsuction today.\n")
    (found,) = [one for one in answer["findings"] if "microsuction" in one["message"]]
    assert list(found) == ["line", "column", "code", "message", "hint"]
    assert (found["line"], found["column"], found["code"]) == (3, 9, "READ11")


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("start", ["", "\ufeff"])
def test_lines_are_counted_alike_however_they_end(newline: str, start: str) -> None:
    text = start + newline.join(["Keep dry.", "- Use microsuction."])
    (found,) = _answer(text.encode())["findings"]
    assert (found["line"], found["column"]) == (2, 7)


def test_a_long_sentence_comes_before_a_hard_word() -> None:
    answer = _answer(f"Use microsuction.\n{LONG}\n")
    assert [one["code"] for one in answer["findings"]][:2] == ["READ10", "READ11"]
    assert answer["findings"][0]["line"] == 2


def test_a_file_and_standard_input_give_the_same(tmp_path: Path) -> None:
    file = tmp_path / "words.txt"
    file.write_text(EASY, "utf-8")
    assert json.loads(_run(str(file), "--language", "en", "--json").stdout) == _answer(EASY)


@pytest.mark.parametrize("language", ["en", "en-GB", "en_GB", "EN"])
def test_the_way_a_language_is_written_changes_nothing(language: str) -> None:
    assert {**_answer(EASY, language), "language": ""} == {**_answer(EASY), "language": ""}


# What a person sees


def test_a_person_sees_the_grade_the_trouble_in_place_and_a_chart() -> None:
    said = _run("-", "--language", "en", text=EASY + "We used microsuction.\n").stdout
    assert re.search(r"^Grade -?\d+\.\d by flesch-kincaid", said, re.MULTILINE)
    assert "11:9: READ11" in said
    assert "We used ⟦microsuction⟧." in said
    # By hand: 10 sentences of 4 words and one of 3 are the 11 in the first band; the others are empty.
    assert re.search(r"^ +1 to 5 █{40} 11$", said, re.MULTILINE)
    assert re.search(r"^ +6 to 10 +0$", said, re.MULTILINE)


def test_in_colour_the_trouble_is_marked_by_its_style_and_the_words_stand_as_they_were() -> None:
    screen = io.StringIO()
    console = Console(file=screen, force_terminal=True, color_system="standard", soft_wrap=True, highlight=False)
    show_grade(grade_plain_text("Use [/] microsuction.", "en"), console)
    assert "⟦" not in screen.getvalue()
    assert re.search(r"\[/\] \x1b\[[\d;]+mmicrosuction\x1b\[0m\.", screen.getvalue())


def test_much_trouble_is_cut_and_the_rest_is_counted() -> None:
    text = "\n".join(f"{LONG} {number}" for number in range(30))
    said = _run("-", "--language", "en", text=text).stdout
    listed = len(re.findall(r"^\d+:\d+: READ", said, re.MULTILINE))
    more = re.search(r"^and (\d+) more: --json has all$", said, re.MULTILINE)
    assert more
    assert listed + int(more[1]) == len(_answer(text)["findings"])


# Bad input


@pytest.mark.parametrize("options", [[], ["--json"]])
def test_a_language_without_a_formula_gets_no_grade_and_is_told(options: list[str]) -> None:
    result = _run("-", "--language", "so", *options, text="Dhegtaada qalaji.\n" * 12)
    assert result.exit_code == 0
    if options:
        answer = json.loads(result.stdout)
        assert list(answer)[: len(KEYS)] == KEYS
        assert (answer["status"], answer["formula"], answer["grade"], answer["low"]) == ("none", None, None, None)
        assert (answer["words"], answer["sentences"]) == (24, 12)
    else:
        assert "No grade: there is no formula for 'so'" in result.stdout


def test_an_unknown_language_is_an_error_with_the_nearest_known() -> None:
    result = _run("-", "--language", "enn", text=EASY)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert len(result.stderr.splitlines()) == 1
    assert re.search(r"'enn'.*\bdid you mean .*\ben\b", result.stderr)


@pytest.mark.parametrize("language", ["", "\x1b[31m", "e" * 10_000, "123", "x-klingon", "../en"])
def test_a_language_that_is_none_is_one_line_without_what_would_steer_a_terminal(language: str) -> None:
    result = _run("-", "--language", language, text=EASY)
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert len(result.stderr) < 200
    assert "\x1b" not in result.stderr


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (b"", "is empty"),
        (b" \n\t\r\n", "is empty"),
        (b"\xef\xbb\xbf", "is empty"),
        (b"good\nb\xe4d", ":2: is not UTF-8"),
        (b"a" * 1_000_001, "is too large"),
    ],
)
def test_a_text_that_is_none_is_one_line_and_exit_code_2(body: bytes, said: str, tmp_path: Path) -> None:
    file = tmp_path / "words.txt"
    file.write_bytes(body)
    result = _run(str(file), "--language", "en")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert len(result.stderr.splitlines()) == 1
    assert result.stderr.startswith(str(file))
    assert said in result.stderr
    assert re.search(r" \(.+\)$", result.stderr.strip())


@pytest.mark.parametrize("name", ["none.txt", "."])
def test_a_file_that_cannot_be_read_is_one_line_and_exit_code_2(name: str, tmp_path: Path) -> None:
    result = _run(str(tmp_path / name), "--language", "en")
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert "cannot be read" in result.stderr


def test_a_path_that_no_system_takes_is_an_error() -> None:
    with pytest.raises(LeafletError, match="cannot be read"):
        read_plain_text("a\0b")


@pytest.mark.parametrize(
    "text",
    [
        "word",
        "...\n---\n",
        "# Your ear\n" * 20,
        "\x00\x1b[31m\x07\x9b" * 20,
        "".join(map(chr, range(1, 0x300))),
        "اترك أذنك جافة. لا تضع شيئا في أذنك؟\n" * 10,
        "\u202eKeep dry\u202c.\n" * 3,
        "耳を乾かしてください。" * 5,
        "Keep it сухим и чистым, कृपया.\n" * 12,
        "\u0301\u200d\u0301",
    ],
    ids=["one word", "no word", "headings", "control", "all", "right to left", "override", "cjk", "mixed", "marks"],
)
@pytest.mark.parametrize("options", [[], ["--json"]])
def test_no_text_crashes_and_none_gets_a_made_up_grade(text: str, options: list[str]) -> None:
    result = _run("-", "--language", "en", *options, text=text)
    assert result.exit_code == 0
    assert not re.search("[\x00\x07\x1b\x9b\u202e\u202c]", result.stdout)
    if options:
        assert json.loads(result.stdout)["grade"] is None
    else:
        assert "No grade: " in result.stdout


def test_a_megabyte_is_graded() -> None:
    answer = _answer((EASY * 6000)[:1_000_000])
    # By hand: 18 letters, spaces and stop with the newline are 19 characters; 1,000,000 = 52,631 * 19 + 11.
    assert answer["sentences"] == 52_632
    assert answer["grade"] == pytest.approx(-2.23, abs=0.01)


def test_what_is_printed_is_as_long_as_what_was_given() -> None:
    text = "a\x00b\n\u202ec\u200cd\te"
    assert len(printable(text)) == len(text)
    assert printable(text) == "a\ufffdb\n\ufffdc\u200cd\te"


# The second opinion

TEXT = (
    "We took wax out of your left ear by gentle suction.\nDo not put cotton buds in your ear.\n"
    "You may feel dizzy for a few minutes afterwards.\nYour hearing should come back within a few days.\n"
    "The pain gets worse or does not go away.\nClear fluid comes from your ear after the drops.\n"
    "The skin around your ear is swollen and red.\nYou have a temperature and you feel unwell.\n"
    "Wear a cap when you wash your hair.\nAsk your pharmacist which tablets you may take.\n"
    "Use 2.5 ml, e.g. at 8.30am.\n"
)


def test_a_second_opinion_agrees_where_the_library_is_right() -> None:
    pytest.importorskip("textstat", reason="textstat is no part of the product")
    answer = _answer(TEXT, "en", "--second-opinion")
    assert list(answer)[: len(KEYS)] == KEYS
    opinion = answer["second_opinion"]
    assert opinion["library"].startswith("textstat ")
    assert opinion["units_left_out"] == 0
    # Source: textstat's own equations, given our units and syllables.
    for name in ("flesch-kincaid", "flesch-reading-ease"):
        assert opinion["scores"][name] == pytest.approx(answer["scores"][name], abs=0.011)


def test_a_second_opinion_names_the_faults_that_are_known() -> None:
    pytest.importorskip("textstat", reason="textstat is no part of the product")
    opinion = second_opinion(TEXT.splitlines(), "en")
    assert set(opinion.known_faults) == set(KNOWN_FAULTS) < set(opinion.scores)
    said = _run("-", "--language", "en", "--second-opinion", text=TEXT).stdout
    assert "coleman-liau" in said
    assert "known fault: one factor is 0.058" in said


def test_the_faults_are_there_as_they_are_named() -> None:
    pytest.importorskip("textstat", reason="textstat is no part of the product")
    # By hand, 14 letters in 4 words of one sentence. Smith and Senter 1967: 4.71 * 14 / 4 + 0.5 * 4 - 21.43 = -2.945;
    # with the stop as a letter 4.71 * 15 / 4 + 2 - 21.43 = -1.7675. Coleman and Liau 1975: 0.0588 * 350 - 0.296 * 25
    # - 15.8 = -2.62; with 0.058 it is -2.90.
    scores = second_opinion(["Keep your ear dry"] * 10, "en").scores
    assert scores["automated-readability"] == pytest.approx(-1.7675)
    assert scores["coleman-liau"] == pytest.approx(-2.90)


def test_units_that_the_library_would_lose_are_left_out_and_counted() -> None:
    pytest.importorskip("textstat", reason="textstat is no part of the product")
    opinion = second_opinion([*["Keep your ear dry"] * 10, "Rest", "Sip water", "..."], "en")
    assert opinion.units_left_out == 2
    assert opinion.scores["flesch-kincaid"] == pytest.approx(grade_units(["Keep your ear dry"] * 10, "en").grade)
    assert second_opinion([], "en").scores == {}


def test_other_languages_get_no_second_opinion() -> None:
    result = _run("-", "--language", "pl", "--second-opinion", text=EASY)
    assert result.exit_code == 2
    assert result.stderr.startswith("--second-opinion: ")


_WITHOUT_NETWORK = """
import socket, sys
def refuse(*arguments, **named):
    raise AssertionError("the network was reached for")
socket.socket.connect = refuse
socket.create_connection = refuse
socket.getaddrinfo = refuse
from leaflets.readability.second_opinion import second_opinion
print(second_opinion(["Colonoscopy is not for ears"] * 10, "en").scores["flesch-kincaid"])
print("nltk" in sys.modules)
"""


def test_a_second_opinion_needs_no_network_and_no_list_of_pronunciations() -> None:
    pytest.importorskip("textstat", reason="textstat is no part of the product")
    told = subprocess.run([sys.executable, "-c", _WITHOUT_NETWORK], capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stderr
    score, imported = told.stdout.splitlines()
    # By hand: 5 words, 5 + 1 + 1 + 1 + 1 syllables a unit: 0.39 * 5 + 11.8 * 9 / 5 - 15.59 = 7.60.
    assert float(score) == pytest.approx(7.60, abs=0.001)
    assert imported == "False"


def test_without_the_library_it_is_one_line_that_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [name for name in sys.modules if name.partition(".")[0] == "textstat"]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "textstat", None)
    result = _run("-", "--language", "en", "--second-opinion", text=EASY)
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert "textstat is not installed" in result.stderr
    assert "pip install" in result.stderr


# Other languages, targets, lists


def test_a_language_with_a_formula_gets_its_score_with_band_and_no_grade() -> None:
    # By hand: 4 words in each of 10 units; syllables man-ten-ga el o-í-do se-co: 9 in 4 words.
    # Szigriszt 1993: 206.835 - 62.3 * 9 / 4 - 4 = 62.66; INFLESZ: 55 to 65 is normal.
    answer = _answer("Mantenga el oído seco.\n" * 10, "es")
    assert (answer["formula"], answer["status"], answer["grade"], answer["band"]) == (
        "szigriszt",
        "validated",
        None,
        "normal",
    )
    assert answer["score"] == pytest.approx(62.66, abs=0.01)
    assert answer["scores"] == {"szigriszt": answer["score"]}
    said = _run("-", "--language", "es", text="Mantenga el oído seco.\n" * 10).stdout
    assert "szigriszt (validated): 62.7" in said


def test_a_text_is_held_against_what_its_reader_needs() -> None:
    text = "Wax will move out of your ear all by itself.\n" * 10  # 10 words, by hand
    for reader, most, found in (("adult", 20, 0), ("child-5-7", 8, 10), ("child-7-11", 12, 0)):
        answer = _answer(text, "en", "--reader", reader)
        assert answer["target"]["unit_words_up_to"] == most
        assert sum(finding["code"] == "READ10" for finding in answer["findings"]) == found
    assert _answer(text, "en", "--format", "easy-read")["target"]["mean_unit_words_up_to"] == 12


@pytest.mark.parametrize(("option", "value"), [("--reader", "grown-up"), ("--format", "a44")])
def test_a_reader_or_format_that_is_none_is_one_line(option: str, value: str) -> None:
    result = _run("-", "--language", "en", option, value, text=EASY)
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert value in result.stderr


def test_the_items_of_a_list_are_read_with_what_opens_it() -> None:
    opening = "Call the ear clinic on the same day if your ear:"  # 11 words
    long_item = "bleeds, or fluid comes from it, or it hurts so much"  # 11 words
    answer = _answer(f"{opening}\n- {long_item}\n- hurts\n", "en")
    assert [(one["code"], one["line"]) for one in answer["findings"] if one["code"] == "READ10"] == [("READ10", 2)]
    assert not [one for one in _answer(f"{opening}\n\n{long_item}", "en")["findings"] if one["code"] == "READ10"]


def test_each_kind_of_trouble_is_found_with_its_place() -> None:
    lines = {
        "READ11": "Do not commence it.",
        "READ13": "Your ear was cleaned today.",
        "READ14": "Do not forget to call us.",
        "READ15": "Keep it dry (do not swim).",
        "READ16": "It helps 40% of people.",
        "READ17": "Do NOT swim.",
        "READ18": "The ENT team will call.",
    }
    findings = _answer("\n".join(lines.values()), "en")["findings"]
    assert {(one["code"], one["line"]) for one in findings} == {(code, line) for line, code in enumerate(lines, 1)}
    assert all(one["hint"] for one in findings)
