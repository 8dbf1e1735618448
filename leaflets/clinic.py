"""A clinic's folder: who it is, when it is open, its own values for numbers that a clinic may set."""

import datetime
import re
import unicodedata
import zlib
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal, Self
from xml.etree import ElementTree as ET

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, field_validator, model_validator
from pydantic_core import PydanticCustomError

from leaflets.compose.values import ClinicDetails
from leaflets.errors import LeafletError
from leaflets.positions import line_of
from leaflets.records import FieldFault, load_record
from leaflets.rules.countries import Country

FILE_NAME = "clinic.toml"
DEMO_FOLDER = Path(__file__).parent / "demo" / "clinic"
"""The invented clinic of the demonstration. Leaflets that show it are marked as examples."""

_NEW_CLINIC = Path(__file__).parent / "demo" / "new-clinic.toml"
_LEAST_CONTRAST = 4.5  # WCAG 2.2, success criterion 1.4.3
_LOGO_LARGEST_BYTES = 500_000
_LOGO_TYPES = {".svg": "image/svg+xml", ".png": "image/png"}
_LOGO_SHAPES = frozenset(
    {"svg", "g", "path", "circle", "ellipse", "rect", "line", "polyline", "polygon", "title", "desc", "defs"}
)
_SVG = "{http://www.w3.org/2000/svg}"
_PNG_START = b"\x89PNG\r\n\x1a\n"
_TURNS_TEXT_ROUND = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")  # Unicode, annex 9

WeekdayName = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
_WEEKDAYS: tuple[WeekdayName, ...] = (
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
)


def _fault(message: str, hint: str, field: str = "") -> PydanticCustomError:
    return PydanticCustomError("contradiction", "{message}", {"message": message, "hint": hint, "field": field})


