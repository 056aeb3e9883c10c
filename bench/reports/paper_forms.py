"""A paper of a few parts in the forms that people are given: plain text, one HTML page, PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.resources import as_file
from io import BytesIO
from typing import TYPE_CHECKING, Any

from bench.domain.localtime import local_datetime
from bench.reports.certificate_pdf import FONT, MARGIN_MM, TYPEFACE, closing, printable
from bench.reports.html_page import (
    facts_table,
    heading,
    items,
    page,
    paragraph,
    rows_table,
    told_html,
    words_of,
)
from bench.reports.photographs import NOT_THERE, figure_of, photograph_words, small_jpeg
from bench.reports.plain_tables import one_line, sections, table, told, under, wrapped
from bench.views.columns import Table
from bench.views.photographs import ShownPhotograph

if TYPE_CHECKING:
    from fpdf import FPDF

_LABEL_MM, _LINE_MM, _PICTURE_MM = 50, 5.6, 80
_BODY_PT, _PART_PT, _TITLE_PT, _NOTE_PT = 9.5, 11.5, 17, 8


@dataclass(frozen=True, slots=True)
class PaperPart:
    """A part: sentences, facts with their labels, a table whose first column is words, lines of a list.

    `told`: a described table of words and its records. Photographs stand last.
    """

    title: str
    says: tuple[str, ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    headings: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    told: tuple[Table[Any], tuple[Any, ...]] | None = None
    lines: tuple[str, ...] = ()
    photographs: tuple[ShownPhotograph, ...] = ()

    @property
    def empty(self) -> bool:
        """Whether there is nothing in it."""
        table = self.told is not None and self.told[1]
        return not (self.says or self.facts or self.rows or table or self.lines or self.photographs)


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper whole. `notes`: in smaller letters at its end."""

    title: str
    parts: tuple[PaperPart, ...]
    notes: tuple[str, ...]
    zone: str
    made_us: int


def paper_text(paper: Paper) -> str:
    """The paper in plain text."""
    told = (_part_text(part) for part in paper.parts if not part.empty)
    return sections(one_line(paper.title), *told, "\n".join(map(wrapped, paper.notes)))


def paper_html(paper: Paper) -> str:
    """The paper as one HTML page."""
    parts = [_part_html(part) for part in paper.parts if not part.empty]
    return page(paper.title, *parts, *(paragraph(note, note=True) for note in paper.notes))


def paper_pdf(paper: Paper) -> bytes:
    """The paper as a PDF file, A4. BadInput when a letter cannot be printed in its typeface."""
    return papers_pdf([paper])


def papers_pdf(papers: Sequence[Paper]) -> bytes:
    """The papers as one PDF file, each from a new page on."""
    from fpdf import FPDF, XPos, YPos

    pdf = FPDF(format="A4")
    with closing(pdf):
        pdf.alias_nb_pages("")
        pdf.set_margin(MARGIN_MM)
        pdf.set_auto_page_break(auto=True, margin=MARGIN_MM)
        pdf.set_title(", ".join(paper.title for paper in papers))
        pdf.set_creation_date(local_datetime(papers[0].made_us, papers[0].zone))
        with as_file(FONT) as path:
            pdf.add_font(TYPEFACE, fname=path)

        def write(text: str, size: float, gap: float = 0) -> None:
            pdf.set_font(TYPEFACE, size=size)
            pdf.ln(gap)
            shown = printable(pdf, text)
            pdf.multi_cell(0, size * 0.59, shown, align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT)

        for paper in papers:
            pdf.add_page()
            write(paper.title, _TITLE_PT)
            for part in (one for one in paper.parts if not one.empty):
                _draw(pdf, part, write)
            for at, note in enumerate(paper.notes):
                write(note, _NOTE_PT, gap=0 if at else 3)
        return bytes(pdf.output())


def _draw(pdf: FPDF, part: PaperPart, write: Callable[..., None]) -> None:
    if part.title:
        write(part.title, _PART_PT, gap=2.5)
    for words in part.says:
        write(words, _BODY_PT)
    for label, value in part.facts:
        _row(pdf, (label, value), (_LABEL_MM, pdf.epw - _LABEL_MM))
    if part.rows:
        widths = _widths(pdf.epw, len(part.headings))
        for cells in (part.headings, *part.rows):
            _row(pdf, cells, widths, figures=len(cells) > len(("label", "value")))
    if part.told is not None and part.told[1]:
        for cells in words_of(*part.told):
            _row(pdf, cells, [pdf.epw / len(cells)] * len(cells))
    for line in part.lines:
        write(f"– {line}", _BODY_PT)
    for one in part.photographs:
        _draw_photograph(pdf, one, write)


def _draw_photograph(pdf: FPDF, one: ShownPhotograph, write: Callable[..., None]) -> None:
    """A picture over its words, never parted by the end of a page; one that is missing says so."""
    from PIL import Image

    small = small_jpeg(one)
    if small is None:
        write(f"{one.words or one.name} ({NOT_THERE})", _BODY_PT)
        return
    with Image.open(BytesIO(small)) as picture:
        height = min(_PICTURE_MM, pdf.epw * picture.height / picture.width)
    if pdf.will_page_break(height + 2 * _LINE_MM):
        pdf.add_page()
    pdf.ln(1)
    pdf.image(BytesIO(small), x=pdf.l_margin, h=height)
    write(one.words or one.name, _NOTE_PT)


def _row(pdf: FPDF, cells: Sequence[str], widths: Sequence[float], *, figures: bool = False) -> None:
    """Cells side by side over a rule; `figures` but for the first."""
    pdf.set_font(TYPEFACE, size=_BODY_PT)
    if pdf.will_page_break(_LINE_MM):
        pdf.add_page()
    top, lowest, left = pdf.get_y(), pdf.get_y(), pdf.l_margin
    for at, (cell, width) in enumerate(zip(cells, widths, strict=True)):
        pdf.set_xy(left, top)
        align = "R" if figures and at > 0 else "L"
        pdf.multi_cell(width, _LINE_MM, printable(pdf, cell), align=align)
        lowest, left = max(lowest, pdf.get_y()), left + width
    pdf.set_y(lowest)
    pdf.set_draw_color(190)
    pdf.line(pdf.l_margin, lowest, pdf.w - pdf.r_margin, lowest)


def _widths(room: float, columns: int) -> list[float]:
    """The first column has what the figures leave."""
    figure = min(28.0, room * 0.6 / max(1, columns - 1))
    return [room - figure * (columns - 1), *[figure] * (columns - 1)]


def _part_text(part: PaperPart) -> str:
    width = max((len(label) for label, _ in part.facts), default=0) + 2
    lines = list(map(wrapped, part.says))
    lines += [wrapped(f"{label:<{width}}{value}", indent=width) for label, value in part.facts]
    if part.rows:
        lines.append(table(part.headings, part.rows))
    if part.told is not None:
        lines.append(told(*part.told))
    lines += [wrapped(f"- {line}", indent=2) for line in (*part.lines, *photograph_words(part.photographs))]
    body = "\n".join(lines)
    return under(part.title, body) if part.title else body


def _part_html(part: PaperPart) -> str:
    written = [heading(part.title)] if part.title else []
    written += map(paragraph, part.says)
    if part.facts:
        written.append(facts_table(part.facts))
    written.append(rows_table(part.headings, part.rows))
    if part.told is not None:
        written.append(told_html(*part.told))
    written += [items(part.lines), *map(figure_of, part.photographs)]
    return "\n".join(one for one in written if one)
