"""A text as a code of black and white squares that a phone's camera reads (QR code): the only user of segno."""

from collections.abc import Iterable, Sequence
from itertools import groupby

import segno

LEAST_MODULE_MM = 0.4
"""The least side of one square in print, in millimetres. Source: common practice, from memory."""

QUIET_MODULES = 4
"""How many squares wide the white border is. Source: ISO/IEC 18004 (from memory)."""

_LEVELS = ("m", "l")
"""How much may be lost and still be read: about 15 per cent, about 7 per cent (ISO/IEC 18004, from memory)."""


def code_svg(text: str, largest_mm: float) -> str | None:
    """Return a code as a whole SVG document, black on white, with its white border.

    Level M of error correction is taken, L where M does not fit; a higher level where it takes no more room. The text
    is encoded as UTF-8 without a mark that says so (ECI), which readers on phones take for UTF-8 (from memory).

    Args:
        text: what the code says; not empty.
        largest_mm: the side of the square that the code may fill, its border included, in millimetres. It fills it.

    Returns:
        The same text for the same arguments. None: squares of 0.4 mm would not fit, or no code holds so much.

    Raises:
        ValueError: the text is empty.

    """
    if not text:
        raise ValueError("a code says something")
    for level in _LEVELS:
        try:
            code = segno.make_qr(text, error=level, encoding="utf-8")
        except segno.DataOverflowError:
            continue
        modules = len(code.matrix) + 2 * QUIET_MODULES
        # To the micrometre: 29 squares of 0.4 mm are 11.6 mm, and a little more in binary fractions.
        if round(modules * LEAST_MODULE_MM, 3) <= largest_mm:
            return _drawn(code.matrix, modules, largest_mm)
    return None


def _drawn(matrix: Sequence[bytearray], modules: int, side_mm: float) -> str:
    # All squares are one path: seams would show between separate ones.
    path = "".join(run for y, row in enumerate(matrix, QUIET_MODULES) for run in _dark_runs(row, y))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side_mm:g}mm" height="{side_mm:g}mm"'
        f' viewBox="0 0 {modules} {modules}"><path fill="#ffffff" d="M0 0h{modules}v{modules}h-{modules}z"/>'
        f'<path fill="#000000" d="{path}"/></svg>'
    )


def _dark_runs(row: Iterable[int], y: int) -> list[str]:
    """Return a rectangle for each row of neighbouring dark squares."""
    runs = []
    x = QUIET_MODULES
    for dark, squares in groupby(row):
        width = len(list(squares))
        if dark:
            runs.append(f"M{x} {y}h{width}v1h-{width}z")
        x += width
    return runs
