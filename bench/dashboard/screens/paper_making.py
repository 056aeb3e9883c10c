"""Papers made from use cases: their text to show, and the forms they are saved in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from bench.dashboard.acts.condition import BUYER_SHEET
from bench.desk import Desk
from bench.domain.text import for_display
from bench.errors import NotFound, Refused
from bench.reports.forms import (
    Forms,
    buyer_sheet_forms,
    certificate_forms,
    hand_over_forms,
    listing_forms,
    repair_forms,
)

LISTING, HAND_OVER = "Listing", "Hand-over note"


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper. `name`: of its file; `view`: what it is made from; `forms`: for saving it, if any."""

    title: str
    text: str
    name: str = ""
    view: Any = None
    forms: Forms = field(default_factory=dict)


def unit_papers(desk: Desk, unit_id: int) -> tuple[Paper, ...]:
    """The papers of a unit; one that cannot be written yet says why."""
    from bench.views.buyer_sheet import read_buyer_sheet
    from bench.views.hand_over import read_hand_over
    from bench.views.listing import read_listing

    sheet = read_buyer_sheet(desk, unit_id)
    tag = sheet.tag
    return (
        _paper(LISTING, f"listing-{tag}", lambda: read_listing(desk, unit_id), listing_forms()),
        _paper(BUYER_SHEET, f"buyer-sheet-{tag}", lambda: sheet, buyer_sheet_forms()),
        _paper(HAND_OVER, f"hand-over-{tag}", lambda: read_hand_over(desk, unit_id), hand_over_forms()),
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
