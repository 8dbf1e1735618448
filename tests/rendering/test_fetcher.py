import io
import socket
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pikepdf
import pytest

from leaflets.errors import LeafletError
from leaflets.render.fetcher import Asset, LockedFetcher
from leaflets.render.pdf import RenderedPdf, Stylesheet, load_stylesheet, render_pdf

Render = Callable[..., RenderedPdf]

EVERY_WAY_TO_NAME_AN_ADDRESS = [
    "<img alt='a' src='{}'>",
    "<object data='{}'></object>",
    "<embed src='{}'>",
    "<link rel='stylesheet' href='{}'>",
    "<link rel='attachment' href='{}'>",
    "<a rel='attachment' href='{}'>a</a>",
    "<p style='background: url({})'>a</p>",
    "<p style='list-style: url({}) inside; display: list-item'>a</p>",
    "<style>p::before {{ content: url({}) }}</style><p>a</p>",
    "<style>@import url({});</style><p>a</p>",
    "<style>@font-face {{ font-family: a; src: url({}) }} p {{ font-family: a }}</style><p>a</p>",
    "<svg viewBox='0 0 9 9'><title>a</title><image href='{}' width='9' height='9'/></svg>",
]


@pytest.fixture
def secret(tmp_path: Path) -> Path:
    file = tmp_path / "secret.txt"
    file.write_text("not for print")
    return file


@pytest.fixture
def no_network(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """Keep the addresses that anything tries to connect to."""
    tried: list[Any] = []

    def refuse(_socket: socket.socket, address: Any) -> None:
        tried.append(address)
        raise OSError

    monkeypatch.setattr(socket.socket, "connect", refuse)
    return tried


@pytest.mark.parametrize("markup", EVERY_WAY_TO_NAME_AN_ADDRESS)
def test_no_file_of_the_disk_can_be_reached(markup: str, secret: Path, render: Render) -> None:
    with pytest.raises(LeafletError, match=r"^leaflet: 'file:.*is not an asset"):
        render(markup.format(secret.as_uri()))


@pytest.mark.parametrize("markup", EVERY_WAY_TO_NAME_AN_ADDRESS)
@pytest.mark.parametrize("scheme", ["http", "https", "ftp"])
def test_the_network_cannot_be_reached(markup: str, scheme: str, no_network: list[Any], render: Render) -> None:
    with pytest.raises(LeafletError, match=f"'{scheme}://127.0.0.1/a' is not an asset"):
        render(markup.format(f"{scheme}://127.0.0.1/a"))
    assert no_network == []


def test_no_address_carries_its_own_data(render: Render) -> None:
    with pytest.raises(LeafletError, match="'data:text/css,a' is not an asset"):
        render("<link rel='stylesheet' href='data:text/css,a'>")


@pytest.mark.parametrize("base", ["file:///", "http://127.0.0.1/"])
def test_a_base_address_opens_nothing(base: str, sample: ModuleType, render: Render) -> None:
    head = f"<title>a</title><base href='{base}'>"
    with pytest.raises(LeafletError, match=f"'{base}a.svg' is not an asset"):
        render(sample.page("<img alt='a' src='a.svg'>", head=head))


def test_a_relative_address_is_an_error(render: Render) -> None:
    with pytest.raises(LeafletError, match="Relative URI reference without a base URI"):
        render("<img alt='a' src='circle.svg'>")


def test_a_style_sheet_cannot_import_from_elsewhere(secret: Path, no_network: list[Any]) -> None:
    for address in (secret.as_uri(), "http://127.0.0.1/a.css"):
        with pytest.raises(LeafletError, match=r"^style sheet: .* is not an asset"):
            load_stylesheet(f"@import url({address});", {})
    assert no_network == []


def test_a_style_sheet_can_import_an_asset() -> None:
    broken = Asset(b"p { colour: red }", "text/css")
    with pytest.raises(LeafletError, match="unknown property"):
        load_stylesheet("@import url(asset:a.css);", {"asset:a.css": broken})


def test_an_asset_with_a_misspelt_address_is_named_with_the_nearest(render: Render) -> None:
    with pytest.raises(LeafletError, match=r"'asset:cirkle.svg'.*did you mean 'asset:circle.svg'"):
        render("<img alt='a' src='asset:cirkle.svg'>")


def test_an_address_that_is_no_asset_is_refused_even_among_the_assets(stylesheet: Stylesheet) -> None:
    address = "http://127.0.0.1/a.svg"
    assets = {address: Asset(b"<svg/>", "image/svg+xml")}
    with pytest.raises(LeafletError, match="is not an asset"):
        render_pdf(
            f"<html lang='en'><title>a</title><img alt='a' src='{address}'></html>",
            stylesheet=stylesheet,
            assets=assets,
        )


def attached(pdf: bytes) -> list[bytes]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [opened.attachments[name].get_file().read_bytes() for name in opened.attachments]


def test_left_to_itself_weasyprint_attaches_a_file_of_the_disk(
    secret: Path, engine: Any, stylesheet: Stylesheet
) -> None:
    html = f"<html lang='en'><title>a</title><link rel='attachment' href='{secret.as_uri()}'></html>"
    pdf = engine.HTML(string=html).write_pdf(font_config=stylesheet.fonts)
    assert attached(pdf) == [b"not for print"]


@pytest.mark.usefixtures("engine")
def test_what_is_fetched_is_the_asset_itself() -> None:
    response = LockedFetcher({"asset:a": Asset(b"body", "image/jpeg")})("asset:a")
    assert (response.read(), response.content_type) == (b"body", "image/jpeg")
