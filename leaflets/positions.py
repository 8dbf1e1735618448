"""Where a key stands in a TOML or JSON text, so that a problem can name its line.

The text has been parsed already by the standard library, which keeps no positions; this only points. A key it does
not find (a dotted or inline table written in an unusual way) gets the line of what holds it.
"""

import re
from collections.abc import Sequence

_HEADER = re.compile(r"^\s*\[{1,2}\s*([^\[\]]+?)\s*\]{1,2}\s*(?:#.*)?$")


def line_of(text: str, path: Sequence[str | int]) -> int | None:
    r"""Return the 1-based line of the key at `path`, or of the nearest thing that holds it; None: nowhere.

    >>> line_of('date = 2026-11-25\n[left]\neardrum = "x"\n', ("left", "eardrum"))
    3
    >>> line_of('{"left":\n {"eardrum": "x"}}', ("left", "eardrum"))
    2
    >>> line_of('[left]\n', ("left", "eardrum"))
    1
    >>> line_of('[[steps]]\nname = "a"\n[[steps]]\nname = "b"\n', ("steps", 1, "name"))
    4
    >>> line_of('[[steps]]\n[[steps]]\nname = "b"\n', ("steps", 0, "name"))
    1

    """
    keys = [str(part) for part in path if not isinstance(part, int)]
    if text.lstrip().startswith("{"):
        return _line_in_json(text, keys)
    place = next((place for place, part in enumerate(path) if isinstance(part, int)), None)
    if place is not None:
        name, index = ".".join(keys[:place]), int(path[place])
        start, end = _start_of_table(text, name, index), _start_of_table(text, name, index + 1)
        if start:
            line = _line_in_toml("\n".join(text.splitlines()[start - 1 : end and end - 1]), keys)
            return start if line is None else start + line - 1
    return _line_in_toml(text, keys)


def _start_of_table(text: str, name: str, index: int) -> int | None:
    """Return the line of the `[[name]]` counted from 0; None: the list is not written that way."""
    headers = [
        number
        for number, line in enumerate(text.splitlines(), start=1)
        if line.lstrip().startswith("[[")
        and (header := _HEADER.match(line))
        and re.sub(r"[\s\"']", "", header[1]) == name
    ]
    return headers[index] if index < len(headers) else None


def _line_in_json(text: str, keys: Sequence[str]) -> int | None:
    position: int | None = None
    for key in keys:
        found = re.compile(rf'"{re.escape(key)}"\s*:').search(text, position or 0)
        if found is None:
            break
        position = found.start()
    return None if position is None else text.count("\n", 0, position) + 1


def _line_in_toml(text: str, keys: Sequence[str]) -> int | None:
    wanted = ".".join(keys)
    table = ""
    nearest: tuple[int, int] | None = None  # how much of the path, and the line
    for number, line in enumerate(text.splitlines(), start=1):
        if header := _HEADER.match(line):
            table = re.sub(r"[\s\"']", "", header[1])
            here = table
        elif "=" in line and not line.lstrip().startswith("#"):
            key = re.sub(r"[\s\"']", "", line.split("=", 1)[0])
            here = f"{table}.{key}" if table else key
        else:
            continue
        if here == wanted:
            return number
        if wanted.startswith(here + ".") and (nearest is None or len(here) > nearest[0]):
            nearest = (len(here), number)
    return nearest[1] if nearest else None
