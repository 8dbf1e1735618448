"""The figures of a leaflet in the digits of its language, as the last step before it is laid out or written.

Everything is checked with the figures 0 to 9. What people dial or look up keeps them in every script: telephone
numbers, references, words of somebody's own, and parts in another language.
"""

import re
from html.parser import HTMLParser

_COUNTER_STYLES = {
    0x0660: "arabic-indic",
    0x06F0: "persian",
    0x09E6: "bengali",
    0x0966: "devanagari",
    0x0AE6: "gujarati",
    0x0A66: "gurmukhi",
}
"""How CSS names digits, by their zero: W3C, CSS Counter Styles Level 3, section 6.1."""

_PAGE_COUNTER = re.compile(r"counter\((pages?)\)")
_KEEP = frozenset({"phone", "code", "own", "clinic-line"})
_HEAD = "head"
_VOID = frozenset({"br", "img", "meta", "link", "hr"})


def with_digits(page: str, digits: str) -> str:
    """Return a page of ours with the figures of its text in other digits.

    `digits`: the ten of them, from zero.

    >>> with_digits('<html lang="bn"><p>3, <span class="phone">999</span></p></html>', "০১২৩৪৫৬৭৮৯")
    '<html lang="bn"><p>৩, <span class="phone">999</span></p></html>'

    """
    rewriter = _Rewriter(digits)
    rewriter.feed(page)
    rewriter.close()
    return "".join(rewriter.written)


def style_with_digits(style: str, digits: str) -> str:
    """Return a style sheet that counts pages in other digits.

    >>> style_with_digits("a::before { content: counter(page) }", "০১২৩৪৫৬৭৮৯")
    'a::before { content: counter(page, bengali) }'

    """
    return _PAGE_COUNTER.sub(rf"counter(\1, {_COUNTER_STYLES[ord(digits[0])]})", style)


class _Rewriter(HTMLParser):
    """Writes again what it reads, but for the figures of text."""

    def __init__(self, digits: str) -> None:
        super().__init__(convert_charrefs=False)
        self.written: list[str] = []
        self._digits = str.maketrans("0123456789", digits)
        self._kept: list[bool] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._write_tag()
        if tag not in _VOID:
            told = dict(attrs)
            of_another_language = "lang" in told and tag != "html"
            keep = tag == _HEAD or of_another_language or bool(_KEEP.intersection((told.get("class") or "").split()))
            self._kept.append(keep or (bool(self._kept) and self._kept[-1]))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002 - its signature
        self._write_tag()

    def handle_endtag(self, tag: str) -> None:
        self.written.append(f"</{tag}>")
        self._kept.pop()

    def handle_data(self, data: str) -> None:
        self.written.append(data if self._kept and self._kept[-1] else data.translate(self._digits))

    def handle_entityref(self, name: str) -> None:
        self.written.append(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self.written.append(f"&#{name};")

    def handle_comment(self, data: str) -> None:
        self.written.append(f"<!--{data}-->")

    def handle_decl(self, decl: str) -> None:
        self.written.append(f"<!{decl}>")

    def _write_tag(self) -> None:
        self.written.append(self.get_starttag_text() or "")
