"""What a translation says, put back into English by somebody who had not seen the source: for those who review it.

A .po file of its own, the other way round: its messages are the translations, so that the words that stand beside a
translation are always of that very translation. Change the translation, and there is none.
"""

import datetime
from collections.abc import Mapping

from babel.messages.catalog import Catalog

from leaflets.catalogue.po_files import PROJECT, VERSION, midnight, written
from leaflets.catalogue.translations import read_catalog

_HEADER = "# What the words in '{locale}' say, literally, in English. Made for reviewers; no leaflet prints it."


def parse_back_translation(text: str, place: str) -> Mapping[tuple[str, str], str]:
    """Return the English of each translation, by its context and words.

    Raises:
        LeafletError: the text is no .po text.

    """
    catalog = read_catalog(text, place, "en")
    return {
        (message.context or "", str(message.id)): str(message.string)
        for message in catalog
        if message.id and message.string
    }


def back_translation_text(locale: str, back: Mapping[tuple[str, str], str], day: datetime.date) -> str:
    """Return the text of a file with the English of translations, by context and words. `day`: of its making."""
    catalog = Catalog(locale="en", project=PROJECT, version=VERSION, revision_date=midnight(day), fuzzy=False)
    catalog.creation_date = midnight(day)
    catalog.msgid_bugs_address = catalog.language_team = catalog.last_translator = "nobody named"
    catalog.header_comment = _HEADER.format(locale=locale)
    for (context, words), english in back.items():
        catalog.add(words, english, context=context)
    return written(catalog)
