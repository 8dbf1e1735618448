"""The messages of leaflets in every language: what is asked of a translator, what there is, and what a leaflet used.

The source language is British English: there a message is its own text. Composing records each message it uses, so
that coverage is a property of the leaflet and not of the catalogue.
"""

from leaflets.catalogue.message import SOURCE_LANGUAGE, MessageKey, SourceMessage, block_of_context, sign_off_hash
from leaflets.catalogue.recorder import MessageRecorder, coverage
from leaflets.catalogue.translations import (
    Catalogue,
    Translation,
    folder_name,
    locale_of_folder,
    parse_catalogue,
)

__all__ = [
    "SOURCE_LANGUAGE",
    "Catalogue",
    "MessageKey",
    "MessageRecorder",
    "SourceMessage",
    "Translation",
    "block_of_context",
    "coverage",
    "folder_name",
    "locale_of_folder",
    "parse_catalogue",
    "sign_off_hash",
]
