"""A paper of a few parts in the forms that people are given: plain text, one HTML page, PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.resources import as_file
from typing import TYPE_CHECKING

from bench.domain.localtime import local_datetime
from bench.reports.certificate_pdf import FONT, MARGIN_MM, TYPEFACE, closing, printable
from bench.reports.html_page import facts_table, heading, items, page, paragraph, rows_table
from bench.reports.plain_tables import one_line, sections, table, under, wrapped

if TYPE_CHECKING:
    from fpdf import FPDF

_LABEL_MM, _LINE_MM = 50, 5.6
_BODY_PT, _PART_PT, _TITLE_PT, _NOTE_PT = 9.5, 11.5, 17, 8


@dataclass(frozen=True, slots=True)
class PaperPart:
    """A part: facts with their labels, a table whose first column is words, or lines of a list."""

    title: str
    facts: tuple[tuple[str, str], ...] = ()
    headings: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    lines: tuple[str, ...] = ()

    @property
    def empty(self) -> bool:
        """Whether there is nothing in it."""
        return not (self.facts or self.rows or self.lines)


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
    from fpdf import FPDF, XPos, YPos

    pdf = FPDF(format="A4")
    with closing(pdf):
        pdf.alias_nb_pages("")
        pdf.set_margin(MARGIN_MM)
        pdf.set_auto_page_break(auto=True, margin=MARGIN_MM)
        pdf.set_title(paper.title)
        pdf.set_creation_date(local_datetime(paper.made_us, paper.zone))
        with as_file(FONT) as path:
            pdf.add_font(TYPEFACE, fname=path)
        pdf.add_page()

        def write(text: str, size: float, gap: float = 0) -> None:
            pdf.set_font(TYPEFACE, size=size)
            pdf.ln(gap)
            shown = printable(pdf, text)
            pdf.multi_cell(0, size * 0.59, shown, align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT)

        write(paper.title, _TITLE_PT)
        for part in (one for one in paper.parts if not one.empty):
            _draw(pdf, part, write)
        for at, note in enumerate(paper.notes):
            write(note, _NOTE_PT, gap=0 if at else 3)
        return bytes(pdf.output())


def _draw(pdf: FPDF, part: PaperPart, write: Callable[..., None]) -> None:
    if part.title:
        write(part.title, _PART_PT, gap=2.5)
    for label, value in part.facts:
        _row(pdf, (label, value), (_LABEL_MM, pdf.epw - _LABEL_MM))
    if part.rows:
        widths = _widths(pdf.epw, len(part.headings))
        for cells in (part.headings, *part.rows):
            _row(pdf, cells, widths)
    for line in part.lines:
        write(f"– {line}", _BODY_PT)


def _row(pdf: FPDF, cells: Sequence[str], widths: Sequence[float]) -> None:
    """Cells side by side over a rule; of more than two, all but the first are figures."""
    pdf.set_font(TYPEFACE, size=_BODY_PT)
    if pdf.will_page_break(_LINE_MM):
        pdf.add_page()
    top, lowest, left = pdf.get_y(), pdf.get_y(), pdf.l_margin
    for at, (cell, width) in enumerate(zip(cells, widths, strict=True)):
        pdf.set_xy(left, top)
        figure = at > 0 and len(cells) > len(("label", "value"))
        pdf.multi_cell(width, _LINE_MM, printable(pdf, cell), align="R" if figure else "L")
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
    lines = [wrapped(f"{label:<{width}}{value}", indent=width) for label, value in part.facts]
    if part.rows:
        lines.append(table(part.headings, part.rows))
    lines += [wrapped(f"- {line}", indent=2) for line in part.lines]
    body = "\n".join(lines)
    return under(part.title, body) if part.title else body


def _part_html(part: PaperPart) -> str:
    told = [heading(part.title)] if part.title else []
    if part.facts:
        told.append(facts_table(part.facts))
    told += [rows_table(part.headings, part.rows), items(part.lines)]
    return "\n".join(one for one in told if one)
