"""The text behind the glyphs of scripts whose letters join: right with our fix, wrong without it."""

import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from leaflets.render.pdf import RenderedPdf
from leaflets.render.readable_text import carries_its_words, letters_of_glyphs

FONTS = Path(__file__).parents[2] / "leaflets" / "render" / "fonts"
# "Keep the ear dry. Do not put anything in the ear." and the like, in words that share glyphs with one another.
SENTENCES = {
    "bn": "কান শুকনো রাখুন। কানের ভেতরে কিছু ঢোকাবেন না। ক্লিনিকে ফোন করুন।",
    "pa": "ਕੰਨ ਸੁੱਕਾ ਰੱਖੋ। ਕੰਨ ਵਿੱਚ ਕੁਝ ਨਾ ਪਾਓ। ਕਲੀਨਿਕ ਨੂੰ ਫ਼ੋਨ ਕਰੋ।",
    "hi": "कान सूखा रखें। कान में कुछ न डालें। कृपया क्लिनिक को फ़ोन करें।",
}


def _text(pdf: bytes, folder: Path) -> str:
    file = folder / "text.pdf"
    file.write_bytes(pdf)
    told = subprocess.run(["pdftotext", str(file), "-"], capture_output=True, text=True, check=True)
    return " ".join(told.stdout.split())


@pytest.mark.parametrize("language", SENTENCES)
def test_every_word_comes_back(language: str, render: Callable[..., RenderedPdf], tmp_path: Path) -> None:
    assert SENTENCES[language] in _text(render(f"<p>{SENTENCES[language]}</p>").pdf, tmp_path)


def test_without_the_fix_words_come_back_wrong(
    monkeypatch: pytest.MonkeyPatch, render: Callable[..., RenderedPdf], tmp_path: Path
) -> None:
    import leaflets.render.readable_text as fix  # noqa: PLC0415

    monkeypatch.setattr(fix, "carries_its_words", lambda _text: False)
    assert SENTENCES["bn"] not in _text(render(f"<p>{SENTENCES['bn']}</p>").pdf, tmp_path)


def test_a_run_from_right_to_left_carries_no_words_beside_it() -> None:
    # Readers of PDF print such words reversed: measured with poppler and pdfium.
    assert not carries_its_words("الأذن")
    assert not carries_its_words("Ear drops")
    assert carries_its_words("ucho środkowe")


def test_a_glyph_stands_for_the_letter_of_the_font() -> None:
    from fontTools.ttLib import TTFont  # noqa: PLC0415

    file = FONTS / "NotoSansBengali-Regular.ttf"
    letters = letters_of_glyphs(file.read_bytes(), 0)
    with TTFont(file) as font:
        name = font.getBestCmap()[ord("ক")]
        assert letters[font.getGlyphID(name)] == "ক"
