"""Writing the files of one leaflet: all of them or none, and never half of one."""

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from leaflets.errors import LeafletError


def write_together(folder: Path, name: str, contents: Mapping[str, bytes]) -> dict[str, str]:
    """Write `name.<ending>` for each ending, beside its place first and then renamed; return their paths by ending.

    An ending that starts with a hyphen follows the name without a dot, and is returned without the hyphen.

    Raises:
        LeafletError: the folder cannot be written to; nothing new is left in it.

    """
    places = {ending: file_place(folder, name, ending) for ending in contents}
    beside: dict[str, Path] = {}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for place in places.values():
            if place.is_dir():
                raise LeafletError.at(str(place), "is a folder, and a file should be written there", "move it away")
        for ending, body in contents.items():
            with tempfile.NamedTemporaryFile(dir=folder, prefix=".", suffix=".part", delete=False) as file:
                beside[ending] = Path(file.name)
                file.write(body)
                file.flush()
                os.fsync(file.fileno())
        for ending, path in beside.items():
            path.chmod(0o644)
            path.replace(places[ending])
    except OSError as error:
        raise LeafletError.at(str(folder), f"cannot be written: {error.strerror}", "give another --out") from None
    finally:
        for path in beside.values():
            path.unlink(missing_ok=True)
    return {ending.removeprefix("-"): str(place) for ending, place in places.items()}


def file_place(folder: Path, name: str, ending: str) -> Path:
    """Return where the file of an ending is written."""
    return folder / (f"{name}{ending}" if ending.startswith("-") else f"{name}.{ending}")
