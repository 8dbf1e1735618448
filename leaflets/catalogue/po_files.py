"""Writing .po text through Babel: the template of all catalogues, and catalogues brought up to date with it.

The same messages give the same bytes: no date of writing stands in a file but the day of its last translation.
"""

import datetime
import io
from collections.abc import Iterable, Mapping, Sequence

from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

from leaflets import cldr
from leaflets.catalogue.message import MessageKey, SourceMessage
from leaflets.catalogue.translations import folder_name, key_of, read_catalog
from leaflets.errors import LeafletError, Problem

PROJECT = "leaflets"
VERSION = "1"
TEMPLATE_DAY = datetime.date(2026, 11, 25)
"""Stands in every file as the day of its template, so that making it again changes nothing."""

NOBODY = "nobody yet"
"""The translator of a catalogue that nobody has worked on."""

_HEADER = "# Words of leaflets in {name} ({locale}). Drafts, until a clinic signs them off; see DEVELOPERS.md, Words."


def template_text(messages: Iterable[SourceMessage]) -> str:
    """Return the text of the template of all catalogues, `leaflets.pot`."""
    return written(_template(messages), omit_header=True)


def new_catalogue_text(locale: str, messages: Iterable[SourceMessage], day: datetime.date) -> str:
    """Return the text of a catalogue without translations. `day`: of its making."""
    catalog = Catalog(locale=folder_name(locale), revision_date=midnight(day), last_translator=NOBODY)
    return _updated(catalog, locale, messages)


def updated_catalogue_text(text: str, place: str, locale: str, messages: Iterable[SourceMessage]) -> str:
    """Return a catalogue's text brought up to date with the templates.

    What was translated stays. A message whose source changed keeps its words, is marked stale (fuzzy) and shows the
    source that it had; one that is gone is kept at the end as obsolete.

    Raises:
        LeafletError: the text is no catalogue.

    """
    return _updated(read_catalog(text, place, locale), locale, messages)


def with_translations(
    text: str,
    place: str,
    locale: str,
    translations: Mapping[MessageKey, Sequence[str]],
    translator: str,
    day: datetime.date,
) -> str:
    """Return a catalogue's text with translations put in; each is then current, whatever it was before.

    Raises:
        LeafletError: the text is no catalogue, or lacks a message that is translated.

    """
    catalog = read_catalog(text, place, locale)
    unknown = []
    for key, forms in translations.items():
        message = catalog.get(key.source, key.context)
        if message is None or key_of(message) != key:
            unknown.append(key)
            continue
        message.string = tuple(forms) if key.plural is not None else forms[0]
        message.flags.discard("fuzzy")
        message.previous_id = []
    if unknown:
        raise LeafletError(
            Problem(
                place, f"has no message '{key.source}' in {key.context}", "run: leaflets words update, and try again"
            )
            for key in unknown
        )
    catalog.last_translator = translator
    catalog.revision_date = midnight(day)
    return with_plural_forms(written(catalog), locale)


def _updated(catalog: Catalog, locale: str, messages: Iterable[SourceMessage]) -> str:
    template = _template(messages)
    _bring_back(catalog, template)
    catalog.update(template)
    catalog.project = PROJECT
    catalog.version = VERSION
    catalog.fuzzy = False
    catalog.msgid_bugs_address = catalog.language_team = NOBODY
    catalog.creation_date = midnight(TEMPLATE_DAY)
    catalog.header_comment = _HEADER.format(name=cldr.own_name(locale), locale=locale)
    return with_plural_forms(written(catalog), locale)


def _bring_back(catalog: Catalog, template: Catalog) -> None:
    """Take what was obsolete and is asked for again back among the messages: Babel would ask for it anew."""
    for gone in tuple(catalog.obsolete.values()):
        if gone.id and gone.context is not None and template.get(key_of(gone).source, gone.context) is not None:
            back = catalog.add(gone.id, gone.string, flags=gone.flags, context=gone.context)
            del catalog.obsolete[(key_of(gone).source, gone.context)]
            assert back.context == gone.context


def with_plural_forms(text: str, locale: str) -> str:
    """Return .po text with the plural forms of the CLDR in its header, whatever it said."""
    lines = text.split("\n")
    for number, line in enumerate(lines):
        if line.startswith('"Plural-Forms:'):
            lines[number] = f'"Plural-Forms: {cldr.gettext_plural_forms(locale)}\\n"'
            break
    return "\n".join(lines)


def _template(messages: Iterable[SourceMessage]) -> Catalog:
    template = Catalog(project=PROJECT)
    for message in messages:
        key = message.key
        template.add(
            key.source if key.plural is None else (key.source, key.plural),
            locations=[_location(place) for place in message.places],
            auto_comments=[_told(message), *message.comments],
            context=key.context,
        )
    return template


def _told(message: SourceMessage) -> str:
    """Return what stands beside a message for its translator."""
    where = f"Block {message.key.context}, section {message.section}" if message.section else "Every leaflet"
    readers = f", for {' and '.join(message.readers)}" if message.readers else ""
    return f"{where}{readers}.{' Safety-critical.' if message.safety else ''}"


def _location(place: str) -> tuple[str, int]:
    path, _, line = place.rpartition(":")
    return path, int(line)


def written(catalog: Catalog, *, omit_header: bool = False) -> str:
    """Return a catalogue of Babel's as text, a message a line."""
    body = io.BytesIO()
    write_po(body, catalog, width=0, omit_header=omit_header, include_previous=True)
    return body.getvalue().decode()


def midnight(day: datetime.date) -> datetime.datetime:
    """Return the start of a day, as headers hold it."""
    return datetime.datetime.combine(day, datetime.time(), datetime.UTC)
