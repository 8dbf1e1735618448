"""Translations that are not fit: the file and line are named, nothing in them runs, and no file is changed."""

import os
import re
import shutil
import subprocess
import tomllib
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from typing import NoReturn

import pytest
from click.testing import CliRunner, Result

from leaflets.cli import main
from leaflets.model import Finding
from leaflets.pipeline import Checked, check

ROUTINE = Path(__file__).parents[1] / "visits" / "routine.toml"
ReadProblems = Callable[[Result], list[str]]

CATALOGUE = "locales/pl/LC_MESSAGES/leaflets.po"
GLOSSARY = "locales/pl/glossary.toml"

# Six lines with the empty one at the end; the rule is that of the GNU gettext manual for Polish.
HEADER = r"""msgid ""
msgstr ""
"Language: pl\n"
"Content-Type: text/plain; charset=UTF-8\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<12 || n%100>14) ? 1 : 2);\n"

"""
SORE = """msgctxt "after/what-to-expect"
msgid "You may feel sore for up to %(hours)s hour."
msgid_plural "You may feel sore for up to %(hours)s hours."
"""
BLOCK = "ears/nothing-inside"
WIPE = "Wipe only the outer ear, with a damp cloth."
OBJECT = "Do not put any object in your ears to clean or scratch them."


def _message(words: str, source: str = WIPE, context: str = BLOCK) -> str:
    """Return one message, whose msgid stands in the second of its three lines: in the eighth of the file, as first."""
    words = words.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'msgctxt "{context}"\nmsgid "{source}"\nmsgstr "{words}"\n'


def _write(clinic: Path, text: str | bytes, name: str = CATALOGUE) -> Path:
    path = clinic / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def _files(clinic: Path) -> dict[str, bytes]:
    return {str(path.relative_to(clinic)): path.read_bytes() for path in clinic.rglob("*") if path.is_file()}


def _commands(clinic: Path, locale: str = "pl") -> list[list[str]]:
    return [
        ["make", str(ROUTINE), "--language", locale, "--clinic", str(clinic), "--out", str(clinic.parent / "out")],
        ["words", "check", locale, "--clinic", str(clinic)],
        ["words", "update", "--clinic", str(clinic)],
    ]


def _refused(clinic: Path, read_problems: ReadProblems, commands: list[list[str]]) -> list[str]:
    """Run commands that must all refuse in the same words, and change nothing; return their problems."""
    before, said = _files(clinic), []
    for command in commands:
        said.append(read_problems(CliRunner().invoke(main, command)))
        assert not (clinic.parent / "out").exists()
        assert _files(clinic) == before
    assert all(problems == said[0] for problems in said)
    return said[0]


def _checked(clinic: Path, locale: str = "pl") -> Checked:
    return check({**tomllib.loads(ROUTINE.read_text("utf-8")), "language": locale}, clinic=clinic)


def _stops(checked: Checked, code: str) -> list[Finding]:
    return [one for one in checked.result.findings if (one.code, one.severity) == (code, "stop")]


# Text that is no .po file. The line is that of the mistake, by hand.

