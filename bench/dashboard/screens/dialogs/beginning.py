"""The form that a new file begins with: the shop, its people, and what lies on the shelf."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.widget import Widget

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.choice_fields import OPEN, TICKED
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.text_fields import AMOUNT, NumberField, TextField
from bench.desk import Desk
from bench.domain.quantities import short_quantity
from bench.domain.stock_levels import StockLine
from bench.views.shop import ShopFacts, read_people, read_shop
from bench.views.stock import read_stock

ABOVE = "All of it can be changed later; Esc keeps what is typed for later."
SHELF = "What is on the shelf? Space ticks one pack, or type an amount."


@dataclass(frozen=True, slots=True)
class Facts:
    """What the file holds. `you`: the name of whoever acts."""

    shop: ShopFacts
    you: str
    shelf: tuple[StockLine, ...]


class ShelfField(NumberField):
    """What lies there of a consumable; Space ticks it as one pack, or takes the tick off."""

    def __init__(self, line: StockLine) -> None:
        pack = short_quantity(line.pack, line.base_unit)
        super().__init__(f"amount_{line.consumable_id}", "", like=AMOUNT, hint=f"Space: a pack of {pack}")
        self.pack = pack
        self.consumable = line.name
        self._mark()

    def watch_value(self, value: str) -> None:
        """Tick what has an amount."""
        del value
        self._mark()

    def on_key(self, event: events.Key) -> None:
        """Space ticks; behind digits it is one of an amount's own."""
        if event.key == "space" and (not self.value or self.value in (self.pack, self.selected_text)):
            event.stop()
            event.prevent_default()
            self.put("" if self.value else self.pack)

    def _mark(self) -> None:
        self.label = f"{TICKED if self.value.strip() else OPEN} {self.consumable}"
        self.refresh()


class BeginningForm(Form[bool]):
    """Answers True once the shop is set up; the demo is one key away."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("beginning")
    label_cells = 33

    def __init__(self) -> None:
        super().__init__(
            FormOf(
                heading="Set up the shop",
                draft="beginning",
                send="Begin",
                fields=(
                    TextField("name", "Shop"),
                    TextField("currency", "Currency", hint="three letters, such as EUR"),
                    TextField("zone", "Time zone", hint="such as Europe/Berlin"),
                    TextField("you", "Your name"),
                    TextField("others", "Who else works here", hint="names with commas between, or nobody"),
                ),
                above=ABOVE,
                known=SHELF,
                reads=_read,
                begins=lambda facts: Begun(values=_values(facts)),
                does=_begin,
            )
        )

    def body(self) -> Iterable[Widget]:
        """The fields, those of the shelf once it is read, and the way to the demo."""
        yield from super().body()
        with Horizontal(id="more"):
            yield self.button("Look at a made-up workshop first", "demo")

    def begin(self, facts: Facts) -> None:
        """What the file holds, and a line for each consumable."""
        shelf = [ShelfField(line) for line in facts.shelf]
        self.add_fields(shelf, before="#more")
        super().begin(facts)

    def action_demo(self) -> None:
        """Open the demo; what is typed here is kept, and leaving the demo leads back."""
        self.keep_or_drop()
        self.bench.open_demo()


def _read(desk: Desk) -> Facts:
    you = next(one.name for one in read_people(desk) if one.person_id == desk.person_id)
    shelf = sorted(read_stock(desk).lines, key=lambda line: line.consumable_id)
    return Facts(read_shop(desk), you, tuple(shelf))


def _values(facts: Facts) -> dict[str, str]:
    shop = facts.shop
    return {"name": shop.name, "currency": shop.currency, "zone": shop.zone, "you": facts.you}


def _begin(filled: Filled) -> None:
    typed = dict(filled.typed)
    amounts = {line.consumable_id: typed.pop(f"amount_{line.consumable_id}") for line in filled.facts.shelf}
    use_cases.beginning.begin_shop(filled.desk, **typed, amounts=amounts)
