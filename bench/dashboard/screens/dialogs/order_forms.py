"""The forms of an order: placed, changed, taken in, complained of, refunded; and of a part on the shelf."""

from __future__ import annotations

from typing import Any

from bench.dashboard import use_cases
from bench.dashboard.presenters.order_rows import order_values, told_words
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.field import SERIAL, Field
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import AMOUNT, DAY, MONEY, WHOLE, NumberField, TextField
from bench.desk import Desk
from bench.domain.money import show_money
from bench.domain.orders import FAULTY, OrderTold
from bench.views.orders import OrderLine
from bench.views.parts import PartLine
from bench.views.shop import read_shop
from bench.views.stock import StockBook, read_stock
from bench.views.unit import UnitSheet, read_unit

ORDERED = (("ordered", "it is ordered"), ("wanted", "it is only wanted"))
FOUND = tuple((word, word) for word in FAULTY)


def _terms() -> tuple[Field, ...]:
    return (
        TextField("supplier", "Supplier"),
        NumberField("price_text", "Price", like=MONEY, hint="empty: not known yet"),
        NumberField("freight_text", "Freight", like=MONEY),
        NumberField("ordered_text", "Ordered", like=DAY, hint="empty: today"),
        NumberField("due_text", "Due", like=DAY, hint="such as +3"),
        TextField("note", "Note"),
    )


@form
def order_part_form(unit_id: int | None = None, tag: str = "") -> FormOf[bool]:
    """A part ordered or wanted, for a unit or for the shelf; one of the unit's tasks can wait for it."""

    def begin(sheet: UnitSheet | None) -> Begun:
        open_tasks = [one for one in sheet.tasks if one.state == "todo"] if sheet is not None else []
        return Begun(choices={"task": tuple((str(one.task_id), one.name) for one in open_tasks)})

    def order(filled: Filled) -> OrderTold:
        typed = filled.typed
        task, state = typed.pop("task", None), typed.pop("state")
        tasks = () if task is None else (task,)
        return use_cases.orders.order_part(
            filled.desk, unit_id, wanted=state == "wanted", task_ids=tasks, **typed
        )

    waits = ChoiceField("task", "Waits for it", none="no task", ids=True)
    return FormOf(
        heading=f"Order a part for {tag}" if tag else "Order a part for the shelf",
        draft=f"order part {unit_id or 'shelf'}",
        fields=(
            TextField("what", "Part", hint="such as fan, hinge set"),
            TextField("maker_number", "Maker's no."),
            ChoiceField("state", "State", ORDERED, none=None),
            *((waits,) if unit_id is not None else ()),
            *_terms(),
        ),
        reads=None if unit_id is None else lambda desk: read_unit(desk, unit_id),
        begins=None if unit_id is None else begin,
        send="Order",
        does=order,
        says=told_words,
    )


@form
def order_instead_form(order: OrderLine) -> FormOf[bool]:
    """Another part in the place of one that is wrong, broken or went back; what waited waits for it."""
    return FormOf(
        heading=f"Order another {order.what}",
        draft=f"order instead {order.order_id}",
        fields=(TextField("maker_number", "Maker's no."), *_terms()),
        begins=lambda _: Begun(values={"maker_number": order.maker_number, "supplier": order.supplier}),
        send="Order",
        does=lambda filled: use_cases.orders.order_part(
            filled.desk, order.unit_id, what=order.what, instead_of_id=order.order_id, **filled.typed
        ),
        says=told_words,
    )


@form
def order_consumable_form() -> FormOf[bool]:
    """A consumable ordered, in packs or as an amount."""

    def begin(book: StockBook) -> Begun:
        return Begun(choices={"consumable": tuple((str(one.consumable_id), one.name) for one in book.lines)})

    def order(filled: Filled) -> OrderTold:
        typed = filled.typed
        number = typed.pop("consumable")
        return use_cases.orders.order_consumable(filled.desk, number, **typed)

    return FormOf(
        heading="Order a consumable",
        draft="order consumable",
        fields=(
            ChoiceField("consumable", "Consumable", none="choose", ids=True, needed=True),
            NumberField("packs_text", "Packs", like=WHOLE),
            NumberField("quantity_text", "or amount", like=AMOUNT),
            *_terms(),
        ),
        reads=read_stock,
        begins=begin,
        send="Order",
        does=order,
        says=told_words,
    )


@form
def edit_order_form(order: OrderLine, currency: str) -> FormOf[bool]:
    """What is known of an order that has not arrived; what was wanted is ordered with it."""
    return FormOf(
        heading=f"Order of {order.what}",
        draft=f"order {order.order_id}",
        fields=_terms(),
        begins=lambda _: Begun(values=order_values(order, currency)),
        does=lambda filled: use_cases.orders.edit_order(filled.desk, order.order_id, **filled.typed),
        says=told_words,
    )


