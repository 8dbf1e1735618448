"""Rules, numbers and words with something wrong in them: what a clinical lead or a writer might do by mistake."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from leaflets import content as content_module
from leaflets.compose.words import parse_words
from leaflets.content import RULES_FOLDER, missing_words, parse_rule_files, templates_folder
from leaflets.errors import Problem

Edited = Callable[..., str]
Refused = Callable[..., list[str]]
Texts = dict[str, str]


@pytest.fixture
def rules() -> Texts:
    return {f"leaflets/rules/{path.name}": path.read_text("utf-8") for path in sorted(RULES_FOLDER.glob("*.toml"))}


@pytest.fixture
def templates() -> Texts:
    folder = templates_folder()
    paths = [path for path in sorted(folder.rglob("*.*")) if path.suffix in (".html", ".svg")]
    return {path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in paths}


def _spoil(texts: Texts, name: str, old: str, new: str) -> int:
    """Change a text, and return the line, counted from 1, on which the change starts."""
    before, found, after = texts[name].partition(old)
    assert found, f"{old!r} does not stand in {name}"
    texts[name] = before + new + after
    return before.count("\n") + 1


def _lines(problems: list[Problem]) -> list[str]:
    return [str(problem) for problem in problems]


WAX = "leaflets/rules/wax.toml"
NUMBERS = "leaflets/rules/numbers.toml"

RULE = """
[made-up]
applies_to = "ear"
indications = [{ wax_after = ["partly-cleared"] }]
contraindications = [{ eardrum = ["perforated"] }]
blocks = ["wax/left-in"]
source = "invented"
reviewed = 2026-11-25
"""


def test_the_rules_as_they_stand_have_no_fault(rules: Texts, templates: Texts) -> None:
    rules[WAX] += RULE
    book, problems = parse_rule_files(rules)
    words, more = parse_words(templates)
    assert [*problems, *more, *missing_words(book.rules, words)] == []
    assert "wax/made-up" in book.rules


@pytest.mark.parametrize(
    ("old", "new", "key", "said", "remedy"),
    [
        ('source = "invented"', "", "made-up.source", "source is missing", "write source"),
        ('source = "invented"', 'source = "  "', "made-up.source", "source is missing", "write source"),
        ("reviewed = 2026-11-25", "", "made-up.reviewed", "reviewed is missing", "write reviewed"),
        ("reviewed = 2026-11-25", 'reviewed = "2026-11-25"', "made-up.reviewed", "not a date", "without quotes"),
        ('"ear"', '"eye"', "made-up.applies_to", "not one of its values", "allowed: ear, person"),
        ("eardrum =", "eardrums =", "made-up.contraindications", "'eardrums' is not a field", "mean 'eardrum'?"),
        ('"perforated"', '"perforation"', "made-up.contraindications", "not a value of eardrum", "mean 'perforated'?"),
        ('["perforated"]', '"perforated"', "made-up.contraindications", "wants a list", "allowed: "),
        ('["perforated"]', "[]", "made-up.contraindications", "wants a list", "allowed: "),
        ("contraindications =", "contraindication =", "made-up.contraindication", "not a key", "'contraindications'?"),
        ('[{ eardrum = ["perforated"] }]', "[{}]", "made-up.contraindications", "not a list of lines", "write"),
        ('indications = [{ wax_after = ["partly-cleared"] }]\n', "", "made-up.indications", "no indication", "always"),
        ('blocks = ["wax/left-in"]', "blocks = []", "made-up.blocks", "names no block", "write blocks"),
        ('["perforated"] }', '["perforated"], age_years = { max = "age.none" } }', "made-up.contraindications",
         "names no number of numbers.toml", "allowed: "),
        ('["perforated"] }', '["perforated"], age_years = { max = 4 } }', "made-up.contraindications",
         "names no number of numbers.toml", "allowed: "),
        ('["perforated"] }', '["perforated"], age_years = { up_to = "age.child-up-to" } }', "made-up.contraindications",
         "age_years is a number", "min"),
        ('["perforated"] }', '["perforated"], age_years = ["4"] }', "made-up.contraindications", "is a number", "min"),
        ('blocks = ["wax', 'urgency = "at once"\nblocks = ["wax', "made-up.urgency", "not one of its values", "now"),
        ('blocks = ["wax', 'urgency = "now"\nblocks = ["wax', "made-up.urgency", "never withheld", "leave out"),
        ('blocks = ["wax', 'decided_by = "drop"\nblocks = ["wax', "made-up.decided_by", "not a field", "did you mean"),
    ],
)  # fmt: skip
def test_a_rule_with_a_fault_is_told_with_its_line(
    old: str, new: str, key: str, said: str, remedy: str, rules: Texts
) -> None:
    start = rules[WAX].count("\n") + 1
    rules[WAX] += RULE
    _spoil(rules, WAX, RULE, RULE.replace(old, new, 1))
    book, problems = parse_rule_files(rules)
    (line,) = _lines(problems)
    place, _, rest = line.partition(": ")
    file, _, where = place.partition(":")
    assert file == WAX
    assert where.endswith(f"[{key}]")
    assert start < int(where.split(" ")[0]) <= rules[WAX].count("\n") + 1
    assert said in rest
    assert remedy in rest
    assert "wax/made-up" not in book.rules


def test_the_line_of_a_fault_is_its_own(rules: Texts) -> None:
    rules[WAX] += RULE.replace('"perforated"', '"perforation"')
    _, problems = parse_rule_files(rules)
    line = rules[WAX].splitlines().index('contraindications = [{ eardrum = ["perforation"] }]') + 1
    assert _lines(problems)[0].startswith(f"{WAX}:{line} [made-up.contraindications]: ")


def test_a_number_that_rules_use_but_nobody_wrote_is_told_by_every_rule(rules: Texts) -> None:
    used = "age.no-drops-up-to"
    _spoil(rules, NUMBERS, f"[{used}]", "[age.renamed]")
    _, problems = parse_rule_files(rules)
    users = sum(text.count(f'"{used}"') for text in rules.values())
    assert users > 0
    assert len([line for line in _lines(problems) if "names no number of numbers.toml" in line]) >= 1
    assert all("did you mean" in line or "allowed: " in line for line in _lines(problems))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("value = 3\n", "", "value is missing"),
        ("value = 3\n", 'value = "3"\n', "not a number"),
        ("value = 3\n", "value = 30\n", "out of its own bounds"),
        ("minimum = 1\n", "", "minimum is missing"),
        ('unit = "drops"\n', "", "unit is missing"),
        ("source = ", "sauce = ", "source is missing"),
        ("setting = true\n", 'setting = "yes"\n', "setting is not true or false"),
    ],
)
def test_a_number_with_a_fault_is_told_with_its_line(old: str, new: str, said: str, rules: Texts) -> None:
    _spoil(rules, NUMBERS, old, new)
    _, problems = parse_rule_files(rules)
    found = [line for line in _lines(problems) if said in line]
    assert len(found) == 1
    # The first number of the file: each of its lines stands among the first 25.
    assert found[0].startswith(f"{NUMBERS}:")
    assert int(found[0].split(":")[1].split(" ")[0]) < 25


def test_broken_files_of_rules_are_all_told(rules: Texts) -> None:
    rules[WAX] = "[softening-drops\n"
    rules["leaflets/rules/ears.toml"] = 'a = "b\n'
    _, problems = parse_rule_files(rules)
    assert {line.split(":")[0] for line in _lines(problems)} == {WAX, "leaflets/rules/ears.toml"}
    assert all("is not TOML" in line for line in _lines(problems))


def test_the_line_of_broken_toml_is_in_its_place(rules: Texts) -> None:
    rules[WAX] = "a = 1\n\n[softening-drops\n"
    _, problems = parse_rule_files(rules)
    assert _lines(problems)[0].startswith(f"{WAX}:3: is not TOML")


def test_faults_of_many_files_come_together(rules: Texts) -> None:
    _spoil(rules, WAX, 'source = "', 'sauce = "')
    _spoil(rules, "leaflets/rules/countries.toml", "emergency =", "emergancy =")
    _spoil(rules, "leaflets/rules/sources.toml", "printed =", "print =")
    _spoil(rules, NUMBERS, "value = 3\n", "")
    _, problems = parse_rule_files(rules)
    assert {Path(line.split(":")[0]).stem for line in _lines(problems)} >= {"wax", "countries", "sources", "numbers"}


# Words

BUDS = "blocks/ears/cotton-buds.html"
PLACE = f"templates/{BUDS}"


def test_a_broken_tag_is_told_with_its_line(templates: Texts) -> None:
    line = _spoil(templates, BUDS, "{% endblock %}", "{% endblok %}")
    other = _spoil(templates, "blocks/ears/hairpins.html", "{% block adult %}", "{% block adult }")
    _, problems = parse_words(templates)
    places = [text.split(": ")[0] for text in _lines(problems)]
    assert places == [f"{PLACE}:{line}", f"templates/blocks/ears/hairpins.html:{other}"]
    assert all("is not a template" in text for text in _lines(problems))


@pytest.mark.parametrize("name", ["layouts/leaflet.html", "macros/help.html", "macros/course.html"])
def test_a_broken_tag_of_a_layout_is_told(name: str, templates: Texts) -> None:
    _spoil(templates, name, "{% endmacro %}", "{% endmakro %}")
    _, problems = parse_words(templates)
    assert [text for text in _lines(problems) if text.startswith(f"templates/{name}:")]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('section = "', 'section = "x', "section is not one of its values"),
        ("priority = ", 'priority = "x" # ', "priority is missing or not a number"),
        ("source = ", "sauce = ", "source is missing"),
        ("reviewed = ", "revised = ", "reviewed is missing"),
        ("owner = ", "ower = ", "owner is missing"),
        ('section = "', 'section = x"', "is not TOML"),
        ("{#", "{# #}{#", "missing"),
    ],
)
def test_a_header_with_a_fault_is_told(old: str, new: str, said: str, templates: Texts) -> None:
    _spoil(templates, BUDS, old, new)
    words, problems = parse_words(templates)
    assert [text for text in _lines(problems) if text.startswith(PLACE) and said in text]
    assert "ears/cotton-buds" not in words.blocks


def test_a_template_without_a_header_is_told(templates: Texts) -> None:
    templates[BUDS] = templates[BUDS].split("#}", 1)[1]
    _, problems = parse_words(templates)
    assert _lines(problems)[0].startswith(f"{PLACE}:1: has no header (start with")


def test_a_reader_without_words_is_told_before_anyone_is_given_them(rules: Texts, templates: Texts) -> None:
    _spoil(templates, BUDS, "{% block carer %}", "{% block carrer %}")
    del templates["blocks/ears/hairpins.html"]
    book, _ = parse_rule_files(rules)
    words, _ = parse_words(templates)
    lines = _lines(missing_words(book.rules, words))
    assert [line for line in lines if line.startswith(PLACE) and "no words for the reader 'carer'" in line]
    assert [line for line in lines if "'ears/hairpins', which has no words" in line]
    assert len(lines) == 2


# All the way: a leaflet is refused, with the place of the fault.


@pytest.fixture
def spoilt(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str, str, str], None]]:
    """Return a function that changes a file of a copy of the rules or the templates, which leaflets are made of."""
    shutil.copytree(RULES_FOLDER, tmp_path / "copy" / "rules")
    shutil.copytree(templates_folder(), tmp_path / "copy" / "templates")
    monkeypatch.setattr(content_module, "RULES_FOLDER", tmp_path / "copy" / "rules")
    monkeypatch.setattr(content_module, "templates_folder", lambda: tmp_path / "copy" / "templates")
    content_module._load_content.cache_clear()  # noqa: SLF001 - content is read once a process

    def spoil(name: str, old: str, new: str) -> None:
        path = tmp_path / "copy" / name
        texts = {name: path.read_text("utf-8")}
        _spoil(texts, name, old, new)
        path.write_text(texts[name], "utf-8")

    yield spoil
    content_module._load_content.cache_clear()  # noqa: SLF001 - as above


@pytest.fixture
def refused_content(edited: Edited, tmp_path: Path) -> Callable[[], list[str]]:
    """Return a function that has the routine visit refused for what is wrong in rules or templates."""
    from click.testing import CliRunner  # noqa: PLC0415

    from leaflets.cli import main  # noqa: PLC0415

    def run() -> list[str]:
        (tmp_path / "visit.toml").write_text(edited(), "utf-8")
        result = CliRunner().invoke(main, ["make", str(tmp_path / "visit.toml"), "--out", str(tmp_path / "out")])
        assert not isinstance(result.exception, Exception) or isinstance(result.exception, SystemExit), result.exception
        assert result.exit_code == 2
        assert not (tmp_path / "out").exists()
        return result.stderr.splitlines()

    return run


def test_a_rule_without_a_source_stops_every_leaflet(
    spoilt: Callable[[str, str, str], None], refused_content: Callable[[], list[str]]
) -> None:
    spoilt("rules/wax.toml", 'source = "', 'sauce = "')
    spoilt("rules/numbers.toml", "[age.no-drops-up-to]", "[age.renamed]")
    spoilt("templates/blocks/ears/hairpins.html", "{% endblock %}", "{% endblok %}")
    lines = refused_content()
    for place in (WAX, NUMBERS[:15], "templates/blocks/ears/hairpins.html:"):
        assert [line for line in lines if line.startswith(place)], place


@pytest.mark.parametrize(
    ("new", "said"),
    [
        ("<p>One<p>Two", "well-formed"),
        ("<p>One</p></div>", "well-formed"),
        ("<p>Ears & drops</p>", "well-formed"),
        ("<p>One<br></p>", "well-formed"),
        ("<p>{{ nobody_wrote_this }}</p>", "nobody_wrote_this"),
        ('<p>{{ number("no.such") }}</p>', "no.such"),
        ('{% from "macros/none.html" import row %}', "macros/none.html"),
        ('<p>{{ figure("none", "left", "x") }}</p>', "none"),
        ("<p>{% trans %}Wait {{ days }} days.{% endtrans %}</p>", "days"),
        ('<p>{{ by_ear("a", "b", "c") }}</p>', "ear"),
        ('<p>{{ _("50 % of it") }}</p>', "%"),
    ],
)
def test_a_template_that_cannot_become_a_page_is_told_by_its_name(
    new: str, said: str, spoilt: Callable[[str, str, str], None], refused_content: Callable[[], list[str]]
) -> None:
    spoilt(f"templates/{BUDS}", "{% block adult %}", "{% block adult %}" + new)
    lines = refused_content()
    assert [line for line in lines if line.startswith(PLACE) and said in line], lines


def test_every_template_that_is_not_well_formed_is_told_at_once(
    spoilt: Callable[[str, str, str], None], refused_content: Callable[[], list[str]]
) -> None:
    spoilt(f"templates/{BUDS}", "{% block adult %}", "{% block adult %}<p>One<p>Two")
    spoilt("templates/blocks/ears/nothing-inside.html", "{% block adult %}", "{% block adult %}<p>One<p>Two")
    assert len(refused_content()) == 2


def test_an_outside_address_in_a_template_is_never_fetched(
    spoilt: Callable[[str, str, str], None], refused_content: Callable[[], list[str]]
) -> None:
    picture = '<p><img src="http://192.0.2.1/x.png" alt="x"/></p>'  # an address that no machine has: RFC 5737
    spoilt(f"templates/{BUDS}", "{% block adult %}", "{% block adult %}" + picture)
    assert [line for line in refused_content() if "http://192.0.2.1/x.png" in line]
