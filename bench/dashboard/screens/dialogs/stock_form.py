"""What forms about one consumable share: choosing it first where none was named, low ones first."""

from __future__ import annotations

from collections.abc import Iterable

from textual import on
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.presenters.stock_choices import consumable_choices
from bench.dashboard.screens.dialogs.choice import Choice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import CONSUMABLE as CONSUMABLE_SCAN
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.stock_levels import StockLine
from bench.domain.text import for_display

CONSUMABLE = "consumable"


class StockForm(Form[bool]):
    """A form about a consumable; `line` is the one that is chosen."""

    verb = "Restock"

    def __init__(self, consumable_id: int | None = None, *, draft: str = "") -> None:
        named = f"{self.verb.casefold()} {consumable_id or ''}".strip()
        super().__init__(self.verb, draft=draft or named)
        self.consumable_id = consumable_id
        self.stock: dict[str, StockLine] = {}

    def body(self) -> Iterable[Widget]:
        """The fields, then what is known of the consumable."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def chooser(self) -> tuple[Field, ...]:
        """The list to choose from, where no consumable was named."""
        if self.consumable_id is not None:
            return ()
        return (ChoiceField(CONSUMABLE, "Consumable", none="choose", takes=CONSUMABLE_SCAN),)

    def read(self) -> tuple[StockLine, ...]:
        """The levels."""
        from bench.views.stock import read_stock

        return read_stock(self.desk).lines

    def begin(self, facts: tuple[StockLine, ...]) -> None:
        """Offer the consumables, or show the one that was named."""
        self.stock = {str(line.consumable_id): line for line in facts}
        if self.consumable_id is None:
            chooser = self.field(CONSUMABLE)
            assert isinstance(chooser, ChoiceField)
            chooser.offer(consumable_choices(facts))
        elif self.line is None:
            self.dismiss(None)
        else:
            words = f"{self.verb} {for_display(self.line.name)}"
            self.query_one("#heading", Static).update(Content(words))
            self.know(self.line)

    @property
    def line(self) -> StockLine | None:
        """The consumable chosen, as it is now."""
        key = self.value(CONSUMABLE) if self.consumable_id is None else str(self.consumable_id)
        return self.stock.get(key)

    def know(self, line: StockLine) -> None:
        """Show what is known of the consumable; subclasses put in what they suggest."""
        raise NotImplementedError

    def told(self, words: str) -> None:
        """Put a line of what is known under the fields."""
        self.query_one("#known", Static).update(Content(words))

    def which(self) -> int:
        """The consumable's number; BadInput while none is chosen."""
        return self.chosen(CONSUMABLE) if self.consumable_id is None else self.consumable_id

    @on(Choice.Changed)
    def _another(self) -> None:
        if self.line is not None:
            self.know(self.line)
