import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from leaflets.errors import LeafletError
from leaflets.render import fonts
from leaflets.render.pdf import RenderedPdf

Render = Callable[..., RenderedPdf]


@pytest.fixture
def source(tmp_path: Path) -> Path:
    """Return a folder with a file for each font, each with its own content."""
    folder = tmp_path / "source"
    folder.mkdir()
    for name in fonts.FONT_FILES:
        (folder / name).write_bytes(name.encode())
    return folder


@pytest.fixture
def licence(tmp_path: Path) -> Path:
    file = tmp_path / "copyright"
    file.write_text("the licence")
    return file


def test_seven_families_in_two_weights() -> None:
    assert len(set(fonts.FONT_FILES)) == 14


def test_every_font_and_the_licence_are_copied(source: Path, licence: Path, tmp_path: Path) -> None:
    folder = tmp_path / "fonts"
    installed = fonts.install_fonts(source, licence=licence, folder=folder)
    assert {file.name: file.read_bytes() for file in folder.iterdir()} == {
        **{name: name.encode() for name in fonts.FONT_FILES},
        fonts.LICENCE_FILE: b"the licence",
    }
    assert sorted(installed) == sorted(folder.iterdir())


def test_nothing_is_copied_when_a_font_is_missing(source: Path, licence: Path, tmp_path: Path) -> None:
    (source / "NotoSans-Bold.ttf").unlink()
    licence.unlink()
    folder = tmp_path / "fonts"
    with pytest.raises(LeafletError) as error:
        fonts.install_fonts(source, licence=licence, folder=folder)
    assert [problem.place for problem in error.value.problems] == [
        str(source / "NotoSans-Bold.ttf"),
        str(licence),
    ]
    assert all("apt-get install fonts-noto-core" in problem.hint for problem in error.value.problems)
    assert not folder.exists()