def _readable(line: str) -> str:
    """Refuse a line that says nothing, or holds what no page can show."""
    if not line.strip():
        raise _fault("says nothing", "write it")
    if any(unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") or letter in _TURNS_TEXT_ROUND for letter in line):
        raise _fault("holds a character that cannot be printed", "write one line of plain text")
    return line


def _written_as_a_day(value: object) -> object:
    """Refuse what a date could also be read from, such as a count of seconds."""
    if isinstance(value, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", value) is None:
        raise _fault("is not a day", "write a day that exists, as 2026-12-24")
    return value


_Line = Annotated[str, Field(max_length=200), AfterValidator(_readable)]
_Day = Annotated[datetime.date, BeforeValidator(_written_as_a_day)]


class ClinicFile(BaseModel):
    """clinic.toml, field by field; the comments of the file that `leaflets new-clinic` writes explain each."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: _Line
    country: Annotated[str, Field(pattern=r"^[A-Z]{2}$", description="write two capitals, as GB: ISO 3166")]
    subdivision: str | None = None
    language: str
    paper: str
    accent: Annotated[str, Field(pattern=r"^#[0-9a-fA-F]{6}$", description="write a colour, as #24504a")]
    phone: Annotated[
        str, Field(pattern=r"^\+?[0-9][0-9 ()-]{1,24}$", description="write a telephone number, as 01632 960 123")
    ]
    hours: Annotated[tuple[_Line, ...], Field(min_length=1)]
    out_of_hours: _Line
    advice_line: Annotated[
        str,
        Field(
            pattern=r"^(national|none|\+?[0-9][0-9 ()-]{1,24})$",
            description="write 'national', 'none', or a telephone number",
        ),
    ] = "national"
    open_days: Annotated[tuple[WeekdayName, ...], Field(min_length=1)]
    public_holidays: Annotated[bool, Field(strict=True)]
    address: tuple[_Line, ...] = ()
    logo: str | None = None
    closed: Mapping[_Day, _Line] = {}
    numbers: Mapping[str, Any] = {}

    @field_validator("accent")
    @classmethod
    def _dark_enough(cls, colour: str) -> str:
        contrast = contrast_with_white(colour)
        if contrast < _LEAST_CONTRAST:
            message = f"{colour} has a contrast of {contrast:.1f} to 1 on white, too little to read"
            raise _fault(message, f"take a darker colour: {_LEAST_CONTRAST} to 1 at least")
        return colour

    @model_validator(mode="after")
    def _known_holidays(self) -> Self:
        if self.public_holidays and not _has_public_holidays(self.country, self.subdivision):
            field = "subdivision" if _has_public_holidays(self.country, None) else "country"
            raise _fault(
                f"there are no public holidays on record for this {field}",
                f"correct {field}, or set public_holidays = false and list [closed] days",
                field,
            )
        return self


def _has_public_holidays(country: str, subdivision: str | None) -> bool:
    try:
        public_holidays(country, subdivision, 2026)
    except NotImplementedError:
        return False
    return True


def contrast_with_white(colour: str) -> float:
    """Return the contrast ratio of a colour, `#rrggbb`, with white (WCAG 2.2, relative luminance).

    >>> round(contrast_with_white("#000000"), 1), round(contrast_with_white("#777777"), 2)
    (21.0, 4.48)

    """
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return 1.05 / (luminance + 0.05)


@cache
def public_holidays(country: str, subdivision: str | None, year: int) -> Mapping[datetime.date, str]:
    """Return the public holidays of a year.

    Raises:
        NotImplementedError: the country or the subdivision is not known.

    """
    import holidays  # noqa: PLC0415 - slow to import, and only a review date needs it

    return dict(holidays.country_holidays(country, subdiv=subdivision, years=year, language="en_GB"))


class Clinic:
    """A clinic's folder, read."""

    def __init__(self, folder: Path, file: ClinicFile, logo: tuple[bytes, str] | None, *, invented: bool) -> None:
        self.folder = folder
        self.file = file
        self.logo = logo
        self.invented = invented

    def place(self, key: str) -> str:
        """Return where a key stands in the clinic's file, for a message."""
        return _place(self.folder, key)

    def details(self, logo_url: str | None) -> ClinicDetails:
        """Return what a leaflet prints of the clinic."""
        return ClinicDetails(
            name=self.file.name,
            country=self.file.country,
            phone=self.file.phone,
            hours=self.file.hours,
            out_of_hours=self.file.out_of_hours,
            address=self.file.address,
            logo_url=logo_url,
            invented=self.invented,
        )

    def care_in(self, country: Country) -> Country:
        """Return a country of care with the advice line that this clinic's patients can call from there."""
        if country.code != self.file.country or self.file.advice_line == "national":
            return country
        return replace(country, advice=None if self.file.advice_line == "none" else self.file.advice_line)

    def closed_because(self, day: datetime.date) -> str | None:
        """Return why the clinic is closed on a day; None: it is open."""
        if day in self.file.closed:
            return self.file.closed[day]
        weekday = _WEEKDAYS[day.weekday()]
        if weekday not in self.file.open_days:
            return f"not open on a {weekday.capitalize()}"
        if self.file.public_holidays:
            return public_holidays(self.file.country, self.file.subdivision, day.year).get(day)
        return None


def load_clinic(folder: Path, *, invented: bool = False) -> Clinic:
    """Read a clinic's folder.

    Raises:
        LeafletError: with everything that is wrong in it.

    """
    path = folder / FILE_NAME
    if not path.is_file():
        raise LeafletError.at(str(path), "does not exist", f"make a clinic's folder with: leaflets new-clinic {folder}")

    def logo_faults(data: Mapping[str, Any]) -> list[FieldFault]:
        logo = data.get("logo")
        try:
            _load_logo(folder, logo if isinstance(logo, str) else None)
        except LeafletError as error:
            return [(("logo",), problem.message, problem.hint) for problem in error.problems]
        return []

    file = load_record(path, ClinicFile, more_faults=logo_faults)
    return Clinic(folder, file, _load_logo(folder, file.logo), invented=invented)


def _place(folder: Path, key: str) -> str:
    path = folder / FILE_NAME
    line = line_of(path.read_text("utf-8"), (key,))
    return f"{path}:{line} [{key}]" if line else f"{path} [{key}]"


def _load_logo(folder: Path, name: str | None) -> tuple[bytes, str] | None:
    """Return the logo's bytes and media type. Only a picture that holds nothing but a picture is taken."""
    if name is None:
        return None
    place = _place(folder, "logo")
    path = folder / name
    media_type = _LOGO_TYPES.get(path.suffix.lower())
    if media_type is None or path.resolve().parent != folder.resolve():
        raise LeafletError.at(place, "is not an SVG or PNG file of the clinic's folder", "name a file that lies in it")
    try:
        with path.open("rb") as file:
            body = file.read(_LOGO_LARGEST_BYTES + 1)
    except OSError as error:
        raise LeafletError.at(place, f"cannot be read: {error.strerror}", "put the file into the folder") from None
    if len(body) > _LOGO_LARGEST_BYTES:
        raise LeafletError.at(place, "is too large", f"take a picture of {_LOGO_LARGEST_BYTES} bytes at most")
    if media_type == "image/png" and not _is_whole_png(body):
        raise LeafletError.at(place, "is not a PNG picture, or is cut off", "save it as PNG again")
    if media_type == "image/svg+xml" and (fault := _svg_fault(body)):
        raise LeafletError.at(place, f"holds {fault}", "take a plain SVG picture, or a PNG")
    return body, media_type


def _is_whole_png(body: bytes) -> bool:
    """Return whether every part of a PNG picture is there and undamaged (ISO/IEC 15948, 5.3)."""
    if not body.startswith(_PNG_START):
        return False
    kinds = []
    position = len(_PNG_START)
    while position + 12 <= len(body):
        end = position + 8 + int.from_bytes(body[position : position + 4])
        if zlib.crc32(body[position + 4 : end]) != int.from_bytes(body[end : end + 4]):
            return False
        kinds.append(body[position + 4 : position + 8])
        position = end + 4
    return position == len(body) and kinds[:1] == [b"IHDR"] and b"IDAT" in kinds and kinds[-1:] == [b"IEND"]


_SVG_OTHER_WORLDS = re.compile(r"<!DOCTYPE|<!ENTITY|<\?xml-|encoding\s*=\s*[\"'](?!utf-8)|url\s*\(", re.IGNORECASE)


def _svg_fault(body: bytes) -> str | None:
    """Return what an SVG logo holds besides shapes; None: it is only shapes."""
    try:
        text = body.decode("utf-8-sig")
        if found := _SVG_OTHER_WORLDS.search(text):
            return f"'{found[0]}', which is more than shapes"
        root = ET.fromstring(text)  # noqa: S314 - it declares no entities: refused above
    except (UnicodeDecodeError, ET.ParseError):
        return "no well-formed SVG picture in UTF-8"
    if root.tag != f"{_SVG}svg":
        return "no SVG picture"
    for element in root.iter():
        name = element.tag.removeprefix(_SVG)
        if name not in _LOGO_SHAPES:
            return f"<{name[:40]}>, which is more than shapes"
        for attribute in element.attrib:
            if attribute.lower().startswith("on") or attribute.lower().endswith("href"):
                return f"{attribute[-40:]}=, which is more than shapes"
    return None


def write_new_clinic(folder: Path) -> Path:
    """Write a clinic's folder to fill in, and return the path of its clinic.toml.

    Raises:
        LeafletError: there is one already, or the folder cannot be written to.

    """
    path = folder / FILE_NAME
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(_NEW_CLINIC.read_text("utf-8"))
    except FileExistsError:
        raise LeafletError.at(str(path), "is there already, and nothing was changed", "name another folder") from None
    except OSError as error:
        raise LeafletError.at(str(folder), f"cannot be written: {error.strerror}", "name another folder") from None
    return path
