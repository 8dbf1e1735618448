"""The gallery that people look at before a release: a slice of it, so that it works on the day."""

from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

from PIL import Image


def test_a_slice_of_the_gallery(tmp_path: Path) -> None:
    spec = spec_from_file_location("gallery", Path(__file__).parents[1] / "gallery.py")
    assert spec is not None
    assert spec.loader is not None
    gallery = module_from_spec(spec)
    spec.loader.exec_module(gallery)
    sheets = dict(gallery.sheets(("en", "ur"), ("a5", "text"), tmp_path))
    assert set(sheets) == {"a5", "text", "carer", "child-5-7", "child-7-11"}
    for name in ("D-02.adult.en.a5", "D-02.adult.ur.a5", "D-09.child-5-7.ur.a4"):
        with Image.open(tmp_path / f"{name}.png") as picture:
            assert picture.width > 3 * gallery.PAGE_WIDTH_PIXELS
            darkest, lightest = picture.convert("L").getextrema()
            assert (darkest < 40, lightest) == (True, 255)
    assert "Get help" in sheets["text"]
    assert "Stopped" not in "".join(sheets.values())