def test_a_copy_that_breaks_off_leaves_the_old_file(
    source: Path, licence: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "fonts"
    fonts.install_fonts(source, licence=licence, folder=folder)

    def break_off(_original: Path, copy: Path) -> None:
        copy.write_bytes(b"ha")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(shutil, "copyfile", break_off)
    with pytest.raises(LeafletError, match="No space left on device"):
        fonts.install_fonts(source, licence=licence, folder=folder)
    assert (folder / fonts.FONT_FILES[0]).read_bytes() == fonts.FONT_FILES[0].encode()
    assert len(list(folder.iterdir())) == 15


def test_the_command_names_what_is_missing_and_ends_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert fonts.main([str(tmp_path)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "NotoSans-Regular.ttf: this font file is missing" in told.err


def test_the_command_installs_from_the_folder_it_is_given(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(fonts, "FONT_FOLDER", tmp_path / "fonts")
    assert fonts.main([str(source)]) == 0
    assert "15 files" in capsys.readouterr().out
    assert fonts.missing_fonts() == ()


def test_the_command_can_be_run_as_the_remedies_say(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "leaflets.render.fonts", str(tmp_path)]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert told.returncode == 2
    assert "apt-get install fonts-noto-core" in told.stderr
    assert "Traceback" not in told.stderr


@pytest.mark.parametrize("step", [fonts.isolate_fonts, lambda: fonts.missing_characters("a")])
def test_without_fonts_every_step_refuses_and_names_the_remedy(
    step: Callable[[], object], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fonts, "FONT_FOLDER", tmp_path)
    with pytest.raises(LeafletError, match=r"fonts are missing.*python -m leaflets.render.fonts"):
        step()


def test_the_settings_name_our_folder_and_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FONTCONFIG_FILE", "/etc/fonts/fonts.conf")
    for name in ("FONTCONFIG_PATH", "FONTCONFIG_SYSROOT", "FC_LANG"):
        monkeypatch.setenv(name, "/elsewhere")
    fonts.isolate_fonts()
    settings = ElementTree.parse(os.environ["FONTCONFIG_FILE"]).getroot()  # noqa: S314 # our own file
    assert [each.text for each in settings.iter("dir")] == [str(fonts.FONT_FOLDER)]
    assert list(settings.iter("include")) == []
    assert not {"FONTCONFIG_PATH", "FONTCONFIG_SYSROOT", "FC_LANG"} & set(os.environ)


def test_isolating_twice_changes_nothing() -> None:
    fonts.isolate_fonts()
    first = os.environ["FONTCONFIG_FILE"]
    fonts.isolate_fonts()
    assert os.environ["FONTCONFIG_FILE"] == first


def test_the_settings_are_gone_with_their_process_and_not_with_its_child() -> None:
    code = """if True:
        import os, sys
        from leaflets.render.fonts import isolate_fonts
        isolate_fonts()
        file = os.environ["FONTCONFIG_FILE"]
        child = os.fork()
        if child == 0:
            sys.exit(0)
        os.waitpid(child, 0)
        print(os.path.exists(file), file)
    """
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    still_there, file = told.split()
    assert still_there == "True"
    assert not Path(file).parent.exists()


def test_only_our_fonts_are_seen(engine: Any) -> None:
    fontconfig = engine.text.ffi.fontconfig
    settings = fontconfig.FcInitLoadConfigAndFonts()
    try:
        assert fontconfig.FcConfigGetFonts(settings, fontconfig.FcSetSystem).nfont == 14
    finally:
        fontconfig.FcConfigDestroy(settings)


def in_a_process(css: str, folder: Path, *, isolated: bool) -> bytes:
    """Render a paragraph with these rules, with our fonts alone or with those of the system."""
    file = folder / "out.pdf"
    start = "from leaflets.render.fonts import isolate_fonts; isolate_fonts()" if isolated else ""
    code = f"""if True:
        {start}
        import weasyprint
        page = weasyprint.HTML(string="<html lang='en'><title>a</title><p>Words 12 <b>bold</b></p></html>")
        page.write_pdf({str(file)!r}, stylesheets=[weasyprint.CSS(string={css!r})])
    """
    environment = {name: value for name, value in os.environ.items() if not name.startswith("FONTCONFIG")}
    subprocess.run([sys.executable, "-c", code], env=environment, check=True)
    return file.read_bytes()


def test_a_family_that_only_the_system_has_is_not_used(tmp_path: Path, structure: Any) -> None:
    css = "p { font-family: 'DejaVu Serif' }"
    ours = structure.embedded_fonts(in_a_process(css, tmp_path, isolated=True))
    assert ours == {"Noto-Sans", "Noto-Sans-Bold"}


@pytest.mark.skipif(
    not Path("/usr/share/fonts/truetype/dejavu/DejaVuSerif.ttf").exists(),
    reason="the system has no font of its own that could be taken: install fonts-dejavu-core",
)
def test_left_to_itself_weasyprint_takes_the_family_of_the_system(tmp_path: Path, structure: Any) -> None:
    css = "p { font-family: 'DejaVu Serif' }"
    theirs = structure.embedded_fonts(in_a_process(css, tmp_path, isolated=False))
    assert any(name.startswith("DejaVu") for name in theirs)


# ruff: noqa: RUF001 # characters that look alike are the very point
EVERY_SCRIPT = (
    "Ear łódź Ćma žluťoučký ş ı ğ Ŵ ŷ Ухо ευ Ǻ "  # Latin, Cyrillic and Greek
    "أذن کان गर्म ਕੰਨ কান কানৎ કાન "  # Arabic, Urdu, Devanagari, Gurmukhi, Bengali, Gujarati
    "½ ° µ € £ – — ‘ ’ “ ” … • × ÷ ≤ ≥ § "
    "☐ ☑ ✓ ⚠ ► ◦ → ← ↑ ⟶ ♥ 耳 귀 หู אוזן ህ 😀 "
    "\u00a0\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\u2066\u2069\t\n\r"
)


def test_missing_characters_are_those_that_weasyprint_complains_of(render: Render) -> None:
    with pytest.raises(LeafletError) as error:
        # One paragraph each, so that no character is drawn as a part of its neighbour.
        render("".join(f"<p>{character}</p>" for character in sorted(set(EVERY_SCRIPT))), css="")
    messages = [problem.message for problem in error.value.problems]
    complained = {chr(int(re.findall(r"\(U\+([0-9A-F]+)\)", message)[0], 16)) for message in messages}
    assert set(fonts.missing_characters(EVERY_SCRIPT)) == complained
    assert {"☐", "耳", "◦"} <= complained


def test_text_without_a_missing_character_is_printed(render: Render) -> None:
    missing = fonts.missing_characters(EVERY_SCRIPT)
    kept = "".join(character for character in EVERY_SCRIPT if character not in missing)
    assert fonts.missing_characters(kept) == ()
    assert render(f"<p>{kept}</p>", css="").pages == 1


def test_each_missing_character_is_named_once_in_order() -> None:
    assert fonts.missing_characters("耳☐a☐") == ("☐", "耳")


@pytest.mark.parametrize("invisible", ["\u200b", "\u200f", "\u2060", "\u2066", "\u2069", "\u00ad", "\n", "\t", ""])
def test_a_character_that_shows_nothing_is_never_missing(invisible: str) -> None:
    assert fonts.missing_characters(f"a{invisible}b") == ()
