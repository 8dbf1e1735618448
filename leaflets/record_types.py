"""Types of fields that more than one record has, and the way a record says that two fields cannot both hold."""

import datetime
import re
import unicodedata
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, Field
from pydantic_core import PydanticCustomError

_TURNS_TEXT_ROUND = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")  # Unicode, annex 9
_NOT_PRINTED = frozenset({"Cc", "Cs", "Co", "Cn", "Zl", "Zp"})  # Unicode's general categories
_FIRST_DAY = datetime.date(2000, 1, 1)
_LAST_DAY = datetime.date(2099, 12, 31)


def contradiction(message: str, hint: str, field: str = "") -> PydanticCustomError:
    """Make the error of a value that cannot hold; `field`: the one to look at first, below the place of the error."""
    return PydanticCustomError("contradiction", "{message}", {"message": message, "hint": hint, "field": field})


def _readable(line: str) -> str:
    """Refuse a line that says nothing, or holds what no page can show."""
    if not line.strip():
        raise contradiction("says nothing", "write it")
    if any(unicodedata.category(letter) in _NOT_PRINTED or letter in _TURNS_TEXT_ROUND for letter in line):
        raise contradiction("holds a character that cannot be printed", "write one line of plain text")
    return line


def _written_as_a_day(value: object) -> object:
    """Refuse what a date could also be read from, such as a count of seconds."""
    if isinstance(value, datetime.datetime):
        raise contradiction("is not a day", "write the day alone, without a time, as 2026-11-25")
    if not isinstance(value, str | datetime.date):
        raise contradiction("is not a day", "write a day that exists, as 2026-11-25")
    if isinstance(value, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", value) is None:
        raise contradiction("is not a day", "write a day that exists, as 2026-11-25")
    return value


def _of_this_century(day: datetime.date) -> datetime.date:
    if not _FIRST_DAY <= day <= _LAST_DAY:
        raise contradiction(f"is not between {_FIRST_DAY.isoformat()} and {_LAST_DAY.isoformat()}", "correct the year")
    return day


Line = Annotated[str, Field(max_length=200), AfterValidator(_readable)]
"""One line of plain text that can be printed, and is not blank."""

Day = Annotated[datetime.date, BeforeValidator(_written_as_a_day), AfterValidator(_of_this_century)]
"""A day of this century, written as one."""
