"""What came of a sheet for everybody: the contract between its making and everything that calls it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from leaflets.catalogue import coverage
from leaflets.checks.evidence import Evidence
from leaflets.model import Finding, PlannedBlock
from leaflets.results import readability_of


@dataclass(frozen=True)
class SheetPart:
    """One document of a sheet.

    Attributes:
        name: as in the names of its files; empty: the sheet is one document.
        language: BCP 47; of two beside each other the first.
        leaflet_id: as it is printed at the foot.
        readability: as in the result of a leaflet.
        coverage: how many of its messages are missing, stale, draft, reviewed.
        pages: None: it was stopped before it was laid out.

    """

    name: str
    language: str
    leaflet_id: str
    readability: Mapping[str, Any]
    coverage: Mapping[str, Any]
    pages: int | None = None

    @classmethod
    def of(cls, name: str, evidence: Evidence) -> "SheetPart":
        """Return what is known of a part before it is laid out."""
        leaflet = evidence.leaflet
        return cls(name, leaflet.language, leaflet.id, readability_of(evidence.report), coverage(leaflet))

    def as_json(self) -> dict[str, Any]:
        """Return the part as plain values."""
        return {
            "part": self.name,
            "language": self.language,
            "leaflet_id": self.leaflet_id,
            "readability": dict(self.readability),
            "coverage": dict(self.coverage),
            "pages": self.pages,
        }


@dataclass(frozen=True)
class SheetResult:
    """What came of a sheet. See `as_json`.

    Attributes:
        sheet: the topic, or `school`.
        status: "stopped": a finding of severity stop; nothing was written.
        blocks: of a prevention leaflet; a school pack has none.
        parts: in the order of the pack; one for a prevention leaflet, two where a second language stands beside.
        files: paths by ending; empty where nothing was written.

    """

    sheet: str
    status: Literal["ok", "stopped"]
    content_version: str
    blocks: tuple[PlannedBlock, ...]
    parts: tuple[SheetPart, ...]
    findings: tuple[Finding, ...]
    files: Mapping[str, str] = field(default_factory=dict)

    def with_files(self, files: Mapping[str, str]) -> "SheetResult":
        """Return the same result with the files that were written."""
        return replace(self, files=files)

    def as_json(self) -> dict[str, Any]:
        """Return the result as plain values.

        It has the fields of a leaflet's result, but for `ref`: a sheet is about nobody. Those of a school pack are the
        first part's, the child's sheet.
        """
        first = self.parts[0].as_json() if self.parts else {}
        pages = [part.pages for part in self.parts]
        return {
            "sheet": self.sheet,
            "status": self.status,
            "leaflet_id": first.get("leaflet_id"),
            "content_version": self.content_version,
            "blocks": [
                {"id": block.id, "rule": block.rule, "ears": list(block.ears), "because": list(block.because)}
                for block in self.blocks
            ],
            "withheld": [],
            "ask": [],
            "readability": first.get("readability"),
            "coverage": first.get("coverage"),
            "findings": [one.as_json() for one in self.findings],
            "pages": None if None in pages else sum(page for page in pages if page is not None),
            "parts": [part.as_json() for part in self.parts],
            "files": dict(self.files),
        }
