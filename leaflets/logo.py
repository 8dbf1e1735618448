"""A clinic's logo: a picture that holds nothing but a picture, looked at once, when the clinic's folder is read."""

import io
import re
from pathlib import Path
from xml.etree import ElementTree as ET

from PIL import Image, UnidentifiedImageError

from leaflets.errors import LeafletError

_LARGEST_BYTES = 500_000
_LARGEST_PIXELS = 4_000_000
_MEDIA_TYPES = {".svg": "image/svg+xml", ".png": "image/png"}
_PNG_END = b"IEND\xaeB`\x82"  # ISO/IEC 15948, the last chunk with its checksum
_SHAPES = frozenset(
    {"svg", "g", "path", "circle", "ellipse", "rect", "line", "polyline", "polygon", "title", "desc", "defs"}
)
_SVG = "{http://www.w3.org/2000/svg}"
_OTHER_WORLDS = re.compile(r"<!DOCTYPE|<!ENTITY|<\?xml-|encoding\s*=\s*[\"'](?!utf-8)|url\s*\(", re.IGNORECASE)


def load_logo(folder: Path, name: str, place: str) -> tuple[bytes, str]:
    """Return a logo's bytes and media type. `place`: where the clinic names it, for a message.

    Raises:
        LeafletError: it is not a PNG or an SVG of plain shapes, lies outside the folder, or is too large.

    """
    path = folder / name
    media_type = _MEDIA_TYPES.get(path.suffix.lower())
    if media_type is None or path.resolve().parent != folder.resolve():
        raise LeafletError.at(place, "is not an SVG or PNG file of the clinic's folder", "name a file that lies in it")
    try:
        with path.open("rb") as file:
            body = file.read(_LARGEST_BYTES + 1)
    except OSError as error:
        raise LeafletError.at(place, f"cannot be read: {error.strerror}", "put the file into the folder") from None
    if len(body) > _LARGEST_BYTES:
        raise LeafletError.at(place, "is too large", f"take a picture of {_LARGEST_BYTES} bytes at most")
    fault = _png_fault(body) if media_type == "image/png" else _svg_fault(body)
    if fault is not None:
        raise LeafletError.at(place, fault, "take a plain SVG picture, or a PNG")
    return body, media_type


def _png_fault(body: bytes) -> str | None:
    """Return what is wrong with a PNG; None: it is whole, and nothing hangs behind it."""
    if not body.endswith(_PNG_END):
        return "is not a PNG picture, or is cut off"
    try:
        with Image.open(io.BytesIO(body), formats=["PNG"]) as picture:
            if picture.width * picture.height > _LARGEST_PIXELS:
                return f"has more than {_LARGEST_PIXELS} pixels"
            picture.verify()
    except (UnidentifiedImageError, OSError, SyntaxError, Image.DecompressionBombError):
        return "is not a PNG picture, or is cut off"
    return None


def _svg_fault(body: bytes) -> str | None:
    """Return what an SVG holds besides shapes; None: it is only shapes."""
    try:
        text = body.decode("utf-8-sig")
        if found := _OTHER_WORLDS.search(text):
            return f"holds '{found[0]}', which is more than shapes"
        root = ET.fromstring(text)  # noqa: S314 - it declares no entities: refused above
    except (UnicodeDecodeError, ET.ParseError):
        return "holds no well-formed SVG picture in UTF-8"
    if root.tag != f"{_SVG}svg":
        return "holds no SVG picture"
    for element in root.iter():
        name = element.tag.removeprefix(_SVG)
        if name not in _SHAPES:
            return f"holds <{name[:40]}>, which is more than shapes"
        for attribute in element.attrib:
            if attribute.lower().startswith("on") or attribute.lower().endswith("href"):
                return f"holds {attribute[-40:]}=, which is more than shapes"
    return None
