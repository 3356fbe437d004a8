"""From HTML to a tagged PDF with its fonts inside. Only workers import this: it takes a while."""

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from urllib.parse import urlsplit
from urllib.request import url2pathname

from django.conf import settings
from weasyprint import CSS, HTML, Document
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from .kinds import PRINTED

HERE = Path(__file__).parent
# sheet.css is for all documents, the others lie beside theirs.
STYLES = [
    HERE / "sheet.css",
    *(HERE / "kinds" / kind.style for kind in PRINTED.values() if kind.style),
]

# One for the process: each new one would keep its memory for good.
FONTS = FontConfiguration()


class OwnFonts(URLFetcher):  # type: ignore[misc]  # weasyprint has no types
    """A document has nothing to fetch but our own fonts, whatever its text has become."""

    def fetch(self, url: str, headers: dict[str, str] | None = None) -> URLFetcherResponse:
        """Raises ValueError for anything else, which is then left out."""
        parts = urlsplit(url)
        path = Path(url2pathname(parts.path)).resolve()
        if parts.scheme != "file" or settings.FONTS_DIR.resolve() not in path.parents:
            raise ValueError("a document fetches nothing but its fonts")
        return super().fetch(url, headers)


FETCHER = OwnFonts(allowed_protocols=["file"])


def lay_out(html: str) -> Document:
    """The pages of ``html``, which names its paper by a ``@page`` rule of its own."""
    return HTML(string=html, url_fetcher=FETCHER).render(
        stylesheets=[_styles()], font_config=FONTS, pdf_variant="pdf/ua-1", pdf_tags=True
    )


def pdf(documents: Sequence[Document]) -> bytes:
    """One file of all their pages, PDF/UA-1; of the same pages always the same bytes.

    The title is that of the first.
    """
    pages = [page for document in documents for page in document.pages]
    return bytes(documents[0].copy(pages).write_pdf(pdf_variant="pdf/ua-1", pdf_tags=True))


@cache
def _styles() -> CSS:
    fonts = f"{settings.FONTS_DIR.as_uri()}/"
    return CSS(
        string="\n".join(file.read_text(encoding="utf-8") for file in STYLES),
        base_url=fonts,
        font_config=FONTS,
        url_fetcher=FETCHER,
    )
