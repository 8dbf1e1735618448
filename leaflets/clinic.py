"""A clinic's folder: who it is, when it is open, its own values for numbers that a clinic may set."""

import datetime
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, field_validator, model_validator

from leaflets import cldr
from leaflets.colours import darkened
from leaflets.compose.values import ClinicDetails
from leaflets.errors import LeafletError
from leaflets.logo import load_logo
from leaflets.positions import line_of
from leaflets.record_types import Day, Line, contradiction
from leaflets.records import FieldFault, load_record
from leaflets.rules.countries import Country
from leaflets.rules.numbers import Numbers

FILE_NAME = "clinic.toml"
DEMO_FOLDER = Path(__file__).parent / "demo" / "clinic"
"""The invented clinic of the demonstration. Leaflets that show it are marked as examples."""

_NEW_CLINIC = Path(__file__).parent / "demo" / "new-clinic.toml"
_PAPER = "#ffffff"
_LEAST_CONTRAST = 4.5  # WCAG 2.2, success criterion 1.4.3

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


class TranslatedLines(BaseModel):
    """The clinic's own lines in another language."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    hours: Annotated[tuple[Line, ...], Field(min_length=1)]
    out_of_hours: Line


class ClinicFile(BaseModel):
    """clinic.toml, field by field; the comments of the file that `leaflets new-clinic` writes explain each."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: Line
    country: Annotated[str, Field(pattern=r"^[A-Z]{2}$", description="write two capitals, as GB: ISO 3166")]
    subdivision: str | None = None
    language: str
    paper: str
    accent: Annotated[str, Field(pattern=r"^#[0-9a-fA-F]{6}$", description="write a colour, as #24504a")]
    phone: Annotated[
        str, Field(pattern=r"^\+?[0-9][0-9 ()-]{1,24}$", description="write a telephone number, as 01632 960 123")
    ]
    hours: Annotated[tuple[Line, ...], Field(min_length=1)]
    out_of_hours: Line
    advice_line: Annotated[
        str,
        Field(
            pattern=r"^(national|none|\+?[0-9][0-9 ()-]{1,24})$",
            description="write 'national', 'none', or a telephone number",
        ),
    ] = "national"
    open_days: Annotated[tuple[WeekdayName, ...], Field(min_length=1)]
    public_holidays: Annotated[bool, Field(strict=True)]
    address: tuple[Line, ...] = ()
    logo: str | None = None
    issue_drafts: Annotated[bool, Field(strict=True)] = True
    allow_gaps: Annotated[bool, Field(strict=True)] = False
    native_digits: tuple[str, ...] = ()
    translated: Mapping[str, TranslatedLines] = {}
    closed: Mapping[Day, Line] = {}
    numbers: Mapping[str, Any] = {}

    @field_validator("native_digits")
    @classmethod
    def _have_digits(cls, languages: tuple[str, ...]) -> tuple[str, ...]:
        for language in languages:
            if not cldr.is_known(language) or cldr.native_digits(language) is None:
                raise contradiction(f"'{language}' has no digits of its own", "take it away: it is printed with 0 to 9")
        return languages

    @model_validator(mode="after")
    def _known_holidays(self) -> Self:
        if self.public_holidays and not _has_public_holidays(self.country, self.subdivision):
            field = "subdivision" if _has_public_holidays(self.country, None) else "country"
            raise contradiction(
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

    @property
    def accent(self) -> str:
        """The clinic's colour as it is printed: darker than it was chosen where white paper would swallow it."""
        return darkened(self.file.accent, _PAPER, _LEAST_CONTRAST)

    def place(self, key: str) -> str:
        """Return where a key stands in the clinic's file, for a message."""
        path = self.folder / FILE_NAME
        line = line_of(path.read_text("utf-8"), (key,))
        return f"{path}:{line} [{key}]" if line else f"{path} [{key}]"

    def digits(self, language: str) -> str | None:
        """Return the ten digits, from zero, in which leaflets of a language are printed. None: 0 to 9."""
        return cldr.native_digits(language) if language in self.file.native_digits else None

    def details(self, logo_url: str | None, language: str) -> ClinicDetails:
        """Return what a leaflet in a language prints of the clinic: its lines in that language where it has them."""
        lines = self.file.translated.get(language)
        return ClinicDetails(
            name=self.file.name,
            accent=self.accent,
            accent_chosen=self.file.accent,
            country=self.file.country,
            phone=self.file.phone,
            hours=self.file.hours if lines is None else lines.hours,
            out_of_hours=self.file.out_of_hours if lines is None else lines.out_of_hours,
            address=self.file.address,
            logo_url=logo_url,
            invented=self.invented,
            lines_language=self.file.language if lines is None else language,
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


def load_clinic(folder: Path, numbers: Numbers, *, invented: bool = False) -> Clinic:
    """Read a clinic's folder. `numbers`: the project's, some of which a clinic may set.

    Raises:
        LeafletError: with everything that is wrong in it.

    """
    path = folder / FILE_NAME
    if not path.is_file():
        raise LeafletError.at(str(path), "does not exist", f"make a clinic's folder with: leaflets new-clinic {folder}")

    def more_faults(data: Mapping[str, Any]) -> list[FieldFault]:
        faults: list[FieldFault] = []
        settings, logo = data.get("numbers"), data.get("logo")
        if isinstance(settings, Mapping):
            found = numbers.setting_faults(settings)
            faults += [(("numbers", number_id), message, hint) for number_id, message, hint in found]
        if isinstance(logo, str):
            try:
                load_logo(folder, logo, str(path))
            except LeafletError as error:
                faults += [(("logo",), problem.message, problem.hint) for problem in error.problems]
        return faults

    file = load_record(path, ClinicFile, more_faults=more_faults)
    logo = None if file.logo is None else load_logo(folder, file.logo, str(path))
    return Clinic(folder, file, logo, invented=invented)


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