BROKEN_AND_FOUND = [
    pytest.param(HEADER + 'msgid "a"\nmsgstr "b"\nmsgstrr "c"\n', 9, id="a word that is none"),
    pytest.param(HEADER + 'msgid "a"\n\nmsgid "b"\nmsgstr "b"\n', 7, id="no translation at all"),
    pytest.param(
        HEADER + SORE + 'msgstr[0] "a"\nmsgstr[1] "b"\nmsgstr[2] "c"\nmsgstr[3] "d"\n', 8, id="a form too many"
    ),
    pytest.param(HEADER + "<<<<<<< mine\n" + _message("b"), 7, id="a conflict that was left"),
    pytest.param("<!doctype html>\n<title>Not found</title>\n", 1, id="a web page"),
    pytest.param("\n\nThese are the words.\n", 3, id="prose"),
]
BROKEN_AND_READ = [
    pytest.param(HEADER + 'msgid "a"\nmsgstr "Nie.\n', 8, id="a quotation mark that is not closed"),
    pytest.param(HEADER + 'msgid "a"\nmsgstr Nie.\n', 8, id="no quotation marks"),
    pytest.param(HEADER + 'msgid "a"\nmsgstr ""\n"Nie" rób.\n', 9, id="words behind the quotation mark"),
    pytest.param(HEADER + 'msgid "a"\nmsgstr "Nie "rób" tego."\n', 8, id="a quotation mark inside"),
    pytest.param(HEADER + 'msgid "a"\nmsgstr "Nie rób."\nmsgstr "Rób."\n', 9, id="two translations"),
    pytest.param(HEADER + 'msgstr "Rób."\n\nmsgid "a"\nmsgstr "Nie rób."\n', 7, id="a translation of nothing"),
    pytest.param(HEADER + 'msgid "a"\nmsgstr "Nie."\n\nmsgctxt "b"\n', 10, id="a context of nothing"),
    pytest.param(
        HEADER + SORE + 'msgstr[0] "a"\nmsgstr[0] "b"\nmsgstr[1] "c"\nmsgstr[2] "d"\n', 11, id="one form twice"
    ),
    pytest.param(HEADER + SORE + 'msgstr[-1] "a"\n', 10, id="a form less than none"),
    pytest.param(HEADER + SORE + 'msgstr[x] "a"\n', 10, id="a form without a number"),
    pytest.param(HEADER + SORE + 'msgstr "a"\n', 10, id="a counted message without forms"),
    pytest.param(HEADER + _message("Jedno.") + _message("Drugie."), 11, id="a message twice"),
    pytest.param(HEADER + _message("Nie.") + HEADER, 10, id="a header twice"),
]


@pytest.mark.parametrize(("text", "line"), BROKEN_AND_FOUND)
def test_text_that_is_no_catalogue_is_refused_with_its_line(
    text: str, line: int, clinic: Path, read_problems: ReadProblems
) -> None:
    _write(clinic, text)
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{CATALOGUE}:{line}: is not a .po file")


@pytest.mark.parametrize(("text", "line"), BROKEN_AND_READ)
def test_text_that_is_nearly_a_catalogue_is_refused_with_its_line(
    text: str, line: int, clinic: Path, read_problems: ReadProblems
) -> None:
    _write(clinic, text)
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{CATALOGUE}:{line}: ")


@pytest.mark.parametrize(("text", "_line"), [*BROKEN_AND_FOUND, *BROKEN_AND_READ])
def test_gettext_refuses_the_same_text(text: str, _line: int) -> None:
    msgfmt = shutil.which("msgfmt")
    if msgfmt is None:
        _missing("msgfmt is not installed: apt-get install gettext")
    command = [msgfmt, "--check", "-o", "/dev/null", "-"]
    assert subprocess.run(command, input=text.encode(), capture_output=True, check=False).returncode == 1


@pytest.mark.parametrize(
    ("line", "at"),
    [
        pytest.param(r'msgstr "Nie \a rób."', 8, id="an escape that Babel reads as its letter"),
        pytest.param('msgstr[0] "Nie rób."', 8, id="a form of a message that is not counted"),
        pytest.param('msgid_plural[0] "b"', 8, id="a number where none can be"),
        pytest.param('msgctxt "b"\nmsgid_plural "b"', 7, id="a context within a message"),
    ],
)
def test_what_gettext_may_take_and_babel_would_misread_is_refused_too(
    line: str, at: int, clinic: Path, read_problems: ReadProblems
) -> None:
    _write(clinic, f'{HEADER}msgid "a"\n{line}\n')
    (problem,) = _refused(clinic, read_problems, _commands(clinic)[1:])
    assert problem.startswith(f"clinic/{CATALOGUE}:{at}: is not a .po file")


def _missing(reason: str) -> NoReturn:
    if os.environ.get("CI", "").lower() == "true":
        pytest.fail(f"a reference is missing in CI: {reason}", pytrace=False)
    pytest.skip(reason)


def test_the_line_is_said_once_or_twice_alike(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER + 'msgid "a"\nmsgstr "b"\nmsgstrr "c"\n')
    (problem,) = _refused(clinic, read_problems, _commands(clinic)[1:2])
    assert set(re.findall(r":(\d+):| on (\d+) ", problem)) <= {("9", ""), ("", "9")}


