"""Our catalogues and checks beside others': GNU gettext on the same files, translate-toolkit on the same words.

References: msgfmt of GNU gettext 0.21, Python's gettext module, translate-toolkit 3.20; real .po files of the packages
humanize, wtforms and django-countries.
"""

# ruff: noqa: RUF001 - letters and figures of other scripts are what is compared

import gettext
import importlib.metadata
import io
import os
import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple, NoReturn

import pytest

from leaflets import cldr
from leaflets.catalogue import SourceMessage, locale_of_folder, parse_catalogue
from leaflets.locale_files import locale_in, locales_in
from leaflets.review import state_of
from leaflets.translation_checks import check_translation
from leaflets.translation_checks.pair import Example

LOCALES = Path(__file__).parents[1] / "locales"
SHIPPED = [files.locale for files in locales_in(LOCALES)]
PACKAGES = ("humanize", "wtforms", "django-countries")
FEWEST_REAL_FILES = 100
LARGEST_COUNT = 200


class States(NamedTuple):
    """How many messages of a catalogue are current, stale and missing."""

    current: int
    stale: int
    missing: int


def _missing(reason: str) -> NoReturn:
    if os.environ.get("CI", "").lower() == "true":
        pytest.fail(f"a reference is missing in CI: {reason}", pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def msgfmt() -> str:
    path = shutil.which("msgfmt")
    if path is None:
        _missing("msgfmt is not installed: apt-get install gettext")
    return path


def _module(name: str) -> Any:
    try:
        return import_module(name)
    except ModuleNotFoundError:
        _missing("translate-toolkit is not installed: pip install translate-toolkit")


def _po_files(package: str) -> list[Path]:
    try:
        files = importlib.metadata.files(package) or []
    except importlib.metadata.PackageNotFoundError:
        _missing(f"{package} is not installed: pip install {package}")
    return sorted(Path(str(file.locate())) for file in files if file.suffix == ".po")


def _run(*command: str, data: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(command, input=data, capture_output=True, check=False, env={"LC_ALL": "C"})


def _by_gettext(msgfmt: str, text: str) -> States:
    run = _run(msgfmt, "--statistics", "-o", "/dev/null", "-", data=text.encode())
    assert run.returncode == 0, run.stderr
    said = {
        word: int(count) for count, word in re.findall(r"(\d+) (translated|fuzzy|untranslated)", run.stderr.decode())
    }
    return States(said.get("translated", 0), said.get("fuzzy", 0), said.get("untranslated", 0))


def _by_us(text: str, place: str, locale: str) -> States:
    catalogue = parse_catalogue(text, place, locale)
    messages = (SourceMessage(key, (), (), None, False, ()) for key in catalogue.translations)
    states = Counter(state_of(message, catalogue, frozenset()) for message in messages)
    return States(states["draft"], states["stale"], states["missing"])


def _half_written(text: str) -> tuple[int, int]:
    """Return how many messages have a first plural form but lack another: translated ones, and fuzzy ones.

    gettext goes by the first form alone and calls them translated; we call them missing, as one of their forms cannot
    be printed. They are counted by translate-toolkit, so that our own reader has no part in it.
    """
    store = _module("translate.storage.pypo").pofile.parsestring(text.encode())
    forms = int(store.getheaderplural()[0] or 1)
    found = [
        unit
        for unit in store.units
        if unit.hasplural()
        and not unit.isobsolete()
        and unit.target.strings[0]
        and len(list(filter(None, unit.target.strings))) < forms
    ]
    fuzzy = sum(unit.isfuzzy() for unit in found)
    return len(found) - fuzzy, fuzzy


# How many messages are translated


@pytest.mark.parametrize("locale", SHIPPED)
def test_a_shipped_catalogue_has_as_many_messages_in_each_state_as_gettext_counts(msgfmt: str, locale: str) -> None:
    path = locale_in(LOCALES, locale).catalogue
    text = path.read_text("utf-8")
    counted = _by_gettext(msgfmt, text)
    assert _by_us(text, str(path), locale) == counted
    assert counted.current > 500


_ONE_LINE = re.compile(r'^msgstr "[^"\n].*"$', re.MULTILINE)
_LAST_FORM = re.compile(r'^(msgstr\[0\] ".+"\n(?:msgstr\[\d\] ".+"\n)*msgstr\[\d\]) ".+"$', re.MULTILINE)


def _emptied(text: str) -> str:
    return _ONE_LINE.sub('msgstr ""', text, count=1)


def _fuzzy(text: str) -> str:
    return text.replace("\nmsgctxt ", "\n#, fuzzy\nmsgctxt ", 1)


def _last_fuzzy(text: str) -> str:
    before, _, after = text.rpartition("\nmsgctxt ")
    return f"{before}\n#, fuzzy\nmsgctxt {after}"


@pytest.mark.parametrize("locale", SHIPPED)
@pytest.mark.parametrize(
    ("change", "moved"),
    [  # one message leaves "current"; the numbers are by hand
        (_emptied, States(-1, 0, 1)),
        (_fuzzy, States(-1, 1, 0)),
        (lambda text: _last_fuzzy(_emptied(text)), States(-2, 1, 1)),
        (lambda text: _fuzzy(_emptied(text)), States(-1, 0, 1)),  # the same message: no words are worse than old ones
        (lambda text: text + '\n#~ msgid "gone"\n#~ msgstr "x"\n', States(0, 0, 0)),
    ],
    ids=["emptied", "fuzzy", "one emptied, one fuzzy", "emptied and fuzzy", "obsolete"],
)
def test_a_changed_catalogue_is_counted_as_gettext_counts_it(
    msgfmt: str, locale: str, change: Any, moved: States
) -> None:
    text = locale_in(LOCALES, locale).catalogue.read_text("utf-8")
    changed = change(text)
    assert changed != text
    before = _by_us(text, "leaflets.po", locale)
    assert _by_us(changed, "leaflets.po", locale) == States(*map(sum, zip(before, moved, strict=True)))
    assert _by_us(changed, "leaflets.po", locale) == _by_gettext(msgfmt, changed)


@pytest.mark.parametrize("locale", SHIPPED)
def test_a_message_that_lacks_one_plural_form_is_missing_though_gettext_calls_it_translated(
    msgfmt: str, locale: str
) -> None:
    text = locale_in(LOCALES, locale).catalogue.read_text("utf-8")
    changed = _LAST_FORM.sub(r'\1 ""', text, count=1)
    assert changed != text
    whole = _by_gettext(msgfmt, text)
    assert _by_gettext(msgfmt, changed) == whole
    assert _half_written(changed) == (1, 0)
    assert _by_us(changed, "leaflets.po", locale) == States(whole.current - 1, whole.stale, whole.missing + 1)


@pytest.mark.parametrize("package", PACKAGES)
def test_real_catalogues_are_read_and_counted_as_gettext_counts_them(msgfmt: str, package: str) -> None:
    """Every file, whoever wrote it; but for messages that lack one of their plural forms, which are missing to us."""
    files = _po_files(package)
    assert files
    for path in files:
        text, locale = path.read_text("utf-8"), locale_of_folder(path.parts[-3])
        counted, (half, half_fuzzy) = _by_gettext(msgfmt, text), _half_written(text)
        expected = States(counted.current - half, counted.stale - half_fuzzy, counted.missing + half + half_fuzzy)
        assert _by_us(text, str(path), locale) == expected, path


def test_there_are_enough_real_catalogues_in_enough_languages() -> None:
    files = [path for package in PACKAGES for path in _po_files(package)]
    assert len(files) >= FEWEST_REAL_FILES
    assert len({path.parts[-3].split("_")[0] for path in files}) >= 40


def test_two_strings_on_one_line_are_one_text_as_gettext_reads_them(msgfmt: str) -> None:
    text = f'{_header("pl")}\nmsgid "Do not do it."\nmsgstr "Nie " "rób."\n'
    assert _compiled(msgfmt, text).gettext("Do not do it.") == "Nie rób."
    (translation,) = parse_catalogue(text, "leaflets.po", "pl").translations.values()
    assert translation.forms == ("Nie rób.",)


# What gettext's own check says


@pytest.mark.parametrize("locale", SHIPPED)
def test_gettext_finds_no_fault_in_a_shipped_catalogue(msgfmt: str, locale: str) -> None:
    """The header, the plural forms and the values of messages."""
    run = _run(msgfmt, "--check", "-o", "/dev/null", str(locale_in(LOCALES, locale).catalogue))
    assert (run.returncode, run.stderr) == (0, b"")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (r"^(msgstr.*)%\((\w+)\)s", r"\1%(\2x)s"),
        (r"^\"Plural-Forms: nplurals=\d", '"Plural-Forms: nplurals=9'),
        (r'^(msgstr\[1\]) ".*"$', r"\1 unquoted"),
    ],
    ids=["a value renamed", "nine plural forms", "no quotation marks"],
)
def test_gettext_does_find_such_faults(msgfmt: str, old: str, new: str) -> None:
    text = locale_in(LOCALES, "pl").catalogue.read_text("utf-8")
    spoilt = re.sub(old, new, text, count=0, flags=re.MULTILINE)
    assert spoilt != text
    assert _run(msgfmt, "--check", "-o", "/dev/null", "-", data=spoilt.encode()).returncode == 1


