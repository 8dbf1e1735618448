import hashlib
import inspect
import io
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import outloud
import pikepdf
import pytest

from leaflets.errors import LeafletError
from leaflets.render import accessible
from leaflets.render.pdf import RenderedPdf
from leaflets.render.readable_text import REPLACED

Render = Callable[..., RenderedPdf]
RenderPlain = Callable[..., bytes]


@pytest.fixture
def document(sample: ModuleType, render: Render) -> bytes:
    return render(sample.HTML).pdf


def errors_of_outloud(pdf: bytes, folder: Path) -> set[str]:
    file = folder / "checked.pdf"
    file.write_bytes(pdf)
    result = outloud.check(str(file))
    assert result.error is None, result.error
    assert not [run.rule for run in result.runs if run.status == "crashed"]
    return {finding.rule for finding in result.findings if finding.severity == "error"}


def test_an_outside_checker_finds_no_error(document: bytes, tmp_path: Path) -> None:
    assert errors_of_outloud(document, tmp_path) == set()


def test_the_outside_checker_finds_what_weasyprint_leaves_undone(
    sample: ModuleType, render_plain: RenderPlain, tmp_path: Path
) -> None:
    # TBL-002: header cells without scope. Source: outloud 0.2.1, its own list of rules.
    assert "TBL-002" in errors_of_outloud(render_plain(sample.HTML), tmp_path)


def test_our_own_look_at_the_structure_finds_no_fault(document: bytes, structure: ModuleType) -> None:
    assert structure.structure_faults(document) == []


@pytest.mark.parametrize(
    ("fault", "body"),
    [
        ("a header cell does not say what it heads", "<table><tr><th>a</th><td>b</td></tr></table>"),
        ("page 1: content 1 is painted, and stands nowhere in the structure", "<p>a</p>"),
        ("page 1: content 1 belongs to an element outside the structure", "<p>a</p>"),
        ("page 1: a link is not printed", "<p><a href='https://example.org'>a</a></p>"),
        ("a picture has no text in its place", "<img src='asset:circle.svg'>"),
        ("page 1: painted outside the structure: Do", "<p style='opacity: .5'>a</p>"),
        ("page 1: content 0 stands in the structure, and is not painted", "<p style='opacity: .5'>a</p>"),
        ("heading 3 follows heading 1", "<h1>a</h1><h3>b</h3>"),
        ("heading 2 follows heading 0", "<h2>b</h2>"),
    ],
)
def test_our_own_look_finds_each_fault_of_a_bad_document(
    fault: str, body: str, sample: ModuleType, structure: ModuleType, render_plain: RenderPlain
) -> None:
    css = "@page { @bottom-left { content: 'a' } }"
    assert fault in structure.structure_faults(render_plain(sample.page(body), css))


@pytest.mark.parametrize(
    ("fault", "html", "options"),
    [
        ("no structure at all", {}, {"pdf_variant": None}),
        ("the document has no language", {"lang": ""}, {}),
        ("the document has no title", {"head": ""}, {}),
        ("the document does not say that it follows PDF/UA-1", {}, {"pdf_variant": None, "pdf_tags": True}),
    ],
)
def test_our_own_look_finds_what_a_bad_document_does_not_say(
    fault: str,
    html: dict[str, str],
    options: dict[str, Any],
    sample: ModuleType,
    structure: ModuleType,
    render_plain: RenderPlain,
) -> None:
    pdf = render_plain(sample.page("<p>a</p>", **html), **options)
    assert fault in structure.structure_faults(pdf)


def claim_twice(pdf: pikepdf.Pdf) -> None:
    pieces = [each for each in pdf.objects if is_element(each, "/Span")]
    pieces[0].K.append(pieces[1].K[0])


def lose_the_way_up(pdf: pikepdf.Pdf) -> None:
    owners = pdf.Root.StructTreeRoot.ParentTree.Nums[1]
    owners[0] = owners[1]


