"""Paper: the PDFs carry our fonts and their own names, and nothing comes from outside."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader

from workshops.common import pdf

PAGE = """<html lang="en"><head><title>Card of the drill</title>
<meta name="author" content="Teal Point"><style>
@page { size: Letter } h1 { font-family: "Red Hat Display" } p { font-family: "Source Sans Pro" }
</style></head><body><h1>Drill</h1><p>Hole at 8 3/4 in</p></body></html>"""


def read(made: bytes) -> PdfReader:
    return PdfReader(BytesIO(made))


def test_the_title_and_the_author_are_those_of_the_document() -> None:
    facts = read(pdf.pdf_from_html(PAGE)).metadata
    assert facts is not None
    assert (facts.title, facts.author) == ("Card of the drill", "Teal Point")


def test_our_fonts_are_embedded_whatever_the_machine_has() -> None:
    fonts = read(pdf.pdf_from_html(PAGE)).pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    names = " ".join(str(font.get_object()["/BaseFont"]) for font in fonts.values())
    assert "Red-Hat-Display" in names
    assert "Source-Sans-Pro" in names


def test_the_words_can_be_read_back() -> None:
    assert "Hole at 8 3/4 in" in read(pdf.pdf_from_html(PAGE)).pages[0].extract_text()


def test_every_font_file_exists() -> None:
    assert all(path.is_file() for *_, path in pdf.FACES)


def test_a_picture_from_another_host_is_refused_by_its_address() -> None:
    page = PAGE.replace("<h1>", '<img src="https://example.org/a.png"><h1>')
    with pytest.raises(pdf.PaperRefused, match="nothing from elsewhere"):
        pdf.pdf_from_html(page)


def test_a_machine_without_pango_is_told_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing() -> None:
        raise OSError("cannot load library 'pango-1.0-0'")

    monkeypatch.setattr(pdf, "_Tools", missing)
    pdf._tools.cache_clear()
    with pytest.raises(pdf.PaperRefused, match="apt-get install libpango"):
        pdf.pdf_from_html(PAGE)
    pdf._tools.cache_clear()