@pytest.mark.parametrize("locale", SHIPPED)
def test_every_message_with_a_value_is_marked_so_that_gettext_looks_at_it(locale: str) -> None:
    text = locale_in(LOCALES, locale).catalogue.read_text("utf-8")
    entries = [entry for entry in text.split("\n\n")[1:] if re.search(r"^msgid.*%\(", entry, re.MULTILINE)]
    assert len(entries) > 50
    assert [entry for entry in entries if not re.search("^#,.*python-format", entry, re.MULTILINE)] == []


# Plural forms


def _header(locale: str) -> str:
    """Return the header of a shipped catalogue, all that stands before its first message."""
    return locale_in(LOCALES, locale).catalogue.read_text("utf-8").split("\n\n")[0] + "\n"


def _compiled(msgfmt: str, text: str) -> gettext.GNUTranslations:
    run = _run(msgfmt, "-o", "-", "-", data=text.encode())
    assert run.returncode == 0, run.stderr
    return gettext.GNUTranslations(io.BytesIO(run.stdout))


@pytest.mark.parametrize("locale", SHIPPED)
def test_the_header_chooses_the_form_that_we_choose(msgfmt: str, locale: str) -> None:
    """Each form of the one message is its own number, so that gettext's answer is the number of the form."""
    forms = "".join(f'msgstr[{number}] "{number}"\n' for number in range(len(cldr.plural_forms(locale))))
    compiled = _compiled(msgfmt, f'{_header(locale)}\nmsgid "one"\nmsgid_plural "many"\n{forms}')
    for count in range(LARGEST_COUNT + 1):
        assert compiled.ngettext("one", "many", count) == str(cldr.plural_form(count, locale)), count


