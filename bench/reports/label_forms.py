"""Labels as files: PDF, one PNG a label, and a raw file for label printers that know ZPL II."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import as_file
from io import BytesIO
from typing import TYPE_CHECKING

from bench.domain.labels import CARDS, USUAL, Label, LabelSheet, LabelSize
from bench.domain.text import for_display
from bench.reports.certificate_pdf import FONT, TYPEFACE, closing, printable
from bench.reports.label_drawing import Drawing, Words, draw

if TYPE_CHECKING:
    from fpdf import FPDF
    from PIL.ImageFont import FreeTypeFont

DOTS_PER_MM = 12  # 300 dpi; 304.8 exactly
ZPL_DOTS_PER_MM = 8  # 203 dpi, what most label printers have
_POINTS_PER_MM = 72 / 25.4


def labels_text(labels: Sequence[Label]) -> str:
    """What stands on the labels, and the code of each."""
    told = ("\n".join((one.title, *one.lines, f"QR code and bars: {one.code}")) for one in labels)
    return "\n\n".join(told) + "\n"


def labels_as_pdf(labels: Sequence[Label]) -> bytes:
    """Labels of the usual size, a page each."""
    return labels_pdf([draw(one, USUAL) for one in labels])


def labels_as_png(labels: Sequence[Label]) -> bytes:
    """The first label, of the usual size."""
    return label_png(draw(labels[0], USUAL))


def labels_as_zpl(labels: Sequence[Label]) -> bytes:
    """Labels of the usual size for a label printer."""
    return labels_zpl([one.code for one in labels], [draw(one, USUAL) for one in labels])


def cards_as_pdf(labels: Sequence[Label]) -> bytes:
    """Cards, ten on a sheet."""
    return labels_pdf([draw(one, CARDS.label) for one in labels], CARDS)


def labels_pdf(drawings: Sequence[Drawing], sheet: LabelSheet | None = None) -> bytes:
    """The labels as a PDF: a page a label, or many on a sheet. BadInput for letters that it cannot print."""
    from fpdf import FPDF

    size = (
        (sheet.width_mm, sheet.height_mm)
        if sheet is not None
        else (drawings[0].size.width_mm, drawings[0].size.height_mm)
    )
    pdf = FPDF(format=size)
    with closing(pdf):
        pdf.alias_nb_pages("")
        pdf.set_margin(0)
        pdf.set_auto_page_break(auto=False)
        with as_file(FONT) as path:
            pdf.add_font(TYPEFACE, fname=path)
        pages = 0
        for number, drawing in enumerate(drawings):
            page, x, y = sheet.place_mm(number) if sheet is not None else (number, 0, 0)
            while pages <= page:
                pdf.add_page()
                pages += 1
            _draw_pdf(pdf, drawing, x, y)
        return bytes(pdf.output())


def label_png(drawing: Drawing) -> bytes:
    """One label as a picture in black and white, 305 dots an inch."""
    from PIL import Image, ImageDraw

    size = (drawing.size.width_mm * DOTS_PER_MM, drawing.size.height_mm * DOTS_PER_MM)
    picture = Image.new("L", size, 255)
    pen = ImageDraw.Draw(picture)
    for box in drawing.boxes:
        left, top = round(box.x * DOTS_PER_MM), round(box.y * DOTS_PER_MM)
        right, bottom = round((box.x + box.width) * DOTS_PER_MM), round((box.y + box.height) * DOTS_PER_MM)
        pen.rectangle((left, top, max(right - 1, left), max(bottom - 1, top)), fill=0)
    with as_file(FONT) as path:
        from PIL import ImageFont

        for words in drawing.words:
            font = ImageFont.truetype(str(path), round(words.height * DOTS_PER_MM))
            pen.text(
                (words.x * DOTS_PER_MM, words.y * DOTS_PER_MM),
                _cut_to(font, for_display(words.text), words.room * DOTS_PER_MM),
                font=font,
                fill=0,
                anchor="lt",
            )
    answer = BytesIO()
    picture.save(answer, "PNG", dpi=(DOTS_PER_MM * 25.4, DOTS_PER_MM * 25.4))
    return answer.getvalue()


def labels_zpl(codes: Sequence[str], drawings: Sequence[Drawing]) -> bytes:
    """The labels as commands of ZPL II, which the printer draws itself: QR code, lines, bars.

    Source: ZPL II Programming Guide (^XA ^XZ ^PW ^LL ^CI ^FO ^A ^FH ^FD ^FS ^BQ ^BC ^BY; from memory).
    Every character of text but letters and digits of ASCII is written as its bytes in hexadecimal (^FH),
    so that no text can be a command.
    """
    return "".join(_one_zpl(code, drawing) for code, drawing in zip(codes, drawings, strict=True)).encode(
        "ascii"
    )


def _draw_pdf(pdf: FPDF, drawing: Drawing, x: float, y: float) -> None:
    pdf.set_fill_color(0)
    for box in drawing.boxes:
        pdf.rect(x + box.x, y + box.y, box.width, box.height, style="F")
    for words in drawing.words:
        pdf.set_font(TYPEFACE, size=words.height * _POINTS_PER_MM)
        text = printable(pdf, words.text)
        while text and pdf.get_string_width(text) > words.room:
            text = text[:-1]
        pdf.text(x + words.x, y + words.y + words.height * 0.8, text)


def _cut_to(font: FreeTypeFont, text: str, room: float) -> str:
    while text and font.getlength(text) > room:
        text = text[:-1]
    return text


def _one_zpl(code: str, drawing: Drawing) -> str:
    size = drawing.size
    lines = [
        "^XA",
        "^CI28",  # text is UTF-8
        f"^PW{_dots(size.width_mm)}",
        f"^LL{_dots(size.height_mm)}",
        f"^FO{_dots(1.5)},{_dots(1.5)}^BQN,2,{_magnification(size)}^FH_^FDMA,{zpl_text(code)}^FS",
    ]
    lines += [_zpl_words(words) for words in drawing.words]
    # “>” would be a command to the printer's own coding of bars.
    if ">" not in code and any(box.height > box.width * 5 for box in drawing.boxes):
        top = max(box.y for box in drawing.boxes)
        lines.append(f"^FO{_dots(2)},{_dots(top)}^BY2^BCN,{_dots(7)},N,N,N,A^FH_^FD{zpl_text(code)}^FS")
    lines.append("^XZ\n")
    return "\n".join(lines)


def _zpl_words(words: Words) -> str:
    # As many letters as stand in the room: a letter of font 0 is about as wide as it is high, less a half.
    text = for_display(words.text)[: max(1, int(words.room / (words.height * 0.55)))]
    height = _dots(words.height)
    return f"^FO{_dots(words.x)},{_dots(words.y)}^A0N,{height},{height}^FH_^FD{zpl_text(text)}^FS"


def zpl_text(text: str) -> str:
    """Text as it stands behind ^FH_: letters and digits as they are, all else as bytes in hexadecimal."""
    return "".join(
        chr(byte) if chr(byte).isascii() and chr(byte).isalnum() else f"_{byte:02X}" for byte in text.encode()
    )


def _magnification(size: LabelSize) -> int:
    """How many dots a square of the QR code is wide, 1 to 10 (^BQ)."""
    side_mm = min(size.height_mm - 3.0, size.width_mm * 0.45)
    return max(1, min(10, int(side_mm * ZPL_DOTS_PER_MM / 29)))


def _dots(mm: float) -> int:
    return round(mm * ZPL_DOTS_PER_MM)