@form
def take_in_form(order: OrderLine) -> FormOf[bool]:
    """What has arrived: its price where it differs, where it lies, and whether it is the right one."""
    a_part: tuple[Field, ...] = (
        TextField("serial", "Serial number", takes=SERIAL),
        TextField("place", "Place", hint="where on the shelf it lies"),
        ChoiceField("found", "It is", FOUND, none="as ordered"),
    )
    of_stock: tuple[Field, ...] = (NumberField("expires_text", "Expires", like=DAY),)

    def begin(currency: str) -> Begun:
        was = order_values(order, currency)
        return Begun(values={name: was[name] for name in ("price_text", "freight_text")})

    def take_in(filled: Filled) -> OrderTold:
        typed: dict[str, Any] = filled.typed
        return use_cases.arrivals.take_in(filled.desk, order.order_id, **typed)

    return FormOf(
        heading=f"Arrived: {order.what}",
        draft=f"take in {order.order_id}",
        fields=(
            NumberField("price_text", "Price", like=MONEY),
            NumberField("freight_text", "Freight", like=MONEY),
            *(a_part if order.consumable_id is None else of_stock),
            NumberField("arrived_text", "Came on", like=DAY, hint="empty: today"),
            TextField("note", "Note"),
        ),
        reads=_currency,
        begins=begin,
        send="Take in",
        does=take_in,
        says=told_words,
    )


@form
def complain_form(order: OrderLine) -> FormOf[bool]:
    """The part is the wrong one or broken; what the supplier owes for it."""
    return FormOf(
        heading=f"Wrong or broken: {order.what}",
        draft=f"complain {order.order_id}",
        fields=(
            ChoiceField("found", "It is", FOUND, none=None),
            TextField("note", "What it is", hint="such as: the lead is too short"),
            NumberField("owed_text", "Owed back", like=MONEY, hint="empty: price and freight"),
            NumberField("found_text", "Seen on", like=DAY, hint="empty: today"),
        ),
        does=lambda filled: use_cases.arrivals.complain(filled.desk, order.order_id, **filled.typed),
        says=told_words,
    )


@form
def refund_form(order: OrderLine) -> FormOf[bool]:
    """What the supplier gave back."""

    def begin(currency: str) -> Begun:
        return Begun(values={"refund_text": show_money(order.owed_minor, currency)})

    return FormOf(
        heading=f"Refunded: {order.what}",
        draft=f"refund order {order.order_id}",
        fields=(
            NumberField("refund_text", "Came back", like=MONEY, hint="0 for nothing"),
            TextField("note", "Note"),
        ),
        reads=_currency,
        begins=begin,
        does=lambda filled: use_cases.arrivals.refund_order(filled.desk, order.order_id, **filled.typed),
        says=told_words,
    )


@form
def wait_form(order: OrderLine, unit_id: int) -> FormOf[bool]:
    """A task of the unit that waits for the order, or no longer; the other tasks go on."""

    def begin(sheet: UnitSheet) -> Begun:
        tasks = [one for one in sheet.tasks if one.state == "todo"]
        waiting = f"Waits now: {', '.join(order.tasks)}." if order.tasks else "No task waits for it."
        return Begun(choices={"task": tuple((str(one.task_id), one.name) for one in tasks)}, known=waiting)

    def wait(filled: Filled) -> None:
        typed = filled.typed
        task, goes_on = typed["task"], typed["goes_on"]
        use_cases.orders.wait_for(filled.desk, task, order.order_id, waits=not goes_on)

    return FormOf(
        heading=f"Waits for {order.what}",
        draft=f"wait {order.order_id}",
        fields=(
            ChoiceField("task", "Task", none="choose", ids=True, needed=True),
            MarkField("goes_on", "", "it no longer waits"),
        ),
        known="",
        reads=lambda desk: read_unit(desk, unit_id),
        begins=begin,
        does=wait,
    )


@form
def sell_part_form(part: PartLine) -> FormOf[bool]:
    """A part sold off the shelf."""
    return FormOf(
        heading=f"Sell {part.name}",
        draft=f"sell part {part.component_id}",
        fields=(
            NumberField("price_text", "Price", like=MONEY, hint="its proceeds, less what selling costs"),
            TextField("note", "Note"),
        ),
        send="Sell",
        does=lambda filled: use_cases.components.sell_part(filled.desk, part.component_id, **filled.typed),
    )


@form
def place_part_form(part: PartLine) -> FormOf[bool]:
    """Where on the shelf a part lies, and the maker's number of it."""
    return FormOf(
        heading=f"On the shelf: {part.name}",
        draft=f"place part {part.component_id}",
        fields=(TextField("place", "Place"), TextField("maker_number", "Maker's no.")),
        begins=lambda _: Begun(values={"place": part.place, "maker_number": part.maker_number}),
        does=lambda filled: use_cases.components.place_part(filled.desk, part.component_id, **filled.typed),
    )


def _currency(desk: Desk) -> str:
    return read_shop(desk).currency
