"""The only source of pictures and fonts while a leaflet is rendered: what the caller hands over, held in memory.

Neither the disk nor the network can be reached through a leaflet. Left to itself, WeasyPrint reads any `file:` address,
follows `http:`, and can attach a local file to the document.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

SCHEME = "asset:"
"""Every address that a leaflet may name starts so."""


@dataclass(frozen=True)
class Asset:
    """One file that a leaflet may use.

    Attributes:
        body: the content of the file.
        media_type: what it is, as in `image/svg+xml` or `image/jpeg`.

    """

    body: bytes
    media_type: str


class LockedFetcher:
    """Fetches for WeasyPrint from the given assets, and stops the rendering at any other address.

    Attributes:
        assets: each under its whole address, as in `asset:figures/ear-left.svg`.
        refused: the addresses that were asked for and are not among the assets, in the order of asking.

    """

    def __init__(self, assets: Mapping[str, Asset]) -> None:
        self.assets = assets
        self.refused: list[str] = []

    def __call__(self, url: str, headers: object = None) -> Any:  # noqa: ANN401, ARG002 # WeasyPrint's signature
        """Return the response for one address, or raise WeasyPrint's `FatalURLFetchingError`."""
        # WeasyPrint is slow to import, and `Asset` is needed where nothing is rendered.
        from weasyprint.urls import FatalURLFetchingError, URLFetcherResponse  # noqa: PLC0415

        asset = self.assets.get(url) if url.startswith(SCHEME) else None
        if asset is None:
            self.refused.append(url)
            # Any other exception would only be logged, and the rendering would go on.
            raise FatalURLFetchingError(url)
        return URLFetcherResponse(url, asset.body, {"Content-Type": asset.media_type})
