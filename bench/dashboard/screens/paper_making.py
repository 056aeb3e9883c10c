"""Papers made from use cases: their text to show, and the same in every format they are saved in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from bench.domain.text import for_display
from bench.errors import NotFound, Refused
from bench.work.desk import Desk

LISTING, BUYER_SHEET, HAND_OVER, CERTIFICATE = "listing", "buyer-sheet", "hand-over", "certificate"
Document = Callable[[Any], str | bytes]


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper. `view`: what it is made from; `endings`: the formats it can be saved in, perhaps none."""

    kind: str
    title: str
    text: str
    name: str = ""
    view: Any = None
    endings: tuple[str, ...] = ()

    def document(self, ending: str) -> str | bytes:
        """The paper in the format of that ending."""
        return _documents(self.kind)[ending](self.view)


def unit_papers(desk: Desk, unit_id: int) -> tuple[Paper, ...]:
    """The papers of a unit; one that cannot be written yet says why."""
    from bench.work.buyer_sheet import read_buyer_sheet
    from bench.work.listing import read_hand_over, read_listing

    sheet = read_buyer_sheet(desk, unit_id)
    return (
        _paper(LISTING, "Listing", sheet.tag, lambda: read_listing(desk, unit_id)),
        _paper(BUYER_SHEET, "Buyer's sheet", sheet.tag, lambda: sheet),
        _paper(HAND_OVER, "Hand-over note", sheet.tag, lambda: read_hand_over(desk, unit_id)),
    )


def certificate_paper(desk: Desk, wipe_id: int) -> Paper:
    """The certificate of a wipe, or why there is none."""

    def read() -> object:
        from bench.work.wipes import read_certificate

        return read_certificate(desk, wipe_id)

    return _paper(CERTIFICATE, "Certificate of sanitization", str(wipe_id), read)


def _paper(kind: str, title: str, name: str, read: Callable[[], Any]) -> Paper:
    try:
        view = read()
    except (NotFound, Refused) as error:  # not sold yet, not verified yet: the paper says so
        return Paper(kind, title, str(error))
    documents = _documents(kind)
    text = documents[".txt"](view)
    assert isinstance(text, str)
    return Paper(kind, title, text, f"{kind}-{for_display(name)}", view, tuple(documents))


def _documents(kind: str) -> dict[str, Document]:
    if kind == LISTING:
        from bench.reports.listing import listing_json, listing_text

        return {".txt": listing_text, ".json": listing_json}
    if kind == BUYER_SHEET:
        from bench.reports.buyer_sheet import buyer_html, buyer_json, buyer_text

        return {".txt": buyer_text, ".html": buyer_html, ".json": buyer_json}
    if kind == HAND_OVER:
        from bench.reports.hand_over import hand_over_html, hand_over_json, hand_over_text

        return {".txt": hand_over_text, ".html": hand_over_html, ".json": hand_over_json}
    from bench.reports.certificate import certificate_html, certificate_json, certificate_text
    from bench.reports.certificate_pdf import certificate_pdf

    return {
        ".txt": certificate_text,
        ".html": certificate_html,
        ".pdf": certificate_pdf,
        ".json": certificate_json,
    }
