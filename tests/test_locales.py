"""The template of all catalogues and the catalogues that are shipped: current, whole, and drafts."""

# ruff: noqa: RUF001 - quotation marks of other languages are what is compared

import datetime
import re
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from leaflets import cldr, demo
from leaflets.catalogue import Catalogue, MessageKey, MessageRecorder, SourceMessage, parse_catalogue
from leaflets.catalogue.back_translation import parse_back_translation
from leaflets.catalogue.extraction import Template, extract_messages
from leaflets.catalogue.po_files import new_catalogue_text, template_text, updated_catalogue_text, with_translations
from leaflets.compose.messages import source_messages
from leaflets.content import Content
from leaflets.errors import LeafletError
from leaflets.locale_files import locale_in, locales_in
from leaflets.render.fonts import missing_characters
from leaflets.translation_checks import Pair, check_translation, same_words
from leaflets.translation_checks.glossary import FEWEST_TERMS

TOP = Path(__file__).parents[1]
LOCALES = TOP / "locales"
VISITS = [*sorted((Path(demo.__file__).parent / "visits").glob("*.toml")), TOP / "tests" / "visits" / "routine.toml"]
SHIPPED = [files.locale for files in locales_in(LOCALES)]
DAY = datetime.date(2026, 11, 25)


@pytest.fixture(scope="module")
def messages(content: Content) -> tuple[SourceMessage, ...]:
    return source_messages(content.words)


def test_the_template_of_catalogues_is_what_the_templates_hold_now(messages: tuple[SourceMessage, ...]) -> None:
    assert (LOCALES / "leaflets.pot").read_text("utf-8") == template_text(messages), "run: make words"


