"""The hand-over note of a sold unit as text, HTML and JSON: what goes along, the warranty, how to send it."""

from __future__ import annotations

from bench.domain.localtime import iso_local
from bench.domain.money import show_money
from bench.reports.html_page import facts_table, heading, items, page, paragraph
from bench.reports.plain_tables import one_line, sections, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.hand_over import RIGHTS, HandOver

SHIPPING = "Sending it: the lithium battery"
ONLY_THE_UNIT = "the unit; nothing else is noted"


def hand_over_text(note: HandOver) -> str:
    """The note in plain text, to be printed and put into the parcel."""
    return sections(
        one_line(_title(note)),
        "\n".join(wrapped(f"{name:<12}{value}", indent=12) for name, value in _facts(note)),
        wrapped(f"{_warranty(note)} {RIGHTS}"),
        _listed("Parts fitted here", note.parts),
        _listed("Drives", _drives(note)),
        _listed(SHIPPING, note.shipping),
    )


def hand_over_html(note: HandOver) -> str:
    """The same as one HTML page."""
    return page(
        _title(note),
        facts_table(_facts(note)),
        paragraph(f"{_warranty(note)} {RIGHTS}"),
        *(_section("Parts fitted here", note.parts)),
        *(_section("Drives", _drives(note))),
        *(_section(SHIPPING, note.shipping)),
    )


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


def _listed(title: str, lines: tuple[str, ...]) -> str:
    if not lines:
        return ""
    return under(title, "\n".join(wrapped(f"- {line}", indent=2) for line in lines))


def _section(title: str, lines: tuple[str, ...]) -> tuple[str, ...]:
    return (heading(title), items(lines)) if lines else ()
