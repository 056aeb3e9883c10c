"""A lot: several units for one price, each a row with what it is expected to sell for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.widget import Widget
from textual.widgets import Button

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for, key_shown
from bench.dashboard.presenters.lot_rows import bought_words
from bench.dashboard.presenters.pieces import Line, Part, fit
from bench.dashboard.screens.dialogs.buying_forms import party_fields, take_party
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Choices, Filled, FormOf, Typed
from bench.dashboard.screens.dialogs.dialog import FormScroll
from bench.dashboard.screens.dialogs.field import SERIAL, TAG, Field
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.text_fields import DAY, MONEY, NoteField, NumberField, TextField
from bench.dashboard.screens.dialogs.unit_forms import route_choices
from bench.dashboard.widgets.painted import Painted
from bench.dashboard.widgets.steady import SideBySide
from bench.domain.lots import SHARING_RULE, LotBought, LotUnit
from bench.errors import BadInput, KnownAlready
from bench.views.routes import RouteLine, read_routes

OF_A_UNIT = ("maker", "model", "serial", "expected_text", "tag_text")
COLUMNS = {
    "maker": "Maker",
    "model": "Model",
    "serial": "Serial",
    "expected_text": "Expected",
    "route": "Route",
    "tag_text": "Tag",
    "donor": "Donor",
}
ITS_OWN = ("serial", "tag_text")  # no two units have these alike
LIKE = ("maker", "model", "expected_text", "route", "donor")
AT_FIRST = 2
LINES_AT_FIRST = 31  # in a lower window it is laid out with its scrollbar from the beginning
MOST = 60
NUMBER_CELLS = 3


class NamesOverCells(Painted):
    """The names of the columns, over the cells of the first unit; that of the cell with the focus is lit."""

    here = ""

    def painted(self, width: int) -> tuple[Line, ...]:
        """Painted each time: where the cells stand is known once they are laid out."""
        return tuple(self.paint(width))

    def paint(self, width: int) -> Sequence[Line]:
        """The one line."""
        del width
        form, told, parts = self.screen, 0, list[Part]()
        assert isinstance(form, LotForm)
        for name, label in COLUMNS.items():
            cell = form.field(f"{name}_1")
            begins = cell.virtual_region.x + cell.styles.padding.left
            gap = " " * max(0, begins - told)
            shown = fit(label, max(0, min(len(label), cell.virtual_region.right - begins)))
            parts += (Part(gap), Part(shown, "running" if name == self.here else "heading"))
            told = begins + len(shown)
        return (tuple(parts),)


class LotForm(Form[int]):
    """Buys a lot and answers its number. Units are rows, added one by one; up and down go along a column."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("lot_form")

    def __init__(self) -> None:
        super().__init__(
            FormOf(
                heading="Buy a lot",
                draft="lot_form",
                fields=(
                    TextField("name_of_lot", "Name of the lot"),
                    NumberField("price_text", "Price of it all", like=MONEY, hint="such as 300"),
                    NumberField(
                        "premium_text", "Buyer's premium", like=MONEY, hint="as at an auction; empty: none"
                    ),
                    NumberField("freight_text", "Freight", like=MONEY, hint="what it cost; empty: none"),
                    NumberField("bought_on_text", "Bought on", like=DAY, hint="empty: today"),
                    TextField("invoice", "Invoice"),
                    *party_fields("Seller", papers=True),
                    NoteField("note", "Note"),
                ),
                send="Buy them",
                known=f"\nA donor is kept for its parts. A tag left empty: the next number.\n{SHARING_RULE}",
                reads=read_routes,
                does=self._buy,
                asks=(KnownAlready,),
                says=bought_words,
                answers=lambda bought: int(bought.lot_id),
            )
        )
        self.units = 0
        self._routes: Choices = ()

    def on_mount(self) -> None:
        """Say how units are added, for the buttons may lie below the edge."""
        self.query_one(FormScroll).show_vertical_scrollbar = self.app.size.height < LINES_AT_FIRST
        own = self.bench.own_keys
        more, less, above, like = (
            key_shown(f"lot_form.{name}", own) for name in ("one_more", "one_less", "as_above", "one_like")
        )
        keys = f"{more}: one more, {like}: one like it, {less}: one less, {above}: as above"
        self.tell("heading", f"Buy a lot  ({keys})")

    def buttons(self) -> Iterable[Button]:
        """More units, fewer, and buying."""
        yield self.button("Add", "one_more")
        yield self.button("Same", "one_like")
        yield self.button("Less", "one_less")
        yield from super().buttons()

    def body(self) -> Iterable[Widget]:
        """The fields of the lot, those of its first units, and the words below."""
        *of_the_lot, known = super().body()
        yield from of_the_lot
        yield NamesOverCells(id="units")
        while self.units < AT_FIRST:
            yield self._next_unit()
        yield known

    def begin(self, facts: tuple[RouteLine, ...]) -> None:
        """Offer the routes."""
        self._routes = route_choices(facts)
        for number in range(1, self.units + 1):
            route = self.field(f"route_{number}")
            assert isinstance(route, ChoiceField)
            route.offer(self._routes)

    def restore(self, typed: dict[str, str]) -> None:
        """Make room for as many units as were typed."""
        numbers = [int(name.rpartition("_")[2]) for name in typed if name.rpartition("_")[2].isdigit()]
        while self.units < min(max(numbers, default=0), MOST):
            self._put_unit()

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
            self._fields.pop(f"{name}_{self.units}")
        self.units -= 1
        self._go_to(self.units)

    def action_as_above(self) -> None:
        """What the unit above has in this field, and on to the next field."""
        name, number = self._cell()
        if number > 1 and name not in ITS_OWN:
            self.field(f"{name}_{number}").put(self.value(f"{name}_{number - 1}"))
            self.focus_next()

    def action_next_field(self) -> None:
        """To the same cell of the unit below; elsewhere as in every form."""
        self._go_along(1, super().action_next_field)

    def action_previous_field(self) -> None:
        """To the same cell of the unit above; elsewhere as in every form."""
        self._go_along(-1, super().action_previous_field)

    def _go_along(self, step: int, elsewhere: Callable[[], None]) -> None:
        name, number = self._cell()
        there = self._fields.get(f"{name}_{number + step}") if number else None
        if there is not None:
            there.take_focus()
        elif number and step > 0:
            self.set_focus(self.query_one("#do-one_more"))
        elif number:
            self.field("note").take_focus()
        else:
            elsewhere()

    def _cell(self) -> tuple[str, int]:
        """The column with the focus and the number of the unit; 0 where another field or none has it."""
        here = next((name for name, one in self._fields.items() if one.control is self.focused), "")
        name, _, number = here.rpartition("_")
        return (name, int(number)) if number.isdigit() else ("", 0)

    def on_descendant_focus(self) -> None:
        """Show over the rows which column one is in."""
        names = self.query_one(NamesOverCells)
        here, _ = self._cell()
        if here != names.here:
            names.here = here
            names.refresh()

    @on(NumberField.Restricted)
    def _restricted(self, event: NumberField.Restricted) -> None:
        self.say(event.sentence)

    def action_one_like(self) -> None:
        """One more unit like the last; where the last is still empty, that one is like the one above."""
        if not self._is_empty(self.units) or self.units == 1:
            if self.units == MOST:
                return
            self._put_unit()
        number = self.units
        for name in LIKE:
            self.field(f"{name}_{number}").put(self.value(f"{name}_{number - 1}"))
        self._go_to(number, "serial")

    def _is_empty(self, number: int) -> bool:
        return not any(self.field(f"{name}_{number}").changed for name in (*OF_A_UNIT, "route", "donor"))

    def _go_to(self, number: int, name: str = "maker") -> None:
        field = self.field(f"{name}_{number}")
        field.call_after_refresh(field.take_focus)

    def _buy(self, filled: Filled) -> LotBought:
        typed = filled.typed
        units = tuple(_take_unit(typed, number) for number in range(1, self.units + 1))
        name, seller = typed.pop("name_of_lot"), take_party(typed)
        return use_cases.lots.buy_lot(filled.desk, name=name, units=units, seller=seller, **typed)

    def _put_unit(self) -> None:
        self.query_one("#body").mount(self._next_unit(), before="#known")

    def _next_unit(self) -> Widget:
        self.units += 1
        number = self.units
        cells: dict[str, Field] = {
            "maker": TextField(f"maker_{number}", f"{number:>2}"),
            "model": TextField(f"model_{number}", "Model"),
            "serial": TextField(f"serial_{number}", "Serial number", takes=SERIAL),
            "expected_text": NumberField(f"expected_text_{number}", "Expected price", like=MONEY),
            "route": ChoiceField(f"route_{number}", "Route", self._routes, none="none", ids=True),
            "tag_text": TextField(f"tag_text_{number}", "Tag", takes=TAG, hint="next"),
            "donor": MarkField(f"donor_{number}", "Donor", ""),
        }
        for name, cell in cells.items():
            cell.own_label_cells = NUMBER_CELLS if name == "maker" else 0
            cell.add_class(name)
        self._fields.update((cell.field_name, cell) for cell in cells.values())
        return SideBySide(*cells.values(), id=f"unit-{number}", classes="row")


def _take_unit(typed: Typed, number: int) -> LotUnit:
    """One unit of the lot, taken out of the rest that was typed."""
    if not typed[f"model_{number}"].strip():
        raise BadInput(
            f"Unit {number} of the lot has no model.",
            "Type it, or leave the unit out.",
            field=f"model_{number}",
        )
    route_id, donor = typed.pop(f"route_{number}"), typed.pop(f"donor_{number}")
    return LotUnit(
        **{name: typed.pop(f"{name}_{number}") for name in OF_A_UNIT}, route_id=route_id, donor=donor
    )