@pytest.mark.parametrize("locale", SHIPPED)
def test_a_counted_message_has_the_words_that_gettext_gives_it(msgfmt: str, locale: str) -> None:
    text = locale_in(LOCALES, locale).catalogue.read_text("utf-8")
    compiled, catalogue = _compiled(msgfmt, text), parse_catalogue(text, "leaflets.po", locale)
    counted = [one for one in catalogue.translations.values() if one.key.plural is not None]
    assert len(counted) > 10
    for one in counted:
        for count in (0, 1, 2, 3, 5, 6, 11, 12, 19, 20, 21, 22, 45, 100, 101, 102):
            ours = catalogue.form(one, count)
            assert compiled.npgettext(one.key.context, one.key.source, str(one.key.plural), count) == ours


@pytest.mark.parametrize("locale", SHIPPED)
def test_a_message_has_the_words_that_gettext_gives_it(msgfmt: str, locale: str) -> None:
    text = locale_in(LOCALES, locale).catalogue.read_text("utf-8")
    compiled, catalogue = _compiled(msgfmt, text), parse_catalogue(text, "leaflets.po", locale)
    for one in catalogue.translations.values():
        if one.key.plural is None:
            assert compiled.pgettext(one.key.context, one.key.source) == one.forms[0]


# The checks of translations beside those of translate-toolkit. All words are invented.


def _toolkit(locale: str) -> Any:
    checks = _module("translate.filters.checks")
    # %(name)s is told to it as a kind of variable, as its manual asks of each project.
    config = checks.CheckerConfig(targetlanguage=locale.replace("-", "_"), varmatches=[("%(", ")s")])
    return checks.StandardChecker(checkerconfig=config)


def _accepted_by_toolkit(name: str, source: str, translation: str, locale: str, checker: Any = None) -> bool:
    failures = _module("translate.filters.checks").FilterFailure
    try:
        return bool(getattr(checker or _toolkit(locale), name)(source, translation))
    except failures:
        return False


def _accepted_by_us(code: str, source: str, translation: str, locale: str) -> bool:
    pair = Example("invented", source, (translation,), locale=locale).pair()
    return code not in {finding.code for finding in check_translation(pair)}