# Charset

LATIN_2 = HEADER.encode() + _message("Proszę wytrzeć małżowinę.").encode("iso-8859-2")


def test_bytes_of_another_charset_are_refused_with_the_line(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, LATIN_2)
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem == f"clinic/{CATALOGUE}:9: is not UTF-8 (save the file as UTF-8)"


def test_a_header_that_names_an_unknown_charset_is_refused(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER.replace("UTF-8", "klingon-8") + _message("Proszę wytrzeć ucho."))
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{CATALOGUE}:4: ")
    assert "klingon-8" in problem


def test_a_header_that_names_another_charset_is_refused(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER.replace("UTF-8", "ISO-8859-2") + _message("Proszę wytrzeć małżowinę."))
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{CATALOGUE}:4: ")


# The header and plural forms


def test_forms_in_another_order_than_the_cldr_s_are_refused(clinic: Path) -> None:
    """By this header the first form is for 2, 3, 4, 22 …, the second for 1: taken by our order, both print wrong."""
    swapped = HEADER.replace("n==1 ? 0 :", "n==1 ? 1 :").replace("? 1 : 2)", "? 0 : 2)")
    forms = ("do %(hours)s godzin.", "do %(hours)s godziny.", "do %(hours)s godzin.")
    _write(clinic, swapped + SORE + "".join(f'msgstr[{n}] "Ból {form}"\n' for n, form in enumerate(forms)))
    result = CliRunner().invoke(main, _commands(clinic)[0])
    assert result.exit_code != 0
    assert f"{CATALOGUE}:5" in result.output


@pytest.mark.parametrize(
    ("old", "new"), [("nplurals=3", "nplurals=x"), ("Language: pl", "Language: !!")], ids=["no number", "no language"]
)
def test_a_header_that_cannot_be_read_is_refused_with_the_file(
    old: str, new: str, clinic: Path, read_problems: ReadProblems
) -> None:
    _write(clinic, HEADER.replace(old, new) + _message("Proszę wytrzeć ucho."))
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{CATALOGUE}")
    assert "mend the header" in problem


def test_a_catalogue_of_another_language_than_its_folder_is_refused(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER.replace("Language: pl", "Language: cs") + _message("Otřete ucho."))
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{CATALOGUE}:3: ")


TWO_FORMS = 'msgstr[0] "Ból do %(hours)s godziny."\nmsgstr[1] "Ból do %(hours)s godzin."\n'


def test_a_missing_plural_form_stops_the_leaflet(clinic: Path) -> None:
    _write(clinic, HEADER + SORE + TWO_FORMS)
    assert len(_stops(_checked(clinic), "TRAN01")) == 1
    found = CliRunner().invoke(main, _commands(clinic)[1])
    assert found.exit_code == 1
    assert f"{CATALOGUE}:8: TRAN04 stop: a plural form is empty: many" in found.output.replace("\n", "")


def test_a_missing_plural_form_stops_the_leaflet_at_the_line_of_the_catalogue(clinic: Path) -> None:
    path = _write(clinic, HEADER + SORE + TWO_FORMS)
    assert [one.place for one in _stops(_checked(clinic), "TRAN01")] == [f"{path}:8"]


def test_fewer_forms_than_the_language_has_stop_the_leaflet_at_the_line(clinic: Path) -> None:
    path = _write(clinic, HEADER.replace("nplurals=3", "nplurals=2") + SORE + TWO_FORMS)
    assert [one.place for one in _stops(_checked(clinic), "TRAN04")] == [f"{path}:8"]


# Words that would do something


class _Page(HTMLParser):
    """The text of a page and its elements with their attributes, read by another parser than our own."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.text = ""
        self.elements: list[tuple[str, tuple[str, ...]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, tuple(name for name, _ in attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


def _page(checked: Checked) -> _Page:
    assert checked.evidence is not None
    return _Page(checked.evidence.leaflet.html)


@pytest.fixture
def own_page(clinic: Path) -> Callable[[str], _Page]:
    """Return a function that makes the routine leaflet with a clinic's own words for one message."""

    def page(words: str) -> _Page:
        _write(clinic, HEADER + _message(words))
        return _page(_checked(clinic))

    return page