def test_every_message_that_leaflets_use_is_among_those_to_translate(
    messages: tuple[SourceMessage, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    from leaflets.pipeline import make  # noqa: PLC0415

    used: set[tuple[str, str | None]] = set()

    class _Listener(MessageRecorder):
        def _given(self, source: str, plural: str | None, count: float | None, block: str) -> str:
            used.add((source, plural))
            return super()._given(source, plural, count, block)

    monkeypatch.setattr("leaflets.compose.leaflet.MessageRecorder", _Listener)
    for visit in VISITS:
        make(visit)
    assert len(used) > 100
    assert used - {message.key[1:] for message in messages} == set()


def test_a_message_is_whole_and_holds_no_markup_but_strong(messages: tuple[SourceMessage, ...]) -> None:
    for message in messages:
        for text in filter(None, message.key[1:]):
            assert text == text.strip(), message.places
            assert "\n" not in text, message.places
            assert set(re.findall(r"</?([a-z0-9]+)", text)) <= {"strong"}, message.places
            # A lone per cent sign would be taken for the start of a name.
            assert not re.search(r"%(?!\(\w+\)[sd]|%)", text), message.places


def test_both_forms_of_a_counted_message_name_the_same_values(messages: tuple[SourceMessage, ...]) -> None:
    """The form for one may say "once" and leave the count out; it brings nothing in that the other has not."""
    for message in messages:
        if message.key.plural is not None:
            one, many = (set(re.findall(r"%\((\w+)\)", text)) for text in (message.key.source, message.key.plural))
            assert one <= many, message.places
            assert len(many - one) <= 1, message.places


def test_a_message_says_where_it_stands_for_whom_and_whether_it_is_critical() -> None:
    text = """{% block adult_main %}{{ _("Keep it dry.") }}{% endblock %}
{% block adult %}
{# Translators: drops is a number. #}
{% trans drops=3 %}Put {{ drops }} drop in.{% pluralize drops %}Put {{ drops }} drops in.{% endtrans %}
{% endblock %}
{% block child_5_7 %}{{ by_ear(N_("Left ear"), N_("Right ear"), N_("Both")) }}{{ _("Keep it dry.") }}{% endblock %}
"""
    found = extract_messages(Template("drops/course", "templates/blocks/drops/course.html", text, "now", safety=True))
    by_key = {message.key[:2]: message for message in found}
    # A child is addressed otherwise in many languages: what is said to children is a message of its own.
    assert set(by_key) == {
        ("drops/course", "Keep it dry."),
        ("drops/course", "Put %(drops)s drop in."),
        *(("drops/course (child)", source) for source in ("Left ear", "Right ear", "Both", "Keep it dry.")),
    }
    drops = by_key["drops/course", "Put %(drops)s drop in."]
    dry, to_a_child = by_key["drops/course", "Keep it dry."], by_key["drops/course (child)", "Keep it dry."]
    assert (dry.readers, dry.places) == (("adult",), ("templates/blocks/drops/course.html:1",))
    assert (to_a_child.readers, to_a_child.places) == (("child-5-7",), ("templates/blocks/drops/course.html:6",))
    assert drops.key == ("drops/course", "Put %(drops)s drop in.", "Put %(drops)s drops in.")
    assert drops.comments == ("drops is a number.",)
    written = template_text(found)
    assert "#. Block drops/course, section now, for adult. Safety-critical." in written
    assert "#. Block drops/course (child), section now, for child-5-7. Safety-critical." in written
    assert 'msgctxt "drops/course"' in written


# Bringing a catalogue up to date


def _message(source: str, plural: str | None = None, context: str = "ears/wax") -> SourceMessage:
    return SourceMessage(MessageKey(context, source, plural), ("templates/x.html:1",), ("adult",), "care", True, ())


def _catalogue(text: str, locale: str = "pl") -> Catalogue:
    return parse_catalogue(text, "leaflets.po", locale)


OLD = _message("Keep your ear dry for a while.")
TRANSLATED = with_translations(
    new_catalogue_text("pl", [OLD, _message("Rest.")], DAY), "leaflets.po", "pl", {OLD.key: ["Sucho."]}, "Anna B", DAY
)


def test_a_message_whose_source_changed_is_stale_and_keeps_its_words() -> None:
    changed = _message("Keep your ear dry for a long while.")
    after = _catalogue(updated_catalogue_text(TRANSLATED, "leaflets.po", "pl", [changed, _message("Rest.")]))
    assert after.translations[changed.key].stale
    assert after.translations[changed.key].forms == ("Sucho.",)
    assert not after.translations[_message("Rest.").key].is_whole


def test_a_message_that_is_gone_is_kept_as_obsolete_and_comes_back() -> None:
    without = updated_catalogue_text(TRANSLATED, "leaflets.po", "pl", [_message("Something else altogether.")])
    assert '#~ msgid "Keep your ear dry for a while."' in without
    assert OLD.key not in _catalogue(without).translations
    again = _catalogue(updated_catalogue_text(without, "leaflets.po", "pl", [OLD]))
    assert again.translations[OLD.key].forms == ("Sucho.",)


def test_bringing_up_to_date_twice_changes_nothing() -> None:
    once = updated_catalogue_text(TRANSLATED, "leaflets.po", "pl", [OLD])
    assert updated_catalogue_text(once, "leaflets.po", "pl", [OLD]) == once


def test_a_translation_of_no_message_is_refused() -> None:
    with pytest.raises(LeafletError, match="has no message"):
        with_translations(TRANSLATED, "leaflets.po", "pl", {_message("Other.").key: ["Inne."]}, "Anna B", DAY)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('msgid "a"\nmsgstr "b"\nmsgstrr "c"\n', "leaflets.po:3"),
        ("no catalogue at all", "leaflets.po:1"),
    ],
)
def test_a_broken_catalogue_is_an_error_with_its_line(text: str, line: str) -> None:
    with pytest.raises(LeafletError) as refused:
        _catalogue(text)
    assert refused.value.problems[0].place.startswith(line)


# Plural forms. Source: Unicode CLDR plural rules, as Babel carries them; by hand for a few numbers.


@pytest.mark.parametrize(
    ("locale", "count", "form"),
    [
        ("pl", 1, "one"),
        ("pl", 3, "few"),
        ("pl", 12, "many"),
        ("pl", 22, "few"),
        ("ar", 0, "zero"),
        ("ar", 2, "two"),
        ("ar", 5, "few"),
        ("ar", 45, "many"),
        ("ar", 100, "other"),
        ("cy", 2, "two"),
        ("cy", 3, "few"),
        ("cy", 6, "many"),
        ("cy", 4, "other"),
        ("ro", 19, "few"),
        ("ro", 20, "other"),
        ("bn", 0, "one"),
        ("es", 2, "other"),
    ],
)
def test_a_count_takes_the_form_that_the_language_has_for_it(locale: str, count: int, form: str) -> None:
    assert cldr.plural_forms(locale)[cldr.plural_form(count, locale)] == form


@pytest.mark.parametrize("locale", SHIPPED)
def test_the_header_of_a_catalogue_chooses_the_same_form_as_the_cldr(locale: str) -> None:
    """Other programs read the header: its C expression, worked out by Babel's own reader, agrees with the CLDR."""
    header = cldr.gettext_plural_forms(locale)
    expression = re.search(r"plural=(.+);", header)
    assert expression
    python = _as_python(expression[1])
    for count in range(200):
        assert eval(python, {"n": count}) == cldr.plural_form(count, locale), count  # noqa: S307 - our own expression


