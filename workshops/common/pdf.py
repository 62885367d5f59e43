"""Paper: HTML in, PDF out. The only file that knows WeasyPrint and its native libraries."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import font_rhd
import font_source_sans_pro

from workshops.common.registry import Refused

# What a Debian or Ubuntu machine lacks when WeasyPrint cannot be loaded.
NATIVE = "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"

_RHD = Path(font_rhd.__file__).parent / "files"
_SOURCE = Path(font_source_sans_pro.__file__).parent / "files"
FACES = (
    ("Red Hat Display", 500, "normal", _RHD / "RedHatDisplay-Medium.ttf"),
    ("Red Hat Display", 700, "normal", _RHD / "RedHatDisplay-Bold.ttf"),
    ("Source Sans Pro", 400, "normal", _SOURCE / "SourceSansPro-Regular.otf"),
    ("Source Sans Pro", 400, "italic", _SOURCE / "SourceSansPro-It.otf"),
    ("Source Sans Pro", 600, "normal", _SOURCE / "SourceSansPro-Semibold.otf"),
    ("Source Sans Pro", 700, "normal", _SOURCE / "SourceSansPro-Bold.otf"),
)


class PaperRefused(Refused):
    """A paper that cannot be made on this machine, with what to do about it."""


def faces_css() -> str:
    """The ``@font-face`` rules of paper: our own font files, never the machine's."""
    return "\n".join(
        f'@font-face {{ font-family: "{family}"; font-weight: {weight}; font-style: {style};'
        f" src: url({path.as_uri()}); }}"
        for family, weight, style, path in FACES
    )


@dataclass(frozen=True, slots=True)
class Pdf:
    """A document as bytes, and how many pages it has."""

    data: bytes
    pages: int


def pdf_from_html(html: str, *, base_url: str | None = None) -> bytes:
    """The document as PDF, its fonts embedded.

    Title, author and keywords come from the document's ``<title>`` and ``<meta>``. Relative
    addresses start at ``base_url``; only files and data URIs are read, no host is asked.

    Raises
    ------
    PaperRefused
        When Pango is missing (the message says what to install), or when the document asks
        for something from another host.
    """
    return pdf_of_sheets([[html]], base_url=base_url).data


def pdf_of_sheets(
    sheets: Iterable[Iterable[str]], *, css: str = "", base_url: str | None = None
) -> Pdf:
    """One PDF of several sheets, each laid out alone; title and author are the first's.

    Parameters
    ----------
    sheets
        Every sheet as ways to lay it out, roomiest first, made when asked for: the first way
        that fits one page is taken, and the last one when none does.
    css
        Styles that all sheets share, read once.

    Raises
    ------
    PaperRefused
        As ``pdf_from_html`` does.
    """
    tools = _tools()
    fonts = tools.FontConfiguration()
    styles = [tools.CSS(string=text, font_config=fonts) for text in (faces_css(), css) if text]

    def lay_out(html: str) -> Any:
        document = tools.HTML(string=html, base_url=base_url, url_fetcher=_fetcher(tools))
        return document.render(stylesheets=styles, font_config=fonts)

    try:
        laid_out = [_fitting(map(lay_out, ways)) for ways in sheets]
        pages = [page for document in laid_out for page in document.pages]
        return Pdf(laid_out[0].copy(pages).write_pdf(), len(pages))
    except tools.FatalURLFetchingError as refused:
        raise PaperRefused(str(refused)) from refused


def _fitting(documents: Iterator[Any]) -> Any:
    """The first of one page, else the last: a caution that runs over is never cut off."""
    document = next(documents)
    while len(document.pages) > 1 and (tighter := next(documents, None)):
        document = tighter
    return document


class _Tools:
    """WeasyPrint's names, once loaded."""

    def __init__(self) -> None:
        from weasyprint import CSS, HTML
        from weasyprint.text.fonts import FontConfiguration
        from weasyprint.urls import FatalURLFetchingError, URLFetcher

        self.CSS, self.HTML, self.FontConfiguration = CSS, HTML, FontConfiguration
        self.FatalURLFetchingError, self.URLFetcher = FatalURLFetchingError, URLFetcher


@cache
def _tools() -> Any:
    # Loaded on first use: the site runs, without paper, on a machine that lacks Pango.
    try:
        return _Tools()
    except OSError as missing:
        raise PaperRefused(
            f"This machine cannot make PDFs yet ({missing.args[0]}). "
            f"Install what is missing: apt-get install {NATIVE}"
        ) from missing


@cache
def _fetcher(tools: Any) -> Any:
    class OnlyFromHere(tools.URLFetcher):  # type: ignore[misc]
        """Reads files and data; anything else stops the paper instead of leaving a hole."""

        def fetch(self, url: str, headers: Any = None) -> Any:
            if not url.startswith(("file:", "data:")):
                raise tools.FatalURLFetchingError(f"Paper takes nothing from elsewhere: {url}")
            return super().fetch(url, headers)

    return OnlyFromHere()