def lose_a_link(pdf: pikepdf.Pdf) -> None:
    link = next(each for each in pdf.objects if is_element(each, "/Link"))
    del link.K[0]


def say_nothing_of_a_link(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0].Annots[0].Contents


def forget_that_it_is_tagged(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.MarkInfo


def hide_the_title(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.ViewerPreferences


def write_content(pdf: pikepdf.Pdf, extra: bytes) -> None:
    page = pdf.pages[0]
    page.contents_coalesce()
    page.Contents = pdf.make_stream(page.Contents.read_bytes() + extra)


def paint_twice(pdf: pikepdf.Pdf) -> None:
    write_content(pdf, b"\n/Span <</MCID 0>> BDC EMC\n")


def paint_in_an_artifact(pdf: pikepdf.Pdf) -> None:
    write_content(pdf, b"\n/Artifact BMC /Span <</MCID 0>> BDC EMC EMC\n")


def is_element(each: Any, kind: str) -> bool:
    return isinstance(each, pikepdf.Dictionary) and each.get("/S") == kind


@pytest.mark.parametrize(
    ("fault", "damage"),
    [
        ("content 1 is claimed twice", claim_twice),
        ("page 1: content 0 does not know its element", lose_the_way_up),
        ("page 1: a link stands nowhere in the structure", lose_a_link),
        ("page 1: a link has no description", say_nothing_of_a_link),
        ("the document does not say that it is tagged", forget_that_it_is_tagged),
        ("the title of the document is not shown", hide_the_title),
        ("page 1: content 0 is painted more than once", paint_twice),
        ("page 1: tagged content inside artifact content", paint_in_an_artifact),
    ],
)
def test_our_own_look_finds_each_damage_to_a_good_document(
    fault: str, damage: Callable[[pikepdf.Pdf], None], document: bytes, structure: ModuleType
) -> None:
    damaged = io.BytesIO()
    with pikepdf.open(io.BytesIO(document)) as pdf:
        damage(pdf)
        pdf.save(damaged)
    assert fault in structure.structure_faults(damaged.getvalue())


def scopes(pdf: bytes) -> list[str]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [str(each.A.Scope) for each in opened.objects if is_element(each, "/TH")]


def test_a_header_in_the_head_of_a_table_heads_its_column_and_any_other_its_row(document: bytes) -> None:
    # The sample's table: four headers in its thead, then one at the start of each of two rows.
    assert scopes(document) == ["/Column"] * 4 + ["/Row"] * 2


def test_a_table_within_the_head_of_another_is_judged_by_itself(render: Render) -> None:
    inner = "<table><tbody><tr><th>b</th><td>c</td></tr></tbody></table>"
    pdf = render(f"<table><thead><tr><th>a</th><td>{inner}</td></tr></thead></table>", css="").pdf
    assert sorted(scopes(pdf)) == ["/Column", "/Row"]


def artifacts_and_text(pdf: bytes) -> tuple[int, int]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        sections = [
            operands
            for page in opened.pages
            for operands, operator in pikepdf.parse_content_stream(page)
            if str(operator) == "BDC"
        ]
    pagination = [each for each in sections if each[0] == "/Artifact" and each[1].get("/Type") == "/Pagination"]
    return len(pagination), len([each for each in sections if "/MCID" in each[1]])


def test_what_stands_in_the_margins_is_an_artifact_of_pagination(render: Render) -> None:
    css = "@page { @top-left { content: 'a' } @bottom-right { content: counter(page) } }"
    pdf = render("<p>one</p><p style='break-before: page'>two</p>", css=css).pdf
    # Two pages with two margin boxes each, and a paragraph on each.
    assert artifacts_and_text(pdf) == (4, 2)


def test_no_artifact_is_made_where_nothing_stands_in_the_margins(render: Render) -> None:
    assert artifacts_and_text(render("<p>one</p>", css="").pdf) == (0, 1)


@pytest.mark.parametrize(
    ("problem", "css", "body"),
    [
        (
            "a link stands in the margin",
            "p { position: running(a) } @page { @top-left { content: element(a) } }",
            "<p><a href='https://example.org'>a</a></p>",
        ),
        ("an effect that hides it", "p { opacity: 0.5 }", "<p>a</p>"),
        ("an effect that hides it", "@page { @top-left { content: 'a'; opacity: 0.5 } }", "<p>a</p>"),
        ("a picture has no text", "", "<svg viewBox='0 0 1 1'><path d='M0 0h1v1'/></svg>"),
    ],
)
def test_what_cannot_be_made_accessible_is_refused(problem: str, css: str, body: str, render: Render) -> None:
    with pytest.raises(LeafletError, match=f"^page 1: .*{problem}"):
        render(body, css=css)


def test_text_that_is_in_no_margin_is_never_turned_into_an_artifact(
    monkeypatch: pytest.MonkeyPatch, render: Render
) -> None:
    monkeypatch.setattr(accessible, "_count_furniture", lambda _page: 0)
    with pytest.raises(LeafletError, match="page 1: text of the page would be hidden"):
        render("<p>a</p>", css="@page { @top-left { content: 'a' } }")


def test_the_file_is_sound(document: bytes, tmp_path: Path) -> None:
    assert shutil.which("qpdf"), "install qpdf: apt-get install qpdf"
    good, bad = tmp_path / "good.pdf", tmp_path / "bad.pdf"
    good.write_bytes(document)
    bad.write_bytes(document[:-200])
    checks = [subprocess.run(["qpdf", "--check", file], capture_output=True, check=False) for file in (good, bad)]
    assert checks[0].returncode == 0, checks[0].stderr
    assert checks[1].returncode != 0


# The functions of WeasyPrint and pydyf whose work the finishing builds on, and the start of the SHA-256 of each source.
# When one has changed: read it, run all the tests of this folder, hear a leaflet with a screen reader, renew the sum.
RELIED_ON = {
    "weasyprint.pdf.tags:add_tags": "f0e74575b0bafaf3",
    "weasyprint.pdf.tags:_build_box_tree": "f716251a83e7096e",
    "weasyprint.pdf.stream:Stream.marked": "3fa3acacbbf66422",
    "weasyprint.pdf.anchors:add_links": "262e8b9b299892a7",
    "weasyprint.document:Page.__init__": "56afceec729bf2c1",
    "weasyprint.document:Document.write_pdf": "086e4a8e99981829",
    "weasyprint.formatting_structure.boxes:Box.descendants": "c15a877f61361343",
    "weasyprint.pdf.fonts:build_fonts_dictionary": "fc551bef35d0d6c3",
    "weasyprint.urls:fetch": "a0b61dca95970b6d",
    "weasyprint.text.fonts:FontConfiguration.__init__": "9fdb532fe2c80013",
    "pydyf:Stream.begin_marked_content": "4348260a8eb6e24f",
    "pydyf:PDF.write": "242cd38f92ecd33f",
}


def sum_of_source(place: str) -> str:
    module, _, name = place.partition(":")
    found: Any = __import__(module, fromlist=["*"])
    for part in name.split("."):
        found = getattr(found, part)
    found = REPLACED.get(place, found)
    return hashlib.sha256(inspect.getsource(found).encode()).hexdigest()[:16]


@pytest.mark.usefixtures("engine")
@pytest.mark.parametrize("place", RELIED_ON)
def test_what_the_finishing_relies_on_has_not_changed(place: str) -> None:
    assert sum_of_source(place) == RELIED_ON[place]


def test_a_changed_function_is_noticed(monkeypatch: pytest.MonkeyPatch, engine: Any) -> None:
    monkeypatch.setattr(engine.urls, "fetch", scopes)
    assert sum_of_source("weasyprint.urls:fetch") != RELIED_ON["weasyprint.urls:fetch"]
