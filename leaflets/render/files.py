"""Writing the files of one leaflet: all of them or none, and never half of one."""

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from leaflets.errors import LeafletError


def write_together(folder: Path, name: str, contents: Mapping[str, bytes]) -> dict[str, str]:
    """Write `name.<ending>` for each ending, beside its place first and then renamed; return their paths by ending.

    Raises:
        LeafletError: the folder cannot be written to; nothing new is left in it.

    """
    written: dict[str, Path] = {}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for ending, body in contents.items():
            with tempfile.NamedTemporaryFile(dir=folder, prefix=".", suffix=".part", delete=False) as file:
                written[ending] = Path(file.name)
                file.write(body)
                file.flush()
                os.fsync(file.fileno())
        for ending, path in written.items():
            path.chmod(0o644)
            path.replace(folder / f"{name}.{ending}")
    except OSError as error:
        for path in written.values():
            path.unlink(missing_ok=True)
        raise LeafletError.at(str(folder), f"cannot be written: {error.strerror}", "give another --out") from None
    return {ending: str(folder / f"{name}.{ending}") for ending in contents}
