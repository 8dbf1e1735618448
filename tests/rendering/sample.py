"""A document with every kind of element that leaflets are made of. Its words are invented and mean nothing."""

from leaflets.render.fetcher import Asset

CSS = """
@page {
  size: A4; margin: 20mm;
  @top-left { content: "Reference X-1" }
  @bottom-right { content: "Page " counter(page) " of " counter(pages) }
}
@page :first { @top-right { content: url(asset:mark.svg); width: 10mm } }
html { font-family: "Noto Sans"; font-size: 12pt }
header { position: running(clinic) }
@page { @top-center { content: element(clinic) } }
ul { list-style-type: disc }
img { width: 30mm }
table { border-collapse: collapse }
td, th { border: 1px solid; padding: 2mm }
.next-page { break-before: page }
"""

HTML = """<!doctype html>
<html lang="en"><head><title>A sample of all elements</title></head><body>
<header><p>A clinic that is <strong>invented</strong></p><ul><li>Room 1</li></ul></header>
<main>
<h1 id="top">A sample of all elements</h1>
<p>Words, <strong>bold words</strong> and <a href="https://example.org/a">a link</a>.</p>
<h2 id="lists">Lists</h2>
<ul><li>First</li><li>Second<ul><li>Within the second</li></ul></li></ul>
<ol><li>One</li><li>Two</li></ol>
<h3 id="table">Table</h3>
<table><caption>Times</caption>
<thead><tr><th>Day</th><th>Morning</th><th>Noon</th><th>Evening</th></tr></thead>
<tbody>
<tr><th scope="row">Monday</th><td>3</td><td>3</td><td>3</td></tr>
<tr><th scope="row">Tuesday</th><td>3</td><td>3</td><td>3</td></tr>
</tbody></table>
<figure><img src="asset:circle.svg" alt="A circle"><figcaption>A drawing</figcaption></figure>
<h2 id="after" class="next-page">After the break</h2>
<p id="last">See <a href="#top">the start</a>. Page after page has its number.</p>
</main>
<footer><p>The end of the sample</p></footer>
</body></html>
"""

_CIRCLE = b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">
<circle cx="5" cy="5" r="4" fill="none" stroke="#000"/></svg>"""

ASSETS = {
    "asset:circle.svg": Asset(_CIRCLE, "image/svg+xml"),
    "asset:mark.svg": Asset(_CIRCLE, "image/svg+xml"),
}


def page(body: str, *, head: str = "<title>A page</title>", lang: str = 'lang="en"') -> str:
    """Return a whole document with this body."""
    return f"<!doctype html><html {lang}><head>{head}</head><body>{body}</body></html>"