PLAIN_CASES = [
    ("numbers", "TRAN02", "pl", "Use 3 drops.", "Proszę użyć 3 kropli.", True),
    ("numbers", "TRAN02", "pl", "Use 3 drops for 3 days.", "3 krople przez 3 dni.", True),
    ("numbers", "TRAN02", "pl", "Use 3 drops.", "Proszę użyć 5 kropli.", False),
    ("numbers", "TRAN02", "pl", "Use 3 drops.", "Proszę użyć 33 kropli.", False),
    ("numbers", "TRAN02", "pl", "Use 3 drops.", "Proszę użyć kropli.", False),
    ("numbers", "TRAN02", "bn", "Use 3 drops.", "৪ ফোঁটা দিন।", False),
    ("doublespacing", "TRAN10", "pl", "Keep it dry.", "Ucho suche.", True),
    ("doublespacing", "TRAN10", "pl", "Keep it dry.", "Ucho  suche.", False),
    ("doublespacing", "TRAN10", "pl", "Keep it dry.", "Ucho   suche.", False),
    ("brackets", "TRAN10", "pl", "Keep it dry.", "Ucho suche.", True),
    ("brackets", "TRAN10", "pl", "Keep it (dry).", "Ucho (suche).", True),
    ("brackets", "TRAN10", "pl", "Keep it dry.", "Ucho (suche).", False),
    ("brackets", "TRAN10", "pl", "Keep it dry.", "Ucho [suche].", False),
    ("startpunc", "TRAN10", "pl", "Keep it dry.", "Ucho suche.", True),
    ("startpunc", "TRAN10", "es", "Does it hurt?", "¿Duele?", True),
    ("startpunc", "TRAN10", "pl", "Keep it dry.", "(Ucho) suche.", False),
    ("endpunc", "TRAN10", "pl", "Keep it dry.", "Ucho suche.", True),
    ("endpunc", "TRAN10", "pl", "Dry ears", "Suche uszy", True),
    ("endpunc", "TRAN10", "pl", "Keep it dry.", "Ucho suche", False),
    ("endpunc", "TRAN10", "pl", "Dry ears", "Suche uszy.", False),
    ("endpunc", "TRAN10", "bn", "Keep it dry.", "কান শুকনো রাখুন।", True),
    ("endpunc", "TRAN10", "bn", "Keep it dry.", "কান শুকনো রাখুন", False),
    ("endpunc", "TRAN10", "pa", "Keep it dry.", "ਕੰਨ ਸੁੱਕਾ ਰੱਖੋ।", True),
    ("endpunc", "TRAN10", "ur", "Keep it dry.", "کان خشک رکھیں۔", True),
    ("endpunc", "TRAN10", "ar", "Is it dry?", "هل هي جافة؟", True),
    ("variables", "TRAN03", "pl", "Call %(phone)s.", "Telefon %(phone)s.", True),
    ("variables", "TRAN03", "pl", "Call %(phone)s now.", "Proszę od razu dzwonić: %(phone)s.", True),
    ("variables", "TRAN03", "pl", "Call %(phone)s.", "Proszę dzwonić.", False),
    ("variables", "TRAN03", "pl", "Call %(phone)s.", "Telefon %(telefon)s.", False),
    ("variables", "TRAN03", "pl", "Call %(phone)s.", "Telefon %(phone)s %(phone)s.", False),
    ("variables", "TRAN03", "pl", "Call us.", "Telefon %(phone)s.", False),
    ("printf", "TRAN03", "pl", "%(a)s and %(b)s.", "%(b)s i %(a)s.", True),
    ("printf", "TRAN03", "pl", "Call %(phone)s.", "Proszę dzwonić.", False),
    ("printf", "TRAN03", "pl", "Call %(phone)s.", "Telefon %(telefon)s.", False),
    ("sentencecount", "TRAN08", "pl", "Rest. Sip water.", "Odpoczynek. Woda.", True),
    ("sentencecount", "TRAN08", "bn", "Rest. Sip water.", "বিশ্রাম নিন। পানি খান।", True),
    ("sentencecount", "TRAN08", "ur", "Rest. Sip water.", "آرام کریں۔ پانی پئیں۔", True),
    ("sentencecount", "TRAN08", "pl", "Rest. Sip water.", "Odpoczynek.", False),
]


@pytest.mark.parametrize(("name", "code", "locale", "source", "translation", "right"), PLAIN_CASES)
def test_where_both_look_at_the_same_thing_the_toolkit_and_we_agree(
    name: str, code: str, locale: str, source: str, translation: str, right: bool
) -> None:
    assert _accepted_by_toolkit(name, source, translation, locale) is right
    assert _accepted_by_us(code, source, translation, locale) is right