def _as_python(expression: str) -> str:
    """Turn C's `a ? b : c` chains, `&&`, `||` and `!` into Python."""
    text = expression.replace("&&", " and ").replace("||", " or ").replace("!(", " not (")

    def convert(part: str) -> str:
        depth = 0
        for place, letter in enumerate(part):
            depth += (letter == "(") - (letter == ")")
            if letter == "?" and depth == 0:
                rest, inner = part[place + 1 :], 0
                for second, mark in enumerate(rest):
                    inner += (mark == "(") - (mark == ")")
                    if mark == ":" and inner == 0:
                        return f"(({rest[:second]}) if ({part[:place]}) else {convert(rest[second + 1 :])})"
        return part.strip()

    while text.startswith("(") and text.endswith(")") and "?" in text:
        text = text[1:-1]
    return convert(text)


# What is shipped


def _pairs(content: Content, locale: str, messages: tuple[SourceMessage, ...]) -> list[Pair]:
    catalogue, glossary = content.catalogue(locale), content.glossary(locale)
    assert catalogue is not None
    translated = ((message, catalogue.translations.get(message.key)) for message in messages)
    return [Pair(message, one, locale, glossary, missing_characters) for message, one in translated if one is not None]


@pytest.mark.parametrize("locale", SHIPPED)
def test_a_catalogue_that_is_shipped_is_whole_and_current(
    content: Content, messages: tuple[SourceMessage, ...], locale: str
) -> None:
    pairs = _pairs(content, locale, messages)
    assert len(pairs) == len(messages), "run: make words"
    assert [pair.message.key for pair in pairs if pair.translation.stale or not pair.translation.is_whole] == []


@pytest.mark.parametrize("locale", SHIPPED)
def test_nothing_is_found_in_a_catalogue_that_is_shipped(
    content: Content, messages: tuple[SourceMessage, ...], locale: str
) -> None:
    pairs = _pairs(content, locale, messages)
    assert [finding for pair in pairs for finding in check_translation(pair)] == []
    assert list(same_words.find(pairs)) == []


@pytest.mark.parametrize("locale", [locale for locale in SHIPPED if locale != "en-US"])
def test_a_glossary_that_is_shipped_has_enough_terms_each_once(content: Content, locale: str) -> None:
    glossary = content.glossary(locale)
    assert glossary is not None
    sources = [term.source.lower() for term in glossary.terms]
    assert len(sources) == len(set(sources))
    assert len(sources) >= FEWEST_TERMS


@pytest.mark.parametrize("locale", SHIPPED)
def test_the_quotation_marks_of_a_glossary_are_those_of_the_cldr(content: Content, locale: str) -> None:
    """Source: Unicode CLDR 48, delimiters, from memory, as Babel does not carry them; both pairs of a language."""
    known = {
        "ar": {"”“", "“”", "«»"},
        "bn": {"“”", "‘’"},
        "cy": {"‘’", "“”"},
        "en-US": {"“”"},
        "es": {"«»", "“”"},
        "pa": {"“”", "‘’"},
        "pl": {"„”"},
        "ro": {"„”"},
        "ur": {"”“", "“”"},
    }
    glossary = content.glossary(locale)
    if glossary is not None:
        assert "".join(glossary.quotes) in known[locale]


@pytest.mark.parametrize("locale", SHIPPED)
def test_what_is_shipped_is_a_draft(locale: str) -> None:
    with (LOCALES / locale.replace("-", "_") / "LC_MESSAGES" / "leaflets.po").open("rb") as file:
        catalog = read_po(file)
    assert catalog.last_translator == "the project: a draft that nobody has reviewed"


@pytest.mark.parametrize("locale", [locale for locale in SHIPPED if locale != "en-US"])
def test_a_back_translation_covers_every_message_in_its_present_words(
    content: Content, messages: tuple[SourceMessage, ...], locale: str
) -> None:
    path = locale_in(LOCALES, locale).back_translation
    back = parse_back_translation(path.read_text("utf-8"), str(path))
    words = {
        (pair.message.key.context, form)
        for pair in _pairs(content, locale, messages)
        for form in pair.translation.forms
    }
    assert sorted(words - back.keys()) == []
    assert all(back[one].strip() for one in words)


@pytest.mark.parametrize(("examples", "found"), [(same_words.GOOD, 0), (same_words.BAD, 1)])
def test_two_messages_that_say_the_same_are_found(examples: tuple[tuple, ...], found: int) -> None:  # type: ignore[type-arg]
    for example in examples:
        assert len(list(same_words.find(one.pair() for one in example))) == found
