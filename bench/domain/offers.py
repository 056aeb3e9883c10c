"""Offers: units looked at before paying, and the list to go through at the seller's table."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from bench.domain.party import PartyTyped
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields
from bench.errors import BadInput

OPEN, BOUGHT = "open", "bought"
DECLINED = "left"  # as it is stored
STATES = {OPEN: "open", BOUGHT: "bought", DECLINED: "declined"}

TABLE_ITEMS = {
    "powers_on": "powers on",
    "firmware_lock": "firmware or account lock",
    "drive_lock": "drive lock",
    "lid_hinges": "lid and hinges",
    "screen": "screen coating and dead pixels",
    "battery": "battery figures",
    "charger_lead": "charger lead",
    "serial": "serial matches the papers",
}

LONGEST_FINDING = 400
NOTHING_NOTED = "seen, nothing noted"
NOT_LOOKED_AT = "not looked at"


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the list: whether it was looked at, and what was found in the person's words."""

    item: str
    label: str
    seen: bool
    words: str


@dataclass(frozen=True, slots=True)
class OfferTyped:
    """A unit looked at before paying, as typed. `findings`: item to what was found; named means looked at.

    `premium_text`: a buyer's premium in percent of the price. `shipping_text`: what sending it to its buyer
    costs. `seller`: None where nothing was typed of who sells it; of an offer kept already that changes
    nothing.
    """

    model: str
    expected_text: str
    maker: str = ""
    serial: str = ""
    note: str = ""
    route_id: int | None = None
    channel_id: int | None = None
    asking_text: str = ""
    parts_text: str = ""
    premium_text: str = ""
    freight_text: str = ""
    shipping_text: str = ""
    seller: PartyTyped | None = None
    findings: Mapping[str, str] = field(default_factory=dict)


def keep_findings(typed: Mapping[str, str]) -> str:
    """What was found, by item, as text for the file: an item that is named was looked at.

    BadInput for an item that is not on the list, or words that are too long.
    """
    for item in typed:
        if item not in TABLE_ITEMS:
            raise BadInput(f"{quoted(item)} is not on the list.", f"Items: {', '.join(TABLE_ITEMS)}.")
    fields = TypedFields()
    kept = {
        item: fields.read(
            f"finding_{item}",
            clean_line,
            typed[item],
            label.capitalize(),
            longest=LONGEST_FINDING,
            allow_empty=True,
        )
        for item, label in TABLE_ITEMS.items()
        if item in typed
    }
    fields.check()
    return json.dumps(kept, ensure_ascii=False)


def findings_in(kept: str) -> tuple[Finding, ...]:
    """The whole list with what was found, from the text in the file."""
    found: dict[str, str] = json.loads(kept)
    return tuple(
        Finding(item, label, item in found, found.get(item, "")) for item, label in TABLE_ITEMS.items()
    )


def findings_note(findings: tuple[Finding, ...]) -> str:
    """The list as lines for a unit's note; nothing where nothing was looked at."""
    if not any(one.seen for one in findings):
        return ""
    lines = [
        f"{one.label}: {one.words or (NOTHING_NOTED if one.seen else NOT_LOOKED_AT)}" for one in findings
    ]
    return "\n".join(["At the seller's table:", *lines])
