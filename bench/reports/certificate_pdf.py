"""The certificate of sanitization as PDF: one page, its typeface inside, every letter as it was typed.

The typeface holds Latin, Greek and Cyrillic letters. A name in any other script is refused with a sentence
rather than printed with gaps: the HTML page shows all of them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import as_file, files
from typing import TYPE_CHECKING

from bench.domain.localtime import local_datetime
from bench.domain.text import for_display
from bench.errors import BadInput
from bench.reports.certificate import TITLE, certificate_sections, headlines, notes
from bench.views.certificate import Certificate

if TYPE_CHECKING:
    from fpdf import FPDF

TYPEFACE = "Noto Sans"
FONT = files("fontpkg_noto_sans") / "files" / "NotoSans[wdth,wght].ttf"
MARGIN_MM = 18
_LABEL_MM = 62
_LINE_MM = 5.6
_BODY_PT, _PART_PT, _TITLE_PT, _NOTE_PT = 9.5, 11.5, 17, 8


def certificate_pdf(certificate: Certificate) -> bytes:
    """The certificate as a PDF file, A4. BadInput when a letter cannot be printed in its typeface."""
    from fpdf import FPDF

    pdf = FPDF(format="A4")
    with closing(pdf):
        return _written(pdf, certificate)


@contextmanager
def closing(pdf: FPDF) -> Iterator[None]:
    """Close the typefaces of a PDF in the end."""
    from fpdf.fonts import TTFFont

    try:
        yield
    finally:
        for font in pdf.fonts.values():
            if isinstance(font, TTFFont):
                font.close()


def _written(pdf: FPDF, certificate: Certificate) -> bytes:
    from fpdf import XPos, YPos

    pdf.alias_nb_pages("")  # else {nb} in a name would become the number of pages
    pdf.set_margin(MARGIN_MM)
    pdf.set_auto_page_break(auto=True, margin=MARGIN_MM)
    pdf.set_title(TITLE)
    pdf.set_creation_date(local_datetime(certificate.issued_us, certificate.zone))
    with as_file(FONT) as path:
        pdf.add_font(TYPEFACE, fname=path)
    pdf.add_page()

    def write(text: str, size: float, gap: float = 0) -> None:
        pdf.set_font(TYPEFACE, size=size)
        if gap:
            pdf.ln(gap)
        line = size * 0.59
        pdf.multi_cell(0, line, printable(pdf, text), align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT)

    write(TITLE, _TITLE_PT)
    for line in headlines(certificate):
        write(line, _BODY_PT)
    for part in certificate_sections(certificate):
        write(part.title, _PART_PT, gap=2.5)
        pdf.set_font(TYPEFACE, size=_BODY_PT)
        for label, value in part.fields:
            _field(pdf, label, printable(pdf, value))
    for at, note in enumerate(notes(certificate)):
        write(note, _NOTE_PT, gap=0 if at else 3)
    return bytes(pdf.output())


def _field(pdf: FPDF, label: str, value: str) -> None:
    """A label and its value side by side, over a rule; an empty value leaves room to write."""
    from fpdf import XPos, YPos

    height = _LINE_MM * (1.8 if label == "Signature" else 1)
    if pdf.will_page_break(height):
        pdf.add_page()
    pdf.cell(_LABEL_MM, height, label, new_x=XPos.RIGHT, new_y=YPos.TOP)
    pdf.multi_cell(0, height, value, align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT)
    pdf.set_draw_color(190)
    pdf.line(pdf.l_margin, pdf.get_y(), pdf.w - pdf.r_margin, pdf.get_y())


def printable(pdf: FPDF, text: str) -> str:
    """The same text, if the typeface holds every letter; BadInput names the first it does not.

    A mark that is set over another letter is refused too: it would be printed beside it.
    """
    from fpdf.fonts import TTFFont

    shown = for_display(text)
    font = pdf.fonts[TYPEFACE.lower()]
    assert isinstance(font, TTFFont)
    for letter in shown:
        if ord(letter) not in font.cmap or unicodedata.category(letter) in ("Mn", "Mc"):
            raise BadInput(
                f"The PDF's typeface has no “{letter}” (U+{ord(letter):04X}), so a name would have gaps.",
                "Take it as HTML and print that.",
            )
    return shown