NASTY = [
    "{{ 7*7 }}<script>x</script><b>",
    "{{ 7*7 }}",
    "{% if true %}zawsze{% endif %}".replace("%", "%%"),
    "{# niewidoczne #}Ucho.",
    "{{ self.__init__.__globals__ }}",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "</p></div></body>",
    '<a href="javascript:x">Ucho</a>',
    '<strong class="x">Ucho',
    "<STRONG>Ucho</STRONG>",
    "<!-- Ucho -->",
    "<style>*{display:none}</style>",
    "&lt;b&gt; &amp; &#60;",
    "leaflet-id-goes-here",
]


@pytest.mark.parametrize("words", NASTY)
def test_a_translation_is_printed_as_it_stands(words: str, own_page: Callable[[str], _Page]) -> None:
    plain = own_page("Zwykle słowa.")
    assert "Zwykle słowa." in plain.text
    page = own_page(words)
    assert page.elements == plain.elements
    assert words.replace("%%", "%") in page.text


def test_only_strong_is_markup_in_a_translation(own_page: Callable[[str], _Page]) -> None:
    plain = own_page("Tylko ucho.")
    page = own_page("<strong>Tylko</strong> <b>ucho</b>.")
    assert page.text.count("Tylko <b>ucho</b>.") == 1
    more = list(page.elements)
    for element in plain.elements:
        more.remove(element)
    assert more == [("strong", ())]


def test_strong_that_the_source_has_not_stops_the_leaflet_at_the_line(clinic: Path) -> None:
    path = _write(clinic, HEADER + _message("<strong>Tylko</strong> ucho."))
    assert [one.place for one in _stops(_checked(clinic), "TRAN03")] == [f"{path}:8"]


@pytest.mark.parametrize(
    ("words", "source", "context"),
    [
        pytest.param("%(phone)s ucho.", WIPE, BLOCK, id="a value that the message has not"),
        pytest.param("%(phone)d ucho.", WIPE, BLOCK, id="a value of another kind"),
        pytest.param("100% ucha.", WIPE, BLOCK, id="a per cent sign"),
        pytest.param("Ucho za 50 %.", WIPE, BLOCK, id="a per cent sign at the end"),
        pytest.param("{% if true %}zawsze{% endif %}", WIPE, BLOCK, id="a tag of a template"),
        pytest.param("</strong>Ucho<strong>.", WIPE, BLOCK, id="strong the wrong way round"),
        pytest.param('<strong class="x">Ucho</strong>.', WIPE, BLOCK, id="strong with an attribute"),
        pytest.param(
            "%(clinic_name)s: %(telefon)s.",
            "Call %(clinic_name)s on %(telephone)s.",
            "next/contact",
            id="a value renamed",
        ),
    ],
)
def test_values_and_markup_that_cannot_be_put_in_are_named_at_the_line_of_the_catalogue(
    words: str, source: str, context: str, clinic: Path
) -> None:
    _write(clinic, HEADER + _message(words, source, context))
    result = CliRunner().invoke(main, _commands(clinic)[0])
    assert result.exit_code in (1, 2)
    assert f"{CATALOGUE}:8" in result.output


@pytest.mark.parametrize(
    ("code", "words", "source"),
    [
        pytest.param(
            "TRAN02", "Nawet 3 małe ruchy mogą skaleczyć.", "Even a small slip can cut, or push wax in.", id="2"
        ),
        pytest.param("TRAN03", "Ucho %s.", WIPE, id="a value without a name"),
        pytest.param("TRAN06", "Proszę wkładać przedmioty do uszu.", OBJECT, id="a negation dropped"),
        pytest.param("TRAN09", WIPE, WIPE, id="not translated"),
        pytest.param("TRAN12", "Ucho\u202e.", WIPE, id="a steering character"),
    ],
)
def test_words_that_say_another_thing_stop_the_leaflet_at_their_line(
    code: str, words: str, source: str, clinic: Path
) -> None:
    path = _write(clinic, HEADER + _message(words, source))
    (found,) = _stops(_checked(clinic), code)
    assert found.place == f"{path}:8"
    result = CliRunner().invoke(main, _commands(clinic)[0])
    assert result.exit_code == 1
    assert not (clinic.parent / "out").exists()


