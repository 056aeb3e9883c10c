"""Import of units, stock, parties or parts from rows that were typed elsewhere: all of them, or none."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sqlmodel import select

from bench.desk import Desk
from bench.domain.importing import PARTIES, PARTS, STOCK, UNITS, Imported, WrongRow, WrongRows, read_rows
from bench.domain.money import read_money
from bench.domain.party import PartyTyped
from bench.domain.quantities import read_quantity
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields
from bench.errors import BadInput, BenchError, NotFound
from bench.store.tables import Route
from bench.work.change import Change, change
from bench.work.components import onto_shelf
from bench.work.consumables import consumable_within
from bench.work.lookups import shop_of, today
from bench.work.parties import party_within
from bench.work.stock import receipt
from bench.work.units import add_within

_YES, _NO = ("yes", "y", "1", "true", ""), ("no", "n", "0", "false")


class _OnlyPreview(Exception):  # noqa: N818 - no error: what was done is to be undone
    """Ends a transaction whose outcome is only looked at."""


def import_rows(desk: Desk, kind: str, data: bytes, *, book: bool) -> Imported:
    """Take the rows of a CSV file, in one transaction and one line of the journal.

    Without `book` the same is done and undone before anyone sees it: what it would make is answered.
    BadInput for a file that cannot be read; WrongRows, and nothing is taken, where any row is wrong.
    """
    rows = read_rows(kind, data)
    take = _TAKES[kind]
    told: list[str] = []
    wrong: list[WrongRow] = []
    try:
        with change(desk, f"import {kind}") as made:
            for row in rows:
                try:
                    told.append(take(made, row.texts))
                except BenchError as error:
                    wrong.append(WrongRow(row.line, str(error)))
            if wrong:
                raise WrongRows(wrong)
            if not book:
                raise _OnlyPreview
            made.tells(f"Imported {len(told)} {kind}")
    except _OnlyPreview:
        pass
    return Imported(kind, book, tuple(told))


def _unit(made: Change, texts: Mapping[str, str]) -> str:
    added = add_within(
        made,
        maker=texts.get("maker", ""),
        model=texts["model"],
        serial=texts.get("serial number", ""),
        route_id=_route(made, texts.get("route", "")),
        note=texts.get("note", ""),
        due_text=texts.get("due", ""),
        price_text=texts.get("price", ""),
        tag_text=texts.get("tag", ""),
    )
    return f"{added.tag} {texts.get('maker', '')} {texts['model']}, {added.tasks} tasks"


def _route(made: Change, name: str) -> int | None:
    if not name:
        return None
    routes = made.session.exec(select(Route).where(Route.removed == 0)).all()
    found = next((one for one in routes if one.name.casefold() == name.casefold()), None)
    if found is None:
        names = ", ".join(one.name for one in routes)
        raise NotFound(f"There is no route {quoted(name)}.", f"Use one of: {names}.")
    return found.id


def _stock(made: Change, texts: Mapping[str, str]) -> str:
    consumable = consumable_within(
        made,
        name=texts["name"],
        base_unit=texts["unit"],
        pack_text=texts["pack"],
        lead_days_text=texts.get("delivery days", "") or "0",
        shelf_life_text=texts.get("shelf life days", ""),
        reorder_text=texts.get("reorder point", ""),
        hazard=texts.get("hazard", ""),
        code=texts.get("code", ""),
    )
    on_hand, cost = texts.get("on hand", ""), texts.get("cost", "")
    if not on_hand:
        if cost:
            raise BadInput("A cost without anything on hand.", "Say what is on hand, or leave the cost out.")
        return f"{consumable.name}, nothing on hand"
    quantity = read_quantity(on_hand, consumable.base_unit, allow_zero=True)
    if quantity:
        minor = read_money(cost or "0", shop_of(made.session).currency)
        receipt(made, consumable, quantity, minor, "", today(made), None)
    return f"{consumable.name}, {on_hand} on hand"


def _party(made: Change, texts: Mapping[str, str]) -> str:
    private = texts.get("private", "").casefold()
    if private not in (*_YES, *_NO):
        raise BadInput(
            f"{quoted(private)} does not say whether this is a private person.", "Write yes or no."
        )
    typed = PartyTyped(
        texts["name"],
        texts.get("address", ""),
        texts.get("contact", ""),
        texts.get("id seen", ""),
        private=private in _YES,
    )
    if party_within(made, typed) is None:
        raise BadInput("The party has no name.", "Type it.")
    return "a party"  # what is typed of one stands in its own row and nowhere else


def _part(made: Change, texts: Mapping[str, str]) -> str:
    fields, currency = TypedFields(), shop_of(made.session).currency
    name = fields.read("name", clean_line, texts["name"], "The part")
    cost = fields.read("cost", read_money, texts["cost"] or "0", currency)
    said = [
        fields.read(column, _line, texts.get(column, ""))
        for column in ("maker's number", "serial number", "place", "supplier")
    ]
    fields.check()
    number, serial, place, supplier = said
    onto_shelf(
        made,
        name=name,
        cost_minor=cost,
        maker_number=number,
        serial=serial,
        place=place,
        supplier=supplier,
    )
    return f"{name} on the shelf"


def _line(text: str) -> str:
    return clean_line(text, "The text", allow_empty=True)


_TAKES: Mapping[str, Callable[[Change, Mapping[str, str]], str]] = {
    UNITS: _unit,
    STOCK: _stock,
    PARTIES: _party,
    PARTS: _part,
}
