"""Papers of a unit: the listing, the buyer's sheet, the hand-over note; and the certificate of a wipe."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePath
from typing import ClassVar

from textual.widget import Widget

from bench.dashboard.presenters.paper_lines import paper_lines
from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.screens.document import Document
from bench.dashboard.screens.paper_making import (
    LISTING,
    Paper,
    certificate_paper,
    unit_papers,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.lines_scroll import LinesScroll

Papers = tuple[Paper, ...]


class PapersScreen(Sheet[Papers]):
    """One paper at a time; `begin`: which one is shown first."""

    keys = "papers"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "papers.tcss"]
    AUTO_FOCUS = "LinesScroll"

    def __init__(self, unit_id: int, begin: str = LISTING) -> None:
        super().__init__()
        self.unit_id = unit_id
        self.shown = begin

    def panels(self) -> Iterable[Widget]:
        """The text of the paper."""
        yield LinesScroll(id="paper")

    def read(self) -> Callable[[], Papers]:
        """The unit's papers."""
        desk, unit_id = self.desk, self.unit_id
        return lambda: unit_papers(desk, unit_id)

    def show(self, facts: Papers) -> None:
        """The paper that is chosen, and the names of all."""
        paper = self.paper
        self.query_one("#head", LinesPanel).show(lambda width: (self._names(facts, width),))
        if paper is not None:
            text = self.query_one(LinesScroll)
            text.border_title = paper.title
            text.show(lambda width: paper_lines(paper.text, width))

    @property
    def paper(self) -> Paper | None:
        """The paper that is shown."""
        papers = self.facts or ()
        return next((one for one in papers if one.title == self.shown), papers[0] if papers else None)

    def action_next_paper(self) -> None:
        """Show the next one."""
        papers = self.facts or ()
        if papers and self.paper is not None:
            self.shown = papers[(papers.index(self.paper) + 1) % len(papers)].title
            self.show(papers)
            self.query_one(LinesScroll).bring_into_view(range(1))

    def paper_here(self) -> Paper | None:
        """The paper that is shown."""
        return self.paper

    def document_here(self) -> Document | None:
        """The same to be saved; None where it cannot be written yet."""
        paper = self.paper
        if paper is None or not paper.forms:
            return None
        return Document(paper.title, paper.view, paper.forms, f"{paper.name}.txt")

    def _names(self, papers: Papers, width: int) -> Line:
        del width
        shown = self.paper
        return tuple(
            Part(f" {'►' if one is shown else ' '} {one.title} ", "strong" if one is shown else "muted")
            for one in papers
        )


class CertificateScreen(PapersScreen):
    """The certificate of one wipe."""

    def __init__(self, wipe_id: int) -> None:
        super().__init__(0)
        self.wipe_id = wipe_id

    def read(self) -> Callable[[], Papers]:
        """The certificate, or why there is none."""
        desk, wipe_id = self.desk, self.wipe_id
        return lambda: (certificate_paper(desk, wipe_id),)
