"""A clinic's folder: who it is, when it is open, its own values for numbers that a clinic may set."""

import datetime
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, field_validator, model_validator
from pydantic_core import PydanticCustomError

from leaflets.compose.values import ClinicDetails
from leaflets.errors import LeafletError
from leaflets.records import load_record

FILE_NAME = "clinic.toml"
DEMO_FOLDER = Path(__file__).parent / "demo" / "clinic"
"""The invented clinic of the demonstration. Leaflets that show it are marked as examples."""

_NEW_CLINIC = Path(__file__).parent / "demo" / "new-clinic.toml"
_LEAST_CONTRAST = 4.5  # WCAG 2.2, success criterion 1.4.3
_LOGO_LARGEST_BYTES = 500_000
_LOGO_TYPES = {".svg": "image/svg+xml", ".png": "image/png"}

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
_Line = Annotated[str, Field(min_length=1, max_length=200)]
_Phone = Annotated[str, Field(pattern=r"^\+?[0-9][0-9 ()-]{1,24}$")]


class ClinicFile(BaseModel):
    """clinic.toml, field by field; the comments of the file that `leaflets new-clinic` writes explain each."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: _Line
    country: Annotated[str, Field(pattern=r"^[A-Z]{2}$")]
    subdivision: str | None = None
    language: str
    paper: str
    accent: Annotated[str, Field(pattern=r"^#[0-9a-fA-F]{6}$")]
    phone: _Phone
    hours: Annotated[tuple[_Line, ...], Field(min_length=1)]
    out_of_hours: _Line
    open_days: Annotated[tuple[WeekdayName, ...], Field(min_length=1)]
    public_holidays: bool
    address: tuple[_Line, ...] = ()
    logo: str | None = None
    closed: Mapping[datetime.date, _Line] = {}
    numbers: Mapping[str, Any] = {}

    @field_validator("accent")
    @classmethod
    def _dark_enough(cls, colour: str) -> str:
        contrast = contrast_with_white(colour)
        if contrast < _LEAST_CONTRAST:
            raise PydanticCustomError(
                "contradiction",
                "{message}",
                {
                    "message": f"{colour} has a contrast of {contrast:.1f} to 1 on white, too little to read",
                    "hint": f"take a darker colour: {_LEAST_CONTRAST} to 1 at least",
                    "field": "",
                },
            )
        return colour

    @model_validator(mode="after")
    def _known_holidays(self) -> Self:
        if self.public_holidays:
            try:
                public_holidays(self.country, self.subdivision, 2026)
            except NotImplementedError:
                raise PydanticCustomError(
                    "contradiction",
                    "{message}",
                    {
                        "message": "has no public holidays on record for this country and subdivision",
                        "hint": "correct country or subdivision, or set public_holidays = false and list [closed] days",
                        "field": "subdivision" if self.subdivision else "country",
                    },
                ) from None
        return self


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

    def details(self, logo_url: str | None) -> ClinicDetails:
        """Return what a leaflet prints of the clinic."""
        return ClinicDetails(
            name=self.file.name,
            phone=self.file.phone,
            hours=self.file.hours,
            out_of_hours=self.file.out_of_hours,
            address=self.file.address,
            logo_url=logo_url,
            invented=self.invented,
        )

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
    file = load_record(path, ClinicFile)
    return Clinic(folder, file, _load_logo(folder, file), invented=invented)


def _load_logo(folder: Path, file: ClinicFile) -> tuple[bytes, str] | None:
    """Return the logo's bytes and media type. Only a picture that holds nothing but a picture is taken."""
    if file.logo is None:
        return None
    place = f"{folder / FILE_NAME} [logo]"
    path = folder / file.logo
    media_type = _LOGO_TYPES.get(path.suffix.lower())
    if media_type is None or path.resolve().parent != folder.resolve():
        raise LeafletError.at(place, "is not an SVG or PNG file of the clinic's folder", "name a file that lies in it")
    try:
        body = path.read_bytes()
    except OSError as error:
        raise LeafletError.at(place, f"cannot be read: {error.strerror}", "put the file into the folder") from None
    if len(body) > _LOGO_LARGEST_BYTES:
        raise LeafletError.at(place, f"has {len(body)} bytes", f"take a picture of {_LOGO_LARGEST_BYTES} at most")
    if media_type == "image/png" and not body.startswith(b"\x89PNG\r\n\x1a\n"):
        raise LeafletError.at(place, "is not a PNG picture", "save it as PNG again")
    if media_type == "image/svg+xml" and (fault := _svg_fault(body)):
        raise LeafletError.at(place, f"holds {fault}", "take a plain SVG picture, or a PNG")
    return body, media_type


_SVG_FORBIDDEN = re.compile(
    rb"<\s*(script|foreignObject|image|use|style|iframe|a|animate\w*|set)\b|\bon\w+\s*=|href\s*=|url\s*\(|<!ENTITY|<!DOCTYPE",
    re.IGNORECASE,
)


def _svg_fault(body: bytes) -> str | None:
    """Return what an SVG logo must not hold; None: it is only shapes."""
    if b"<svg" not in body:
        return "no SVG picture"
    found = _SVG_FORBIDDEN.search(body)
    return f"'{found[0].decode(errors='replace').strip()}', which is more than shapes" if found else None


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
