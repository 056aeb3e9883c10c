"""The register of second-hand goods and the people in it as tables."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.domain.money import money_or
from bench.domain.ways_out import KEPT, PARTS
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, DAY, MONEY, TEXT, Context, Kind
from bench.views.parties import PartyLine
from bench.views.register import CAME_BACK, DONOR, LEFT, OWNERS, SOLD, UNSOLD, VOID, RegisterLine

SHORT = {
    DONOR: "donor",
    LEFT: "left",
    VOID: "void",
    OWNERS: "owner's",
    UNSOLD[KEPT]: "kept",
    UNSOLD[PARTS]: "parts",
}
STATE_LOOKS = {SOLD: "good", CAME_BACK: "warning"}
ON_PAPER = 246  # the width from which what a paper needs is shown on a screen too


def number_words(line: RegisterLine) -> str:
    """The number in sequence; of a second sale of the unit with a 2 behind it."""
    return f"{line.number}/{line.sale}" if line.sale is not None and line.sale > 1 else str(line.number)


def _remark(line: RegisterLine, context: Context) -> str:
    state = line.state if line.state in SHORT else ""
    lot = back = ""
    if line.lot:
        lot = f"share of the lot {line.lot}, {money_or(line.lot_price_minor, context.currency)}"
    if line.back_on is not None:
        back = (
            f"came back {context.day(line.back_on)}, refunded {money_or(line.refund_minor, context.currency)}"
        )
    return ", ".join(part for part in (state, back, lot, line.channel) if part)


NUMBER = Kind(lambda line, _: number_words(line), width=4, order=lambda line: (line.number, line.sale or 0))
REMARK = Kind(_remark, width=20, right=False, order=lambda line: f"{line.state} {line.lot} {line.back_on}")

REGISTER = Table[RegisterLine](
    "register",
    "Register",
    (
        Column("No.", lambda line: line, NUMBER, look="muted"),
        Column("Unit", "tag", width=6),
        Column("What", "what", width=12, grow=2),
        Column("Serial", "serial", width=10, grow=1, from_width=140, look="muted"),
        Column("Bought", "bought_on", DAY, look="muted"),
        Column("From", "seller", width=10, grow=1, from_width=84),
        Column("Address", "seller_address", width=12, from_width=ON_PAPER),
        Column("ID seen", "identity_seen", width=10, from_width=ON_PAPER),
        Column("Invoice", "purchase_invoice", from_width=ON_PAPER),
        Column("Price", "purchase_minor", MONEY, from_width=98),
        Column("Free from", "free_from", DAY, from_width=ON_PAPER),
        Column("Sold", "sold_on", DAY, look="muted"),
        Column("To", "buyer", width=10, grow=1, from_width=152),
        Column("Address", "buyer_address", width=12, from_width=ON_PAPER),
        Column("Invoice", "sale_invoice", from_width=ON_PAPER),
        Column("For", "price_minor", MONEY, from_width=112),
        Column("Margin", "margin_minor", MONEY, from_width=126),
        Column("Tax", "tax_minor", MONEY, 10, from_width=164, look="muted"),
        Column(
            "State",
            lambda line: SHORT.get(line.state, line.state),
            width=9,
            look=lambda line: STATE_LOOKS.get(line.state, "muted"),
        ),
        Column("Remark", lambda line: line, REMARK, from_width=ON_PAPER),
    ),
    key=lambda line: (line.unit_id, line.sale_id),
    empty="Nothing bought yet.",
)


@dataclass(frozen=True, slots=True)
class Person:
    """Someone traded with, as of today."""

    party: PartyLine
    today: date


def _erase_words(one: Person, context: Context) -> str:
    party = one.party
    if party.erased_us is not None:
        return "erased"
    if party.erase_on is None:
        return "in stock" if party.in_stock and party.private else "–"
    return f"{'! ' if _is_due(one) else ''}{context.day(party.erase_on)}"


def _is_due(one: Person) -> bool:
    return one.party.erase_on is not None and one.party.erased_us is None and one.party.erase_on <= one.today


def _erase_day(one: Person) -> date:
    return one.party.erase_on or date.max


ERASE_FROM = Kind(_erase_words, width=12, right=False, order=_erase_day)

PEOPLE = Table[Person](
    "people",
    "Bought from and sold to",
    (
        Column("No.", "party.party_id", COUNT, from_width=60, look="muted"),
        Column(
            "Who",
            "party.name",
            width=14,
            grow=1,
            look=lambda one: "muted" if one.party.erased_us is not None else "",
        ),
        Column(
            "",
            lambda one: "private" if one.party.private else "business",
            TEXT,
            7,
            from_width=70,
            look="muted",
        ),
        Column("Address", "party.address", width=12, grow=1, from_width=150, look="muted"),
        Column("From", "party.bought", COUNT, look="muted"),
        Column("To", "party.sold", COUNT, look="muted"),
        Column("Last", "party.last_on", DAY, from_width=56, look="muted"),
        Column(
            "Erase from", lambda one: one, ERASE_FROM, look=lambda one: "alert" if _is_due(one) else "muted"
        ),
    ),
    key="party.party_id",
    empty="Nobody is on record.",
)