def test_a_changed_number_in_one_plural_form_stops_the_leaflet_at_its_line(clinic: Path) -> None:
    forms = ("do %(hours)s godziny.", "do 48 %(hours)s godzin.", "do %(hours)s godzin.")
    path = _write(clinic, HEADER + SORE + "".join(f'msgstr[{n}] "Ból {form}"\n' for n, form in enumerate(forms)))
    assert [one.place for one in _stops(_checked(clinic), "TRAN02")] == [f"{path}:8"]


def test_words_for_a_message_that_there_is_not_are_named(clinic: Path) -> None:
    _write(clinic, HEADER + _message("Proszę nic nie wkładać.", "Do not put any objekt in your ears."))
    result = CliRunner().invoke(main, _commands(clinic)[1])
    assert f"{CATALOGUE}:8" in result.output


# Files and folders


def test_a_folder_of_an_unknown_locale_is_refused_with_its_path(clinic: Path, read_problems: ReadProblems) -> None:
    name = "locales/qq/LC_MESSAGES/leaflets.po"
    _write(clinic, HEADER + _message("Ucho."), name)
    (problem,) = _refused(clinic, read_problems, _commands(clinic, "qq"))
    assert problem.startswith(f"clinic/{name}")


def test_a_folder_that_is_no_tag_is_refused_with_its_path(clinic: Path, read_problems: ReadProblems) -> None:
    name = "locales/a!b/LC_MESSAGES/leaflets.po"
    _write(clinic, HEADER + _message("Ucho."), name)
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{name}")


def test_a_language_without_a_catalogue_is_no_language(clinic: Path) -> None:
    _write(clinic, HEADER, "locales/fr/leaflets.po")
    for command in _commands(clinic, "fr")[:2]:
        result = CliRunner().invoke(main, command)
        assert result.exit_code == 2
        assert "'fr'" in result.stderr


def test_a_catalogue_that_is_a_folder_is_refused_with_its_path(clinic: Path, read_problems: ReadProblems) -> None:
    (clinic / CATALOGUE).mkdir(parents=True)
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem.startswith(f"clinic/{CATALOGUE}: cannot be read: Is a directory")


def test_a_language_whose_only_catalogue_is_a_header_stops_every_message(clinic: Path) -> None:
    _write(clinic, HEADER.replace("Language: pl", "Language: fr"), "locales/fr/LC_MESSAGES/leaflets.po")
    checked = _checked(clinic, "fr")
    assert checked.result.status == "stopped"
    coverage = checked.result.coverage
    assert coverage is not None
    assert coverage["missing"] == coverage["messages"]
    assert checked.evidence is not None
    used = {f"“{message.source}” is not in 'fr'" for message in checked.evidence.leaflet.messages}
    assert {finding.message for finding in _stops(checked, "TRAN01")} == used


@pytest.mark.parametrize("text", ["", " \n\n"], ids=["nothing", "spaces"])
@pytest.mark.parametrize("locale", ["pl", "fr"])
def test_an_empty_catalogue_is_refused(locale: str, text: str, clinic: Path, read_problems: ReadProblems) -> None:
    """Also over one of the project's, whose words would be used in its place."""
    name = CATALOGUE.replace("/pl/", f"/{locale}/")
    _write(clinic, text, name)
    (problem,) = _refused(clinic, read_problems, _commands(clinic, locale))
    assert problem.startswith(f"clinic/{name}: is not a .po file: it has no header")


# Glossaries

BAD_GLOSSARY = """[language]
name = "polski"
quotes = ["„"]
[words]
left = "lew*"
right = []
both = ["ob*"]
negation = ["nie", 3]
middle = ["środ*"]
[[term]]
source = "wax"
[[term]]
source = ""
translation = "kropla"
forms = ["kropl*"]
colour = "red"
"""


