"""A lot: several units for one price, each with what it is expected to sell for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import PurePath
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.doing import say
from bench.dashboard.keys import bindings_for, key_shown
from bench.dashboard.presenters.lot_rows import bought_words
from bench.dashboard.presenters.unit_fields import route_choices
from bench.dashboard.screens.dialogs.ask_twice import AsksTwice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import (
    DAY,
    MONEY,
    SERIAL,
    TAG,
    Field,
    NoteField,
    NumberField,
    TextField,
)
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.dashboard.screens.dialogs.party_fields import party_fields, party_in
from bench.domain.lot_shares import SHARING_RULE, LotBought, LotUnit
from bench.errors import BadInput
from bench.views.routes import RouteLine

OF_THE_LOT = (
    *("name_of_lot", "price_text", "premium_text", "freight_text"),
    *("bought_on_text", "invoice", "note"),
)
OF_A_UNIT = ("maker", "model", "serial", "expected_text", "tag_text")
AT_FIRST = 2
MOST = 60


class LotForm(AsksTwice[int]):
    """Buys a lot and answers its number. Units are added one by one."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "lot_form.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("lot_form")
    send_label = "Buy the lot"

    def __init__(self) -> None:
        super().__init__("Buy a lot", draft="lot_form")
        self.units = 0
        self._routes: tuple[tuple[str, str], ...] = ()

    def fields(self) -> Sequence[Field]:
        """What is said once for all of it."""
        return (
            TextField("name_of_lot", "Name of the lot"),
            NumberField("price_text", "Price of it all", like=MONEY, hint="such as 300"),
            NumberField("premium_text", "Buyer's premium", like=MONEY, hint="as at an auction; empty: none"),
            NumberField("freight_text", "Freight", like=MONEY, hint="what it cost; empty: none"),
            NumberField("bought_on_text", "Bought on", like=DAY, hint="empty: today"),
            TextField("invoice", "Invoice"),
            *party_fields("Seller", papers=True),
            NoteField("note", "Note"),
        )

    def body(self) -> Iterable[Widget]:
        """The lot's fields; its units are put in below."""
        yield from super().body()
        yield Static(Content(f"\n{SHARING_RULE}"), id="known", markup=False)

    def on_mount(self) -> None:
        """Say how units are added, for the buttons may lie below the edge."""
        own = self.bench.own_keys
        more, less = key_shown("lot_form.one_more", own), key_shown("lot_form.one_less", own)
        words = f"Buy a lot  ({more}: one more unit, {less}: one less)"
        self.query_one("#heading", Static).update(Content(words))
        super().on_mount()

    def buttons(self) -> Iterable[Button]:
        """More units, fewer, and buying."""
        yield self.button("One more", "one_more")
        yield self.button("One less", "one_less")
        yield from super().buttons()

    def read(self) -> tuple[RouteLine, ...]:
        """The routes to choose from."""
        from bench.views.routes import read_routes

        return read_routes(self.desk)

    def begin(self, facts: tuple[RouteLine, ...]) -> None:
        """Begin with two units, or as many as were typed before."""
        self._routes = route_choices(facts)
        while self.units < AT_FIRST:
            self._put_unit()

    def restore(self, typed: dict[str, str]) -> None:
        """Make room for as many units as were typed."""
        numbers = [int(name.rpartition("_")[2]) for name in typed if name.rpartition("_")[2].isdigit()]
        while self.units < min(max(numbers, default=0), MOST):
            self._put_unit()

    def work(self) -> Callable[[], Any]:
        """Buy it."""
        desk, seller = self.desk, party_in(self._fields)
        typed = {name: self.value(name) for name in OF_THE_LOT}
        name, again = typed.pop("name_of_lot"), self.again
        units = tuple(self._unit(number) for number in range(1, self.units + 1))

        def buy() -> LotBought:
            from bench.work.lots import buy_lot

            return buy_lot(desk, name=name, units=units, seller=seller, again=again, **typed)

        return buy

    def answer(self, bought: LotBought) -> int:
        """The lot's number."""
        return bought.lot_id

    def sent(self, result: LotBought) -> None:
        """Say each one's share."""
        say(self.app, bought_words(result))
        super().sent(result)

    def action_one_more(self) -> None:
        """Room for one more unit."""
        if self.units < MOST:
            self._put_unit()
            self._go_to(self.units)

    def action_one_less(self) -> None:
        """Leave out the last unit."""
        if self.units <= 1:
            return
        self.set_focus(None)  # first: left in a field that goes, the cursor would swallow every key
        self.query_one(f"#unit-{self.units}").remove()
        for name in (*OF_A_UNIT, "route", "donor"):
            self._fields.pop(f"{name}_{self.units}").remove()
        self.units -= 1
        self._go_to(self.units)

    def _go_to(self, number: int) -> None:
        field = self.field(f"maker_{number}")
        field.call_after_refresh(field.take_focus)

    def _unit(self, number: int) -> LotUnit:
        if not self.value(f"model_{number}").strip():
            raise BadInput(
                f"Unit {number} of the lot has no model.",
                "Type it, or leave the unit out.",
                field=f"model_{number}",
            )
        route = self.value(f"route_{number}")
        return LotUnit(
            **{name: self.value(f"{name}_{number}") for name in OF_A_UNIT},
            route_id=int(route) if route else None,
            donor=self.value(f"donor_{number}") == YES,
        )

    def _put_unit(self) -> None:
        self.units += 1
        number = self.units
        fields: tuple[Field, ...] = (
            TextField(f"maker_{number}", "Maker"),
            TextField(f"model_{number}", "Model"),
            TextField(f"serial_{number}", "Serial number", takes=SERIAL),
            NumberField(f"expected_text_{number}", "Sells for", like=MONEY, hint="what it may bring"),
            ChoiceField(f"route_{number}", "Route", self._routes, none="no route: no tasks"),
            TextField(f"tag_text_{number}", "Tag", takes=TAG, hint="empty: the next number"),
            MarkField(f"donor_{number}", "", "a donor, kept for its parts"),
        )
        self._fields.update((field.field_name, field) for field in fields)
        heading = Static(Content(f"Unit {number}"), classes="unit-heading", id=f"unit-{number}")
        self.query_one("#body").mount(heading, *fields, before="#known")
