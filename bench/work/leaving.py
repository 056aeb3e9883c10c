"""A unit leaves otherwise than by a sale: back to its owner, kept for the shop, scrapped, or as parts."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.money import read_money, show_money
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields
from bench.domain.ways_out import BESIDE_A_SALE, HANDED_BACK, PARTS, SCRAPPED, SOLD, WAYS, WORDS, Left
from bench.errors import BadInput, Refused
from bench.store.engine import plain_connection
from bench.store.tables import Unit, WayOut
from bench.views.ledger import lost_minor
from bench.work.change import Change, change
from bench.work.handing_back import price_by_bill
from bench.work.lookups import shop_of, stages_in_order
from bench.work.moves import move_within
from bench.work.standing import is_out, is_sold, way_out


def leave_unit(
    desk: Desk, unit_id: int, *, way: str, reason: str, price_text: str = "", proceeds_text: str = ""
) -> Left:
    """Let a unit leave by a way that is no sale, with the reason; open tasks are skipped with it.

    `price_text`: what the owner of a machine brought in pays for the repair; nothing typed is not known.
    `proceeds_text`: what scrap brought, nothing for nothing. For a unit that has left already it corrects
    how. BadInput for what cannot be read, Refused for a way that is not open to the unit, and every gate of
    a move; the drives of what goes back to whose it is, or stays, need no wipe.
    """
    with change(desk, "leave") as made:
        unit = made.get(Unit, unit_id, "unit")
        currency = shop_of(made.session).currency
        fields = TypedFields()
        fields.read("way", _known, way)
        why = fields.read("reason", clean_line, reason, "The reason")
        price = fields.read("price_text", _amount, price_text, currency)
        proceeds = fields.read("proceeds_text", _amount, proceeds_text, currency)
        fields.check()
        _is_open(made, unit, way)
        if price is not None and unit.owner_id is None:
            raise BadInput(
                f"Unit {unit.tag} is no machine of an owner's: nobody pays for its repair.",
                "Leave the price empty.",
                field="price_text",
            )
        if proceeds is not None and way != SCRAPPED:
            raise BadInput(
                "Only scrap has proceeds here.",
                "Leave it empty, or sell the unit.",
                field="proceeds_text",
            )
        row, skipped = _out(made, unit, way, why)
        price = price_by_bill(made, unit, row, price)
        row.way, row.note, row.price_minor, row.proceeds_minor = way, why, price, proceeds or 0
        made.session.flush()
        lost = lost_minor(plain_connection(made.session), unit_id) if way in (SCRAPPED, PARTS) else None
        words = f"{unit.tag} {WORDS[way]}"
        if price is not None:
            words += f", {show_money(price, currency)} for the repair"
        if lost is not None:
            words += f", {show_money(lost, currency)} lost"
        made.tells(words, unit_id=unit_id, reason=why)
        return Left(unit_id, unit.tag, way, why, lost, price, proceeds or 0, skipped, currency)


def _out(made: Change, unit: Unit, way: str, why: str) -> tuple[WayOut, int]:
    """The row of how it left, and how many tasks were skipped on the way."""
    skipped = 0
    if not is_out(made, unit):
        finals = [stage for stage in stages_in_order(made.session) if stage.final]
        if not finals:
            raise Refused("The shop has no final stage.", "Add one on the stages screen first.")
        skipped = move_within(made, unit, finals[-1], open_tasks="skip", reason=why, way=way).skipped
    row = way_out(made, unit)
    assert row is not None  # a unit at a final stage has one
    return row, skipped


def _known(way: str) -> None:
    if way not in WAYS:
        raise BadInput(f"A unit cannot leave by {way}.", f"Choose one of: {', '.join(WAYS[1:])}.")
    if way == SOLD:
        raise BadInput("A sale has a price and a buyer.", "Sell the unit instead.")


def _is_open(made: Change, unit: Unit, way: str) -> None:
    """Pass, or raise Refused: what is the shop's is not handed back, what is not the shop's only that."""
    if unit.owner_id is not None or is_sold(made, unit):
        if way != HANDED_BACK:
            whose = "its owner's" if unit.owner_id is not None else "its buyer's"
            raise Refused(f"Unit {unit.tag} is {whose}: it is not {WORDS[way]}.", "Hand it back.")
        if unit.owner_id is None and is_out(made, unit):
            raise Refused(f"Unit {unit.tag} is with its buyer already.", "There is nothing to change.")
    elif way not in BESIDE_A_SALE:
        raise Refused(
            f"Unit {unit.tag} is the shop's own: there is nobody to hand it back to.",
            "Sell it, or choose another.",
        )


def _amount(text: str, currency: str) -> int | None:
    return read_money(text, currency) if text.strip() else None
