"""Papers of a unit: the listing, the buyer's sheet, the hand-over note; and the certificate of a wipe."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import PurePath
from typing import Any, ClassVar

from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.condition import BUYER_SHEET
from bench.dashboard.doing import Doing
from bench.dashboard.presenters.paper_lines import paper_lines
from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.screens.document import Document
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.desk import Desk
from bench.domain.text import for_display
from bench.errors import NotFound, Refused
from bench.reports.forms import (
    Forms,
    buyer_sheet_forms,
    cards_forms,
    certificate_forms,
    hand_over_forms,
    labels_forms,
    listing_forms,
    repair_forms,
)
from bench.views.listing import Listing, read_listing

LISTING, HAND_OVER, LABEL = "Listing", "Hand-over note", "Label"


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper. `name`: of its file; `view`: what it is made from; `forms`: for saving it, if any.

    `ending`: of the file that is proposed.
    """

    title: str
    text: str
    name: str = ""
    view: Any = None
    forms: Forms = field(default_factory=dict)
    ending: str = ".txt"


def unit_papers(desk: Desk, unit_id: int) -> tuple[Paper, ...]:
    """The papers of a unit; one that cannot be written yet says why."""
    from bench.views.buyer_sheet import read_buyer_sheet
    from bench.views.hand_over import read_hand_over
    from bench.views.labels import unit_labels

    sheet = read_buyer_sheet(desk, unit_id)
    tag = sheet.tag
    return (
        _paper(LISTING, f"listing-{tag}", lambda: read_listing(desk, unit_id), listing_forms()),
        _paper(BUYER_SHEET, f"buyer-sheet-{tag}", lambda: sheet, buyer_sheet_forms()),
        _paper(HAND_OVER, f"hand-over-{tag}", lambda: read_hand_over(desk, unit_id), hand_over_forms()),
        replace(
            _paper(LABEL, f"label-{tag}", lambda: unit_labels(desk, [tag]), labels_forms()), ending=".pdf"
        ),
    )


def repair_papers(desk: Desk, unit_id: int) -> tuple[Paper, ...]:
    """The papers of a unit's newest repair; one that cannot be written yet says why."""
    from bench.views.repair_jobs import the_job
    from bench.views.repair_papers import BILL, HAND_BACK, QUOTE, read_repair_paper

    tag = the_job(desk, unit_id).job.tag
    return tuple(
        _paper(title, f"{name}-{tag}", partial(read_repair_paper, desk, unit_id, kind), repair_forms())
        for title, name, kind in (
            ("Quote", "quote", QUOTE),
            ("Bill", "bill", BILL),
            ("Hand-back note", "hand-back", HAND_BACK),
        )
    )


def certificate_paper(desk: Desk, wipe_id: int) -> Paper:
    """The certificate of a wipe, or why there is none."""

    def read() -> object:
        from bench.views.certificate import read_certificate

        return read_certificate(desk, wipe_id)

    return _paper("Certificate of sanitization", f"certificate-{wipe_id}", read, certificate_forms())


def _paper(title: str, name: str, read: Callable[[], Any], forms: Forms) -> Paper:
    try:
        view = read()
    except (NotFound, Refused) as error:  # not sold yet, not verified yet: the paper says so
        return Paper(title, str(error))
    text = forms[".txt"](view)
    assert isinstance(text, str)
    return Paper(title, text, for_display(name), view, forms)


Papers = tuple[Paper, ...]


class PapersScreen(Sheet[Papers]):
    """One paper at a time; `begin`: which one is shown first."""

    keys = "papers"
    has_tables = False
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

    def listing_here(self) -> Listing | None:
        """The listing, while it is shown."""
        view = self.paper.view if self.paper is not None else None
        return view if isinstance(view, Listing) else None

    def paper_here(self) -> Paper | None:
        """The paper that is shown."""
        return self.paper

    def document_here(self) -> Document | None:
        """The same to be saved; None where it cannot be written yet."""
        paper = self.paper
        if paper is None or not paper.forms:
            return None
        return Document(paper.title, paper.view, paper.forms, f"{paper.name}{paper.ending}")

    def _names(self, papers: Papers, width: int) -> Line:
        del width
        shown = self.paper
        return tuple(
            Part(f" {'►' if one is shown else ' '} {one.title} ", "strong" if one is shown else "muted")
            for one in papers
        )


def save_cards(screen: Doing) -> None:
    """Ask for the file into which the action cards go."""
    from bench.views.labels import action_cards

    def then(cards: object) -> None:
        screen.open_screen(places.SAVE_DOCUMENT, "action cards", cards, cards_forms(), "cards.pdf")

    screen.do(partial(action_cards, screen.desk), then)


class CertificateScreen(PapersScreen):
    """The certificate of one wipe."""

    def __init__(self, wipe_id: int) -> None:
        super().__init__(0)
        self.wipe_id = wipe_id

    def read(self) -> Callable[[], Papers]:
        """The certificate, or why there is none."""
        desk, wipe_id = self.desk, self.wipe_id
        return lambda: (certificate_paper(desk, wipe_id),)
