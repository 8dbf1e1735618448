"""The commands, as a person and as a program use them."""

import json
import re
import subprocess
import sys
import tomllib
from html.parser import HTMLParser
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

import leaflets
from leaflets import demo
from leaflets.cli import main as cli
from leaflets.cli.words import words
from leaflets.ready import Part

ROUTINE = Path(__file__).parent / "visits" / "routine.toml"
DEMO_VISITS = sorted((Path(demo.__file__).parent / "visits").glob("*.toml"))
ALL_COMMANDS: dict[str, click.Command] = {
    f"{group} {name}".strip(): command
    for group, commands in (("", cli.commands), ("words", words.commands))
    for name, command in commands.items()
    if not isinstance(command, click.Group)
}
COMMANDS = sorted(ALL_COMMANDS)


def _run(*arguments: str | Path) -> Result:
    result = CliRunner().invoke(cli, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


# Help


def test_the_commands_of_the_main_job_are_there() -> None:
    assert {"make", "explain", "check", "demo", "new-clinic", "schema", "ready"} <= set(COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example_that_names_real_options(command: str) -> None:
    result = _run(*command.split(), "--help")
    assert result.exit_code == 0
    assert ALL_COMMANDS[command].help
    example = result.stdout.split("Example:")[1].strip()
    assert example.startswith(f"leaflets {command}")
    known = {option for parameter in ALL_COMMANDS[command].params for option in parameter.opts}
    assert set(re.findall(r"--[a-z-]+", example)) <= known


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_says_what_it_is(command: str) -> None:
    for parameter in ALL_COMMANDS[command].params:
        if isinstance(parameter, click.Option) and parameter.name != "help":
            assert parameter.help, f"{command} {parameter.opts}"


def test_help_is_short_to_ask_for_and_the_version_is_the_package_s() -> None:
    assert _run("-h").stdout == _run("--help").stdout
    assert leaflets.__name__ in _run("--version").stdout
    assert re.search(r"\d+\.\d+\.\d+", _run("--version").stdout)


@pytest.mark.parametrize(
    "arguments", [["mkae"], ["make"], ["make", "x.toml", "--fromat", "a4"], ["new-clinic"], ["explain", "a", "b"]]
)
def test_a_wrong_command_line_is_exit_code_2_without_a_traceback(arguments: list[str]) -> None:
    result = _run(*arguments)
    assert result.exit_code == 2
    assert "Traceback" not in result.output
    assert result.stdout == ""
    assert result.stderr


# Answers for a program


def test_the_schema_is_json_schema_and_knows_every_field_of_the_routine_visit(routine: dict[str, Any]) -> None:
    result = _run("schema")
    assert result.exit_code == 0
    schema = json.loads(result.stdout)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["additionalProperties"] is False
    assert set(schema["required"]) == {"ref", "date", "reader"}
    _known_fields(schema, schema, routine)


def _known_fields(schema: dict[str, Any], whole: dict[str, Any], record: dict[str, Any]) -> None:
    """Look that the schema has each field of a record and allows each word in it, without a library for that."""
    for name, value in record.items():
        assert name in schema["properties"], name
        parts = [_resolved(part, whole) for part in _alternatives(schema["properties"][name])]
        if isinstance(value, dict):
            (table,) = [part for part in parts if part.get("type") == "object"]
            _known_fields(table, whole, value)
        elif isinstance(value, list):
            (items,) = [part for part in parts if part.get("type") == "array"]
            for item in value:
                assert item in _resolved(items["items"], whole).get("enum", [item])
        else:
            allowed = [word for part in parts for word in part.get("enum", [part["const"]] if "const" in part else [])]
            assert not allowed or value in allowed


def _alternatives(schema: dict[str, Any]) -> list[dict[str, Any]]:
    return list(schema.get("anyOf", [schema]))


def _resolved(schema: dict[str, Any], whole: dict[str, Any]) -> dict[str, Any]:
    reference = schema.get("$ref")
    if reference is None:
        return schema
    assert reference.startswith("#/$defs/")
    return dict(whole["$defs"][reference.removeprefix("#/$defs/")])


@pytest.mark.skipif(find_spec("jsonschema") is None, reason="the library jsonschema is not among the project's own")
def test_an_outside_validator_takes_every_visit() -> None:
    import jsonschema  # noqa: PLC0415 - only where it is installed

    schema = json.loads(_run("schema").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    for visit in (ROUTINE, *DEMO_VISITS):
        record = json.loads(json.dumps(tomllib.loads(visit.read_text("utf-8")), default=str))
        jsonschema.validate(record, schema)


def test_explain_tells_a_program_what_is_given_and_why() -> None:
    result = _run("explain", ROUTINE, "--json")
    assert result.exit_code == 0
    answer = json.loads(result.stdout)
    assert set(answer) == {"ref", "given", "withheld", "ask", "blocks", "findings"}
    assert answer["ref"] == "A-1042"
    assert all(one["because"] for one in answer["given"])
    assert "ears/cotton-buds" in {one["rule"] for one in answer["given"]}
    assert "help/urgent" in answer["blocks"]


def test_explain_tells_a_person_the_same() -> None:
    said = _run("explain", ROUTINE).stdout
    answer = json.loads(_run("explain", ROUTINE, "--json").stdout)
    lines = said.splitlines()
    for kind in ("given", "withheld"):
        for one in answer[kind]:
            assert [line for line in lines if line.startswith(kind) and one["rule"] in line], one
    assert "given     ears/cotton-buds: person.habits = cotton-buds" in lines


def test_explain_stops_where_make_would(tmp_path: Path) -> None:
    visit = tmp_path / "visit.toml"
    visit.write_text(
        'ref = "A-1"\ndate = 2026-11-25\nreader = "adult"\n[right]\neardrum = "perforated"\nwax_after = "not-cleared"\n'
        '[plan]\ndrops = "olive-oil"\ndrops_for = ["right"]\n'
    )
    result = _run("explain", visit)
    assert result.exit_code == 1
    reason = r"^withheld  wax/softening-drops \(right\): .*right.eardrum = perforated"
    assert re.search(reason, result.stdout, re.MULTILINE)


def test_check_says_what_make_would_and_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    checked = _run("check", ROUTINE, "--json")
    assert checked.exit_code == 0
    assert list(tmp_path.iterdir()) == []
    made = json.loads(_run("make", ROUTINE, "--json").stdout)
    told = json.loads(checked.stdout)
    assert set(told.pop("standards")) == {"pemat-p", "cci"}
    assert {**told, "files": made["files"]} == made
    assert {path.name for path in (tmp_path / "out").iterdir()} == {Path(path).name for path in made["files"].values()}


def test_the_library_gives_what_the_command_prints(tmp_path: Path, routine: dict[str, Any]) -> None:
    printed = json.loads(_run("make", ROUTINE, "--out", tmp_path, "--json").stdout)
    for source in (ROUTINE, str(ROUTINE), routine, leaflets.Visit.model_validate(routine)):
        assert leaflets.make(source, out=tmp_path).as_json() == printed


def test_json_records_are_taken_like_toml_records(tmp_path: Path, routine: dict[str, Any]) -> None:
    record = tmp_path / "visit.json"
    record.write_text(json.dumps(routine, default=str))
    assert leaflets.make(record).as_json() == leaflets.make(ROUTINE).as_json()


def test_options_go_before_the_record(tmp_path: Path) -> None:
    result = _run(
        "make", ROUTINE, "--reader", "carer", "--language", "en", "--format", "a4", "--out", tmp_path, "--json"
    )
    assert result.exit_code == 0, result.output
    assert Path(json.loads(result.stdout)["files"]["pdf"]).name == "A-1042.carer.en.a4.pdf"


def test_a_person_is_told_the_files_and_the_id(tmp_path: Path) -> None:
    result = _run("make", ROUTINE, "--out", tmp_path)
    assert result.exit_code == 0
    assert f"{tmp_path}/A-1042.adult.en.a4.pdf" in result.stdout
    assert re.search(r"A-1042: leaflet L-\w{5}-\w{5}, 2 pages, grade \d", result.stdout)


def test_a_real_process_says_the_same_and_keeps_its_answer_apart_from_complaints(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "leaflets", "make", str(ROUTINE), "--out", str(tmp_path / "out"), "--json"]
    program = Path(sys.executable).with_name("leaflets")
    if program.exists():
        command[:3] = [str(program)]
    told = subprocess.run(command, capture_output=True, text=True, check=False, cwd=tmp_path)
    assert told.returncode == 0, told.stderr
    assert told.stderr == ""
    assert json.loads(told.stdout) == leaflets.make(ROUTINE, out=tmp_path / "out").as_json()


# A clinic's folder

FILLED = {
    'name = ""': 'name = "Example Street Clinic"',
    'phone = ""': 'phone = "01632 960 456"',
    "hours = []": 'hours = ["Monday to Friday, 8 am to 6 pm", "Saturday, 9 am to 12 noon"]',
    'out_of_hours = ""': 'out_of_hours = "When we are closed, call 111."',
}


@pytest.fixture
def new_clinic(tmp_path: Path) -> Path:
    folder = tmp_path / "deep" / "clinic"
    result = _run("new-clinic", folder)
    assert result.exit_code == 0
    assert str(folder / "clinic.toml") in result.stdout
    return folder


def test_a_new_clinic_explains_every_line_and_is_never_written_over(new_clinic: Path) -> None:
    file = new_clinic / "clinic.toml"
    for line in file.read_text("utf-8").splitlines():
        assert not line.strip() or line.startswith(("#", "[")) or "#" in line or "open_days" in line, line
    file.write_text("mine")
    result = _run("new-clinic", new_clinic)
    assert result.exit_code == 2
    assert result.stderr == f"{file}: is there already, and nothing was changed (name another folder)\n"
    assert file.read_text() == "mine"


def test_a_new_clinic_that_cannot_be_written_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    result = _run("new-clinic", tmp_path / "file" / "clinic")
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert "cannot be written" in result.stderr


def test_a_clinic_that_is_filled_in_prints_its_own_name_and_number(new_clinic: Path, tmp_path: Path) -> None:
    file = new_clinic / "clinic.toml"
    text = file.read_text("utf-8")
    for empty, filled in FILLED.items():
        assert empty in text
        text = text.replace(empty, filled)
    file.write_text(text, "utf-8")
    out = tmp_path / "out"
    result = _run("make", ROUTINE, "--clinic", new_clinic, "--out", out, "--json")
    assert result.exit_code == 0, result.output
    page = Path(json.loads(result.stdout)["files"]["html"]).read_text("utf-8")
    for said in ("Example Street Clinic", "01632 960 456", "Saturday, 9 am to 12 noon", "call 111"):
        assert said in page
    # A clinic of its own is no example, but its words are not signed off.
    assert "invented clinic" not in page
    assert "not approved for patients" in page


def test_the_clinic_s_folder_may_be_named_by_the_environment(new_clinic: Path) -> None:
    result = CliRunner(env={"LEAFLETS_CLINIC": str(new_clinic)}).invoke(cli, ["check", str(ROUTINE)])
    assert result.exit_code == 2
    assert "[phone]" in result.stderr


# Is this machine ready


@pytest.mark.parametrize(("ok", "code"), [(True, 0), (False, 2)])
def test_ready_says_what_to_do_by_words_and_by_exit_code(ok: bool, code: int, monkeypatch: pytest.MonkeyPatch) -> None:
    parts = (Part("Python", ok=True, found="3.11.2", remedy=""), Part("Fonts", ok=ok, found="x", remedy="do [this]"))
    monkeypatch.setattr("leaflets.ready.ready", lambda: parts)
    said = _run("ready")
    assert said.exit_code == code
    assert ("do [this]" in said.stdout) is not ok
    told = _run("ready", "--json")
    assert told.exit_code == code
    assert json.loads(told.stdout)[1] == {"part": "Fonts", "ok": ok, "found": "x", "remedy": "do [this]"}


# The demonstration


class _Links(HTMLParser):
    def __init__(self, page: str) -> None:
        super().__init__()
        self.targets: list[str] = []
        self.pictures_without_words = 0
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.targets += [value or "" for name, value in attrs if name in ("href", "src")]
        self.pictures_without_words += tag == "img" and not dict(attrs).get("alt")


@pytest.fixture(scope="module")
def demonstration(tmp_path_factory: pytest.TempPathFactory) -> tuple[Result, Path]:
    pytest.importorskip("pypdfium2", reason="an extra, for the pictures of the gallery")
    out = tmp_path_factory.mktemp("demo") / "out"
    return _run("demo", "--out", out), out


def test_the_demonstration_makes_every_leaflet_and_a_gallery(demonstration: tuple[Result, Path]) -> None:
    result, out = demonstration
    assert result.exit_code == 0, result.output
    assert len(DEMO_VISITS) >= 10
    for ending in ("pdf", "html", "png"):
        assert len(list(out.glob(f"D-*.{ending}"))) == len(DEMO_VISITS), ending
    assert str(out / "index.html") in result.stdout.replace("\n", "")


def test_every_link_of_the_gallery_leads_somewhere_inside_it(demonstration: tuple[Result, Path]) -> None:
    _, out = demonstration
    links = _Links((out / "index.html").read_text("utf-8"))
    assert links.pictures_without_words == 0
    assert len(links.targets) >= 3 * len(DEMO_VISITS)
    for target in links.targets:
        assert "/" not in target
        assert (out / target).stat().st_size > 0
    assert {target for target in links.targets if target.endswith(".pdf")} == {path.name for path in out.glob("*.pdf")}


def test_the_demonstration_prints_a_table(demonstration: tuple[Result, Path]) -> None:
    result, _ = demonstration
    for heading in ("Visit", "Reader", "Pages", "Words", "Grade", "Blocks", "Findings"):
        assert heading in result.stdout
    for number in range(1, len(DEMO_VISITS) + 1):
        assert f"{number:02}-" in result.stdout


@pytest.mark.parametrize("command", ["make", "explain", "check"])
def test_complaints_are_not_mixed_with_answers(command: str, tmp_path: Path) -> None:
    result = _run(command, tmp_path / "none.toml", "--json")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert len(result.stderr.splitlines()) == 1
