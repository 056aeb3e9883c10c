"""The forms of a consumable: a delivery, a count, what a task takes of it, and its particulars."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from bench.dashboard import use_cases
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, Choices, Filled, FormOf
from bench.dashboard.screens.dialogs.field import CODE, CONSUMABLE, Field
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import AMOUNT, DAY, MONEY, WHOLE, NumberField, TextField
from bench.desk import Desk
from bench.domain.money import plain_money
from bench.domain.quantities import UNITS, plain_number, read_quantity, short_quantity, show_quantity
from bench.domain.stock_levels import StockLine
from bench.domain.text import for_display
from bench.errors import BadInput, NotFound
from bench.views.stock import StockToOrder, read_history, read_stock_to_order

SetUse = Callable[[Desk, int, str], Any]
Know = Callable[[StockLine, StockToOrder, Mapping[str, str]], Begun]
AS_LAST = "Price and supplier are those of the last delivery: look at the bill."


@form
def restock_form(consumable_id: int | None = None) -> FormOf[bool]:
    """A delivery. The packs that would be ordered now stand there, at the price paid last, from whom it came.

    Without a consumable, the first that is low is offered.
    """

    def know(line: StockLine, shelf: StockToOrder, values: Mapping[str, str]) -> Begun:
        suggested, last = _suggested_packs(line), shelf.last.get(line.consumable_id)
        packs, amount = values.get("packs_text", suggested), values.get("quantity_text", "")
        price = _price_as_last(line, shelf, "" if amount.strip() and packs == suggested else packs, amount)
        return Begun(
            values={
                "packs_text": suggested,
                "price_text": price,
                "supplier": last.supplier if last is not None else "",
            },
            tails={"quantity_text": Part(line.base_unit, "muted")},
            hints={"expires_text": _shelf_life_words(line)},
            known=f"{_pack_words(line)}\n{AS_LAST}" if price else _pack_words(line),
        )

    def restock(filled: Filled, line: StockLine) -> object:
        typed = filled.typed
        if typed["quantity_text"].strip() and typed["packs_text"] == _suggested_packs(line):
            typed["packs_text"] = ""  # an amount typed counts instead of the packs that were only suggested
        return use_cases.stock.restock(filled.desk, line.consumable_id, **typed)

    fields = (
        NumberField("packs_text", "Packs", like=WHOLE),
        NumberField("quantity_text", "or amount", like=AMOUNT),
        NumberField("price_text", "Price paid", like=MONEY, hint="for all of it"),
        TextField("supplier", "Supplier"),
        NumberField("date_text", "Date", like=DAY, hint="empty: today"),
        NumberField("expires_text", "Expires", like=DAY),
    )
    return _about_a_consumable(
        "Restock", consumable_id, fields, know, restock, again=("packs_text", "quantity_text"), low_first=True
    )


@form
def count_form(consumable_id: int | None = None) -> FormOf[bool]:
    """The level set to what was counted, with a reason for the difference."""

    def know(line: StockLine, _shelf: StockToOrder, _values: Mapping[str, str]) -> Begun:
        return Begun(
            tails={"quantity_text": Part(line.base_unit, "muted")},
            known=f"The book says {show_quantity(line.on_hand, line.base_unit)}.",
        )

    fields = (
        NumberField("quantity_text", "Counted", like=AMOUNT),
        TextField("reason", "Reason", hint="such as: monthly count, or a spill"),
    )
    return _about_a_consumable(
        "Count",
        consumable_id,
        fields,
        know,
        lambda filled, line: use_cases.stock.count_stock(filled.desk, line.consumable_id, **filled.typed),
    )


@form
def use_form(task: str, set_use: SetUse, uses: Mapping[int, int], *, draft: str) -> FormOf[bool]:
    """What a task takes of a consumable; 0 or nothing typed takes it off. `uses`: what it takes now."""

    def know(line: StockLine, _shelf: StockToOrder, _values: Mapping[str, str]) -> Begun:
        quantity = uses.get(line.consumable_id, 0)
        return Begun(
            values={"quantity_text": plain_number(quantity) if quantity else ""},
            tails={"quantity_text": Part(line.base_unit, "muted")},
            known=f"Takes {show_quantity(quantity, line.base_unit)} now.",
        )

    return _about_a_consumable(
        f"Consumables of {task}",
        None,
        (NumberField("quantity_text", "Amount", like=AMOUNT, hint="0 or empty: none"),),
        know,
        lambda filled, line: set_use(filled.desk, line.consumable_id, filled.typed["quantity_text"]),
        draft=draft,
    )


def _about_a_consumable(
    heading: str,
    consumable_id: int | None,
    fields: Sequence[Field],
    know: Know,
    does: Callable[[Filled, StockLine], object],
    *,
    draft: str = "",
    again: Sequence[str] = (),
    low_first: bool = False,
) -> FormOf[bool]:
    """A form about the consumable that is named, or that is chosen first: low ones stand first.

    `again`: the fields whose change has it begin again. `low_first`: the first one is chosen where it is low.
    """

    def read(desk: Desk) -> StockToOrder:
        shelf = read_stock_to_order(desk)
        if consumable_id is not None and _named(shelf, consumable_id) is None:
            raise NotFound("That consumable is not on the shelf any more.", "Choose another one.")
        return shelf

    def begin(shelf: StockToOrder) -> Begun:
        line = _named(shelf, consumable_id)
        if line is not None:
            return replace(know(line, shelf, {}), heading=f"{heading} {for_display(line.name)}")
        choices = {CONSUMABLE: _consumable_choices(shelf.book.lines)}
        low = next((one for one in shelf.book.lines if one.low), None) if low_first else None
        if low is None:
            return Begun(choices=choices)
        begun = know(low, shelf, {})
        return replace(begun, choices=choices, values={CONSUMABLE: str(low.consumable_id), **begun.values})

    def follow(shelf: StockToOrder, values: Mapping[str, str]) -> Begun | None:
        line = _named(shelf, consumable_id or values[CONSUMABLE])
        return know(line, shelf, values) if line is not None else None

    def do(filled: Filled) -> object:
        line = _named(filled.facts, consumable_id or filled.typed.pop(CONSUMABLE))
        assert line is not None
        return does(filled, line)

    chooser = ChoiceField(CONSUMABLE, "Consumable", none="choose", takes=CONSUMABLE, ids=True, needed=True)
    named = consumable_id is not None
    return FormOf(
        heading=heading,
        draft=draft or f"{heading.casefold()} {consumable_id or ''}".strip(),
        fields=fields if named else (chooser, *fields),
        known="",
        reads=read,
        begins=begin,
        watches=tuple(again) if named else (CONSUMABLE, *again),
        follows=follow,
        does=do,
    )


def _named(shelf: StockToOrder, number: int | str | None) -> StockLine | None:
    return next((one for one in shelf.book.lines if str(one.consumable_id) == str(number)), None)


def _price_as_last(line: StockLine, shelf: StockToOrder, packs: str, amount: str) -> str:
    """What so much costs at the price paid last, as text; nothing where that or the amount is not known."""
    last = shelf.last.get(line.consumable_id)
    if last is None or not last.cost_minor:
        return ""
    try:
        quantity = read_quantity(amount, line.base_unit) if amount.strip() else line.pack * int(packs or 0)
    except (BadInput, ValueError):  # half a number while it is being typed
        return ""
    return plain_money(last.cost_of(quantity), shelf.book.currency) if quantity else ""


def _consumable_choices(stock: Sequence[StockLine]) -> Choices:
    """Each consumable with its level, in the order of the stock book: low ones first."""

    def words(line: StockLine) -> str:
        low = ", low" if line.low else ""
        return f"{line.name}  ({short_quantity(line.on_hand, line.base_unit)}{low})"

    return tuple((str(line.consumable_id), words(line)) for line in stock)


def _suggested_packs(line: StockLine) -> str:
    return str(line.suggest_packs) if line.suggest_packs else ""


def _pack_words(line: StockLine) -> str:
    """What one pack holds, the level now, and what can hurt."""
    pack, level, reorder = (
        show_quantity(amount, line.base_unit) for amount in (line.pack, line.on_hand, line.reorder_at)
    )
    words = f"A pack holds {pack}; {level} on hand, order at {reorder}."
    return f"{words}\n{for_display(line.hazard)}" if line.hazard else words


def _shelf_life_words(line: StockLine) -> str:
    """What an empty expiry means."""
    if line.shelf_life_days is None:
        return "empty: it does not expire"
    return f"empty: {line.shelf_life_days} days after that date"


@form
def consumable_form(consumable_id: int | None = None, *, code: str = "") -> FormOf[bool]:
    """A consumable's particulars; without `consumable_id` it is new."""

    def write(filled: Filled) -> object:
        if consumable_id is None:
            return use_cases.stock.add_consumable(filled.desk, **filled.typed)
        use_cases.stock.edit_consumable(filled.desk, consumable_id, **filled.typed)
        return consumable_id

    code_field = TextField("code", "Code", takes=CODE, hint="scan it off the pack", value=code)
    code_field.started_as = ""
    return FormOf(
        heading="New consumable" if consumable_id is None else "Consumable",
        draft=f"consumable_form {consumable_id or 'new'}",
        fields=(
            TextField("name", "Name"),
            ChoiceField("base_unit", "Kept in", [(unit, unit) for unit in UNITS], none=None, value=UNITS[0]),
            NumberField("pack_text", "A pack holds", like=AMOUNT, hint="such as 1000 or 4.5"),
            NumberField("lead_days_text", "Delivery days", like=WHOLE, hint="from order to shelf"),
            NumberField("shelf_life_text", "Shelf life", like=WHOLE, hint="days; empty: it keeps"),
            NumberField("reorder_text", "Order at", like=AMOUNT, hint="empty: from use"),
            TextField("hazard", "Caution", hint="what can hurt, in a line"),
            code_field,
        ),
        reads=None if consumable_id is None else lambda desk: read_history(desk, consumable_id).line,
        begins=None if consumable_id is None else _begin_consumable,
        does=write,
    )


def _begin_consumable(line: StockLine) -> Begun:
    """A reorder point worked out from use stays empty."""
    return Begun(
        values={
            "name": line.name,
            "base_unit": line.base_unit,
            "pack_text": plain_number(line.pack),
            "lead_days_text": str(line.lead_days),
            "shelf_life_text": "" if line.shelf_life_days is None else str(line.shelf_life_days),
            "reorder_text": plain_number(line.reorder_at) if line.reorder_fixed else "",
            "hazard": line.hazard,
            "code": line.code,
        }
    )
