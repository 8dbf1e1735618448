"""Every format in every language, and a child's pages, as pictures to be looked at: `make gallery`.

Each strip is one leaflet, all its pages beside each other. What to look for: nothing clipped, nothing over something
else, no heading alone at the foot of a page, no number broken over a line. Phone pages need chromium, and are left out
with a word where it is not installed.
"""

import html
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pypdfium2
from PIL import Image

from leaflets import demo
from leaflets.content import load_content
from leaflets.formats import FORMATS
from leaflets.model import Result
from leaflets.pipeline import make

VISITS = Path(demo.__file__).parent / "visits"
DROPS = VISITS / "02-drops-for-the-right-ear.toml"
CHILD = VISITS / "09-a-child-with-a-tube.toml"
PAGE_WIDTH_PIXELS = 330
PHONE_PIXELS = (390, 2600)
GAP_PIXELS = 8

_PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>{title}</title>
<style>
body {{ font-family: sans-serif; margin: 1rem }} img {{ display: block }} pre {{ max-height: 30rem; overflow: auto }}
</style>
</head><body><h1>{title}</h1>
{items}
</body></html>
"""


def strip_of(pdf: Path) -> Image.Image:
    """Return all pages of a PDF beside each other."""
    with pypdfium2.PdfDocument(pdf) as document:
        pages = [page.render(scale=PAGE_WIDTH_PIXELS / page.get_width()).to_pil() for page in document]
    width = sum(page.width + GAP_PIXELS for page in pages)
    strip = Image.new("RGB", (width, max(page.height for page in pages)), "#888888")
    left = 0
    for page in pages:
        strip.paste(page, (left, 0))
        left += page.width + GAP_PIXELS
    return strip


def _shown(result: Result, folder: Path) -> str:
    """Return the HTML that shows a leaflet; its picture is written beside the gallery."""
    if result.status == "stopped":
        reasons = "; ".join(finding.message for finding in result.findings if finding.severity == "stop")
        return f"<p>Stopped: {html.escape(reasons)}</p>"
    if "pdf" in result.files:
        path = Path(result.files["pdf"])
        picture = folder / f"{path.stem}.png"
        strip_of(path).save(picture)
        return f'<img src="{picture.name}" alt="{path.stem}">'
    if "html" in result.files:
        return _photographed(Path(result.files["html"]), folder)
    text = Path(result.files.get("brf", result.files["txt"])).read_text("utf-8")
    return f"<pre>{html.escape(text)}</pre>"


def _photographed(page: Path, folder: Path) -> str:
    chromium = shutil.which("chromium")
    if chromium is None:
        return "<p>chromium is not installed, so there is no picture</p>"
    picture = folder / f"{page.stem}.png"
    size = "{},{}".format(*PHONE_PIXELS)
    command = [
        chromium,
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        f"--window-size={size}",
        f"--screenshot={picture}",
    ]
    subprocess.run([*command, page.resolve().as_uri()], check=True, capture_output=True)
    return f'<img src="{picture.name}" alt="{page.stem}">'


def sheets(languages: tuple[str, ...], formats: tuple[str, ...], folder: Path) -> Iterator[tuple[str, str]]:
    """Make the leaflets, and return the title and HTML of one sheet for each format, and for each reader of a4."""
    for format_ in formats:
        items = []
        for language in languages:
            if format_ == "braille" and language == "ro":
                continue  # there is no braille of six dots for Romanian in liblouis
            made = make(DROPS, language=language, format=format_, out=folder)
            items.append(f"<h2>{language}</h2>{_shown(made, folder)}")
        yield format_, "\n".join(items)
    for reader in ("carer", "child-5-7", "child-7-11"):
        shown = [
            f"<h2>{language}</h2>{_shown(make(CHILD, language=language, reader=reader, out=folder), folder)}"
            for language in languages
        ]
        yield reader, "\n".join(shown)


def main() -> None:
    """Write the gallery to the folder that is named, or to out/gallery."""
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else "out/gallery")
    folder.mkdir(parents=True, exist_ok=True)
    names = []
    for title, items in sheets(load_content().languages, tuple(FORMATS), folder):
        (folder / f"{title}.html").write_text(_PAGE.format(title=title, items=items), "utf-8")
        names.append(f'<p><a href="{title}.html">{title}</a></p>')
        print(f"{folder / title}.html")  # noqa: T201 - what it is for
    (folder / "index.html").write_text(_PAGE.format(title="Every format", items="\n".join(names)), "utf-8")


if __name__ == "__main__":
    main()
