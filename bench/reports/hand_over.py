"""The hand-over note of a sold unit, text, HTML, PDF, JSON: what goes along, the warranty, how to send it."""

from __future__ import annotations

from bench.domain.localtime import iso_local
from bench.domain.money import show_money
from bench.reports.paper_forms import Paper, PaperPart, paper_html, paper_pdf, paper_text
from bench.reports.plain_values import facts_of, json_text
from bench.views.hand_over import RIGHTS, HandOver

SHIPPING = "Sending it: the lithium battery"
ONLY_THE_UNIT = "the unit; nothing else is noted"


def hand_over_paper(note: HandOver) -> Paper:
    """The note in its parts, to be printed and put into the parcel."""
    parts = (
        PaperPart("", facts=tuple(_facts(note))),
        PaperPart("", says=(f"{_warranty(note)} {RIGHTS}",)),
        PaperPart("Parts fitted here", lines=note.parts),
        PaperPart("Drives", lines=_drives(note)),
        PaperPart(SHIPPING, lines=note.shipping),
    )
    return Paper(_title(note), parts, notes=(), zone=note.zone, made_us=note.made_us)


def hand_over_text(note: HandOver) -> str:
    """The note in plain text."""
    return paper_text(hand_over_paper(note))


def hand_over_html(note: HandOver) -> str:
    """The note as one HTML page."""
    return paper_html(hand_over_paper(note))


def hand_over_pdf(note: HandOver) -> bytes:
    """The note as a PDF file, A4. BadInput when a letter cannot be printed in its typeface."""
    return paper_pdf(hand_over_paper(note))


def hand_over_json(note: HandOver) -> str:
    """The note as a JSON document, `shipping` with its sentences."""
    return json_text("hand_over", facts_of(note, note.zone))


def _title(note: HandOver) -> str:
    return f"{note.shop}: hand-over of {note.maker} {note.model}".replace("  ", " ").rstrip()


def _facts(note: HandOver) -> list[tuple[str, str]]:
    facts = (
        ("Unit", note.tag),
        ("Serial", note.serial or "not noted"),
        ("Sold on", note.sold_on.isoformat()),
        ("Sold to", ", ".join(part for part in (note.buyer, note.buyer_address) if part)),
        ("Price", show_money(note.price_minor, note.currency)),
        ("Invoice", note.invoice),
        ("Included", f"the unit; {note.goes_along}" if note.goes_along else ONLY_THE_UNIT),
        ("Written on", iso_local(note.made_us, note.zone)[:10]),
    )
    return [(name, value) for name, value in facts if value]


def _warranty(note: HandOver) -> str:
    if note.warranty_until is None:
        return "The shop gives no warranty of its own."
    return f"Warranty of the shop until {note.warranty_until.isoformat()}."


def _drives(note: HandOver) -> tuple[str, ...]:
    return tuple(f"{drive.name}: {drive.standing}" for drive in note.drives)