WRONG_FOR_US = [
    # Figures are compared letter by letter with the source, so that those of another script are a fault.
    ("numbers", "TRAN02", "bn", "Use 3 drops.", "৩ ফোঁটা দিন।", True),
    ("numbers", "TRAN02", "ar", "Use 3 drops.", "استعمل ٣ قطرات.", True),
    ("numbers", "TRAN02", "ur", "Use 3 drops.", "۳ قطرے ڈالیں۔", True),
    ("numbers", "TRAN02", "pa", "Use 3 drops.", "੩ ਬੂੰਦਾਂ ਪਾਓ।", True),
    # The decimal comma of most of Europe likewise.
    ("numbers", "TRAN02", "pl", "It holds 2.5 ml.", "Mieści 2,5 ml.", True),
    # Only figures of the source are looked for, and within longer ones: one added passes, and so does 15 for 5.
    ("numbers", "TRAN02", "pl", "Use drops.", "Proszę użyć 3 kropli.", False),
    ("numbers", "TRAN02", "ar", "Use drops.", "استعمل ٤ قطرات.", False),
    ("numbers", "TRAN02", "pl", "Use 3 drops for 5 days.", "3 krople przez 15 dni.", False),
    # Two spaces are looked for, not a space at the end or beside one that does not break.
    ("doublespacing", "TRAN10", "pl", "Keep it dry.", "Ucho suche. ", False),
    ("doublespacing", "TRAN10", "pl", "Keep it dry.", "Ucho\u00a0 suche.", False),
    # The danda ends a sentence in Bengali and Panjabi to it, but not in Hindi.
    ("endpunc", "TRAN10", "hi", "Keep it dry.", "कान सूखा रखें।", True),
    # The opening quotation mark of the language is another mark than that of English, and so a fault.
    ("startpunc", "TRAN10", "pl", "“Stop” is fine.", "„Stop” jest dobre.", True),
    # A per cent sign that stands alone would be taken for the start of a value when the leaflet is made.
    ("printf", "TRAN03", "pl", "Half of it.", "50 % z tego.", False),
    # The stop of an abbreviation ends a sentence.
    ("sentencecount", "TRAN08", "pl", "Call Dr. Smith.", "Proszę dzwonić.", True),
]


@pytest.mark.parametrize(("name", "code", "locale", "source", "translation", "right"), WRONG_FOR_US)
def test_where_the_toolkit_is_wrong_for_leaflets_our_own_check_is_right(
    name: str, code: str, locale: str, source: str, translation: str, right: bool
) -> None:
    assert _accepted_by_toolkit(name, source, translation, locale) is not right
    assert _accepted_by_us(code, source, translation, locale) is right


def test_a_value_is_nothing_to_the_toolkit_s_check_of_variables_until_it_is_told() -> None:
    untold = _module("translate.filters.checks").StandardChecker()
    assert _accepted_by_toolkit("variables", "Call %(phone)s.", "Proszę dzwonić.", "pl", untold)
    assert not _accepted_by_us("TRAN03", "Call %(phone)s.", "Proszę dzwonić.", "pl")


def test_the_toolkit_s_plural_rules_are_not_those_of_the_cldr_that_leaflets_count_by() -> None:
    """Source: Unicode CLDR, plural rules: Welsh tells zero, one, two, few (3), many (6) and other apart."""
    toolkit = {locale: _module("translate.lang.factory").getlanguage(locale.replace("-", "_")) for locale in SHIPPED}
    assert toolkit["cy"].nplurals == 2
    assert [cldr.plural_form(count, "cy") for count in (0, 1, 2, 3, 6, 4)] == [0, 1, 2, 3, 4, 5]
    others = {
        locale: (one.nplurals, len(cldr.plural_forms(locale))) for locale, one in toolkit.items() if locale != "cy"
    }
    assert all(theirs == ours for theirs, ours in others.values()), others


def _all_found_by_toolkit(source: str, translation: str) -> Iterator[str]:
    unit = _module("translate.storage.pypo").pounit(source)
    unit.target = translation
    yield from _toolkit("pl").run_filters(unit)


@pytest.mark.parametrize(
    ("code", "source", "translation"),
    [
        ("TRAN05", "Put it in your left ear.", "Proszę włożyć to w prawe ucho."),
        ("TRAN06", "Do not swim.", "Proszę pływać."),
        ("TRAN11", "Keep it dry.", "Ucho such\u0435."),  # a Cyrillic letter
        ("TRAN12", "Keep it dry.", "Ucho\u200f suche."),
    ],
    ids=["the other side", "a negation lost", "a letter of another script", "a steering character"],
)
def test_what_hurts_most_no_filter_of_the_toolkit_looks_for(code: str, source: str, translation: str) -> None:
    assert list(_all_found_by_toolkit(source, translation)) == []
    assert not _accepted_by_us(code, source, translation, "pl")
