import importlib.util
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from leaflets import demo
from leaflets.content import Content
from leaflets.fit import compose_to_fit
from leaflets.model import Leaflet
from leaflets.pipeline import situation_of
from leaflets.plan import plan as judge
from leaflets.render.fetcher import LockedFetcher
from leaflets.render.pdf import RenderedPdf, Stylesheet, load_stylesheet, render_pdf, require_engine
from leaflets.visits import read_visit

HERE = Path(__file__).parent
DEMO_VISITS = Path(demo.__file__).parent / "visits"


def load_beside(name: str) -> ModuleType:
    """Import a plain module of this folder, which is no package."""
    full_name = f"tests_rendering_{name}"
    if full_name not in sys.modules:
        spec = importlib.util.spec_from_file_location(full_name, HERE / f"{name}.py")
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[full_name] = module
        spec.loader.exec_module(module)
    return sys.modules[full_name]


@pytest.fixture(scope="session")
def sample() -> ModuleType:
    return load_beside("sample")


@pytest.fixture(scope="session")
def structure() -> ModuleType:
    return load_beside("structure")


@pytest.fixture(scope="session")
def engine() -> Any:
    return require_engine()


@pytest.fixture(scope="session")
def stylesheet(sample: ModuleType) -> Stylesheet:
    return load_stylesheet(sample.CSS, sample.ASSETS)


@pytest.fixture
def render(sample: ModuleType, stylesheet: Stylesheet) -> Callable[..., RenderedPdf]:
    """Render a body, or a whole document, with the sample's look or with other rules."""

    def render_body(body: str, css: str | None = None) -> RenderedPdf:
        html = body if body.startswith("<!doctype") else sample.page(body)
        look = stylesheet if css is None else load_stylesheet(css, sample.ASSETS)
        return render_pdf(html, stylesheet=look, assets=sample.ASSETS)

    return render_body


@pytest.fixture
def render_plain(engine: Any, sample: ModuleType, stylesheet: Stylesheet) -> Callable[..., bytes]:
    """Render as WeasyPrint does without our care: for documents that have to be found bad."""

    def render_bytes(html: str, css: str | None = None, **options: Any) -> bytes:
        look = stylesheet.css if css is None else engine.CSS(string=css, font_config=stylesheet.fonts)
        document = engine.HTML(string=html, url_fetcher=LockedFetcher(sample.ASSETS))
        pdf: bytes = document.write_pdf(
            stylesheets=[look], font_config=stylesheet.fonts, **{"pdf_variant": "pdf/ua-1", **options}
        )
        return pdf

    return render_bytes


@pytest.fixture(scope="session")
def demo_leaflet(content: Content) -> Callable[[str, str], Leaflet]:
    """Return a function that composes the leaflet of a demonstration visit, by its number, in a language, once."""

    @cache
    def composed(number: str, language: str) -> Leaflet:
        (record,) = DEMO_VISITS.glob(f"{number}-*.toml")
        visit = read_visit(record, content, {"language": language})
        plan = judge(visit, content.rule_book.rules.values())
        situation, _ = situation_of(visit, plan, content)
        return compose_to_fit(content, plan.blocks, situation).leaflet

    return composed