def test_a_glossary_with_wrong_parts_is_refused_with_each_part_and_its_line(
    clinic: Path, read_problems: ReadProblems
) -> None:
    _write(clinic, HEADER)
    _write(clinic, BAD_GLOSSARY, GLOSSARY)
    problems = _refused(clinic, read_problems, _commands(clinic)[:2])
    places = {match[1] for one in problems if (match := re.match(rf"clinic/{GLOSSARY}:(\d+ \[[^\]]+\]): ", one))}
    assert places >= {
        "3 [language.quotes]",
        "5 [words.left]",
        "6 [words.right]",
        "8 [words.negation]",
        "9 [words.middle]",
        "10 [term.0.translation]",
        "10 [term.0.forms]",
    }
    for key in ("language.register", "term.1.source", "term.1.colour"):
        assert any(f"[{key}]" in one for one in problems), key


def test_a_fault_of_a_later_term_is_named_at_its_own_line(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER)
    _write(clinic, BAD_GLOSSARY, GLOSSARY)
    problems = _refused(clinic, read_problems, _commands(clinic)[:2])
    for place in ("13 [term.1.source]", "16 [term.1.colour]"):
        assert any(one.startswith(f"clinic/{GLOSSARY}:{place}: ") for one in problems), place


def test_a_term_that_is_no_table_is_refused_with_its_line(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER)
    _write(clinic, 'term = ["wax"]\n' + GOOD_GLOSSARY, GLOSSARY)
    problems = _refused(clinic, read_problems, _commands(clinic)[:2])
    assert all(problem.startswith(f"clinic/{GLOSSARY}:1 [term.0]") for problem in problems)


def test_a_glossary_that_is_no_toml_is_refused_with_its_line(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER)
    _write(clinic, '[language]\nname = "polski"\n[words\n', GLOSSARY)
    (problem,) = _refused(clinic, read_problems, _commands(clinic)[:2])
    assert problem.startswith(f"clinic/{GLOSSARY}:3: is not TOML")


def test_a_glossary_in_another_charset_is_refused_with_its_path(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER)
    _write(clinic, BAD_GLOSSARY.encode("utf-16"), GLOSSARY)
    (problem,) = _refused(clinic, read_problems, _commands(clinic))
    assert problem == f"clinic/{GLOSSARY}:1: is not UTF-8 (save the file as UTF-8)"


GOOD_GLOSSARY = """[language]
name = "polski"
register = "polite"
quotes = ["„", "”"]
[words]
left = ["lew*"]
right = ["praw*"]
both = ["ob*"]
negation = ["nie"]
"""


@pytest.mark.parametrize(
    ("text", "line"),
    [
        pytest.param(GOOD_GLOSSARY + '[wrods]\nleft = ["lew*"]\n', 10, id="a part that is none"),
        pytest.param('term = "wax"\n' + GOOD_GLOSSARY, 1, id="terms that are no list"),
        pytest.param(GOOD_GLOSSARY.partition("[words]")[0], 1, id="no words at all"),
    ],
)
def test_a_glossary_with_a_part_that_is_none_is_refused_with_its_line(
    text: str, line: int, clinic: Path, read_problems: ReadProblems
) -> None:
    _write(clinic, HEADER)
    _write(clinic, text, GLOSSARY)
    problems = _refused(clinic, read_problems, _commands(clinic)[:2])
    assert all(problem.startswith(f"clinic/{GLOSSARY}:{line} [") for problem in problems)


def test_a_glossary_that_is_a_folder_is_refused(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, HEADER)
    (clinic / GLOSSARY).mkdir()
    (problem,) = _refused(clinic, read_problems, _commands(clinic)[:2])
    assert problem.startswith(f"clinic/{GLOSSARY}: ")


def test_a_bad_glossary_without_a_catalogue_is_refused(clinic: Path, read_problems: ReadProblems) -> None:
    _write(clinic, BAD_GLOSSARY, GLOSSARY)
    assert _refused(clinic, read_problems, _commands(clinic)[:2])
