"""Words sent to a translator come back checked: nothing lost, nothing taken that is wrong, conflicts shown."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from leaflets.cli import main as cli
from leaflets.compose.messages import source_messages
from leaflets.content import Content
from leaflets.exchange import CONFLICT, read_returned
from leaflets.pipeline import make
from leaflets.signoff import load_ledger

ROUTINE = Path(__file__).parent / "visits" / "routine.toml"
BLOCK = "ears/nothing-inside"
WIPE = "Wipe only the outer ear, with a damp cloth."


def _run(*arguments: str) -> Result:
    result = CliRunner().invoke(cli, ["words", *arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def _changed(file: Path, change: Callable[[str], str]) -> Path:
    text = file.read_text("utf-8")
    changed = change(text)
    assert changed != text
    file.write_text(changed, "utf-8")
    return file


def _wipe_in(words: str, file: Path) -> Path:
    """Write other words for the one message into a file, as a translator would."""
    if file.suffix == ".po":
        pattern = rf'(msgctxt "{BLOCK}"\nmsgid "{re.escape(WIPE)}"\nmsgstr ")[^"]*'
        return _changed(file, lambda text: re.sub(pattern, lambda match: match[1] + words, text))
    pattern = rf"(<source>{re.escape(WIPE)}</source>\s*<target[^>]*>)[^<]*"
    return _changed(file, lambda text: re.sub(pattern, lambda match: match[1] + words, text, count=1))


@pytest.mark.parametrize("name", ["words.xlf", "words.po"])
@pytest.mark.parametrize("locale", ["pl", "ar"])
def test_what_comes_back_untouched_changes_nothing(tmp_path: Path, content: Content, name: str, locale: str) -> None:
    assert _run("export", locale, str(tmp_path / name)).exit_code == 0
    returned = read_returned(content, locale, tmp_path / name)
    assert (dict(returned.taken), returned.findings) == ({}, ())
    assert returned.unchanged == len(source_messages(content.words))


def test_translate_toolkit_reads_back_every_unit(tmp_path: Path, content: Content) -> None:
    """Source: the toolkit's own factory, which chooses the format by what stands in the file."""
    from translate.storage import factory  # noqa: PLC0415 - slow to import

    assert _run("export", "cy", str(tmp_path / "words.xlf")).exit_code == 0
    store = factory.getobject(str(tmp_path / "words.xlf"))
    counted = [message for message in source_messages(content.words) if message.key.plural is not None]
    # By hand: Welsh has six forms, so five units more for each counted message.
    assert len(store.units) == len(source_messages(content.words)) + 5 * len(counted)
    assert all(unit.istranslated() for unit in store.units)
    assert (store.getsourcelanguage(), store.gettargetlanguage()) == ("en", "cy")


@pytest.mark.parametrize("name", ["words.xlf", "words.po"])
def test_good_words_are_taken_into_the_clinic_and_printed(tmp_path: Path, clinic: Path, name: str) -> None:
    file = tmp_path / name
    assert _run("export", "pl", str(file), "--clinic", str(clinic)).exit_code == 0
    better = "Proszę wycierać tylko ucho zewnętrzne, zwilżoną ściereczką."
    _wipe_in(better, file)
    dry = _run("take", "pl", str(file), "--clinic", str(clinic), "--translator", "Bo", "--dry-run")
    assert "1 would be taken" in dry.stdout
    assert not (clinic / "locales").exists()
    result = _run("take", "pl", str(file), "--clinic", str(clinic), "--translator", "Bo")
    assert (result.exit_code, "1 taken" in result.stdout) == (0, True)
    made = make(ROUTINE, clinic=clinic, language="pl", out=tmp_path / "out")
    assert made.status == "ok"
    assert better in Path(made.files["html"]).read_text("utf-8")
    (entry,) = load_ledger(clinic).entries
    assert (entry.act, entry.who, entry.words) == ("translated", "Bo", (better,))


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("Proszę wycierać tylko lewe ucho zewnętrzne ściereczką.", "TRAN05"),
        ("Proszę wycierać tylko ucho zewnętrzne 3 ściereczkami.", "TRAN02"),
        ("Proszę wycierać %(drops)s ucho zewnętrzne.", "TRAN03"),
        (WIPE, "TRAN09"),
    ],
)
def test_wrong_words_are_named_and_not_taken(tmp_path: Path, clinic: Path, words: str, code: str) -> None:
    file = tmp_path / "words.xlf"
    _run("export", "pl", str(file), "--clinic", str(clinic))
    before = _wipe_in(words, file).read_bytes()
    result = _run("take", "pl", str(file), "--clinic", str(clinic), "--translator", "Bo")
    assert result.exit_code == 1
    assert f"{code} stop" in result.stdout
    assert "0 taken" in result.stdout
    assert not (clinic / "locales").exists()
    assert file.read_bytes() == before


def test_words_that_somebody_changed_meanwhile_are_a_conflict(tmp_path: Path, clinic: Path) -> None:
    first, second = tmp_path / "first.xlf", tmp_path / "second.xlf"
    for file in (first, second):
        _run("export", "pl", str(file), "--clinic", str(clinic))
    _wipe_in("Proszę wycierać tylko ucho zewnętrzne, zwilżoną ściereczką.", first)
    _wipe_in("Proszę wycierać tylko ucho zewnętrzne, mokrą ściereczką.", second)
    assert _run("take", "pl", str(first), "--clinic", str(clinic), "--translator", "Bo").exit_code == 0
    result = _run("take", "pl", str(second), "--clinic", str(clinic), "--translator", "Cy")
    assert result.exit_code == 1
    assert f"{CONFLICT} stop" in result.stdout
    assert "zwilżoną" in result.stdout
    assert "mokrą" in result.stdout


def test_a_new_locale_can_be_sent_out(tmp_path: Path, content: Content) -> None:
    file = tmp_path / "words.xlf"
    assert _run("export", "fr", str(file)).exit_code == 0
    assert file.read_text("utf-8").count("<trans-unit") >= len(source_messages(content.words))


@pytest.mark.parametrize(
    ("name", "body", "said"),
    [
        ("words.xlf", b"<xliff>no", "is not XLIFF"),
        ("words.xlf", b"\x00\xff", "is not XLIFF"),
        ("words.po", b'msgid "a"\nmsgstrr "b"\n', "words.po:2"),
        ("words.po", b"\xff\xfe", "is not UTF-8"),
    ],
)
def test_a_file_that_is_none_is_one_line(tmp_path: Path, name: str, body: bytes, said: str) -> None:
    (tmp_path / name).write_bytes(body)
    result = _run("take", "pl", str(tmp_path / name), "--translator", "Bo")
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1
    assert said in result.stderr


def test_a_file_of_another_locale_an_unknown_ending_and_an_empty_name_are_refused(tmp_path: Path) -> None:
    _run("export", "pl", str(tmp_path / "words.xlf"))
    for arguments, said in (
        (("take", "ro", str(tmp_path / "words.xlf"), "--translator", "Bo"), "is for 'pl', not for 'ro'"),
        (("take", "pl", str(tmp_path / "words.xlf"), "--translator", " "), "the name is empty"),
        (("take", "pl", str(tmp_path / "none.xlf"), "--translator", "Bo"), "cannot be read"),
        (("export", "pl", str(tmp_path / "words.docx")), "is neither .xlf nor .po"),
        (("export", "q!", str(tmp_path / "words.xlf")), "not a locale that is known"),
    ):
        result = _run(*arguments)
        assert result.exit_code == 2
        assert said in result.stderr
