"""What a finished task takes and leaves: fields of its dialog, and what is low then."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bench.dashboard.presenters.pieces import Part
from bench.domain.quantities import plain_number, read_quantity, short_quantity, show_quantity, unit_label
from bench.domain.stock_levels import Issued, StockLine
from bench.errors import BadInput
from bench.views.tasks import TaskLine


def low_words(issued: Iterable[Issued]) -> str:
    """The consumables that are low now and what is left of each; nothing where none is."""
    low = [f"{one.name} ({short_quantity(one.left, one.base_unit)} left)" for one in issued if one.low]
    return f"Low now: {', '.join(low)}. Time to restock." if low else ""


@dataclass(frozen=True, slots=True)
class Taking:
    """One consumable of a task: what the route says it takes, as text, and its level."""

    line: StockLine
    typed: str

    @property
    def name(self) -> str:
        """The name of its field."""
        return f"use-{self.line.consumable_id}"


def takings(task: TaskLine, stock: Sequence[StockLine]) -> tuple[Taking, ...]:
    """What the task's route says it takes, in the route's order."""
    levels = {line.consumable_id: line for line in stock}
    return tuple(
        Taking(levels[use.consumable_id], plain_number(use.quantity))
        for use in task.uses
        if use.consumable_id in levels
    )


def others(stock: Sequence[StockLine], shown: Sequence[int]) -> tuple[tuple[str, str], ...]:
    """What else is on the shelf, to choose from."""
    return tuple(
        (str(line.consumable_id), f"{line.name}  ({short_quantity(line.on_hand, line.base_unit)})")
        for line in stock
        if line.consumable_id not in shown and line.on_hand > 0
    )


def amount(typed: str, line: StockLine) -> int:
    """The thousandths typed; nothing typed is nothing taken. BadInput when it cannot be read."""
    return read_quantity(typed.strip() or "0", line.base_unit, allow_zero=True)


def left_after(typed: str, line: StockLine) -> Part:
    """What would be left on the shelf, and whether that is low."""
    try:
        left = line.on_hand - amount(typed, line)
    except BadInput:
        return Part(unit_label(line.base_unit, 0), "muted")
    unit = unit_label(line.base_unit, amount(typed, line))
    if left < 0:
        return Part(f"{unit}, only {show_quantity(line.on_hand, line.base_unit)} on hand", "alert")
    words = f"{unit}, {short_quantity(left, line.base_unit)} left"
    return Part(f"{words} ↓ LOW", "warning") if line.low_with(left) else Part(words, "muted")


def first_short(typed: Mapping[int, str], stock: Sequence[StockLine]) -> int | None:
    """The first consumable of which more was typed than is on hand."""
    for line in stock:
        if line.consumable_id in typed and left_after(typed[line.consumable_id], line).look == "alert":
            return line.consumable_id
    return None
