"""The demo's movements of stock, in the order in which they happened, drawn from the oldest receipt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import timedelta

from bench.domain.durations import HOUR_US
from bench.domain.layers import Layer, draw_oldest, left_after
from bench.domain.money import read_money
from bench.domain.quantities import read_quantity, show_quantity
from bench.domain.weeks import day_bounds_us
from bench.store.demo_data import DemoMovement
from bench.store.tables import Movement
from bench.work.demo.ground import Ground, Line, numbered
from bench.work.demo.tasks import Taken

DELIVERY_AT_US = 10 * HOUR_US  # after midnight


@dataclass
class StockRows:
    """Movements, numbered as they happened, and the journal's lines about them."""

    ground: Ground
    movements: list[Movement] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    layers: dict[str, tuple[Layer, ...]] = field(default_factory=dict)

    def book(self, at_us: int, one: DemoMovement) -> None:
        """A receipt, or the difference that a count found."""
        unit = self.ground.consumables[one.consumable].base_unit
        quantity = read_quantity(one.quantity.removeprefix("-"), unit)
        shown = show_quantity(quantity, unit)
        if one.kind == "receipt":
            words = f"Restocked {shown} {one.consumable} from {one.supplier}"
            self._bring(at_us, one, quantity)
        elif one.quantity.startswith("-"):
            words = f"Counted {one.consumable}: {shown} less"
            self._take(at_us, one.who, one.consumable, quantity, reason=one.reason)
        else:
            words = f"Counted {one.consumable}: {shown} more"
            self._bring(at_us, one, quantity)
        action = "restock" if one.kind == "receipt" else "count"
        self.lines.append(Line(at_us, one.who, action, words, reason=one.reason))

    def issue(self, one: Taken) -> None:
        """What a finished task took."""
        for consumable, quantity in one.uses:
            self._take(one.at_us, one.who, consumable, quantity, task_id=one.task_id)

    def _bring(self, at_us: int, one: DemoMovement, quantity: int) -> None:
        expires_on = None
        if one.expires_in_days is not None:
            expires_on = self.ground.today + timedelta(days=one.expires_in_days)
        row = self._row(one.consumable, one.who, one.kind, at_us)
        row.quantity = quantity
        row.cost_minor = read_money(one.price, self.ground.demo.currency) if one.price else 0
        row.supplier, row.reason = one.supplier, one.reason
        row.expires_on = expires_on.isoformat() if expires_on else None
        layer = Layer(numbered(row.id), quantity, row.cost_minor, at_us, expires_on)
        self.layers[one.consumable] = (*self.layers.get(one.consumable, ()), layer)

    def _take(
        self,
        at_us: int,
        who: str,
        consumable: str,
        quantity: int,
        *,
        task_id: int | None = None,
        reason: str = "",
    ) -> None:
        layers = self.layers.get(consumable, ())
        draws = draw_oldest(layers, quantity)
        for draw in draws:
            row = self._row(consumable, who, "count" if task_id is None else "issue", at_us)
            row.quantity, row.cost_minor, row.layer_id = -draw.quantity, -draw.cost_minor, draw.receipt_id
            row.task_id, row.reason = task_id, reason
        self.layers[consumable] = left_after(layers, draws)

    def _row(self, consumable: str, who: str, kind: str, at_us: int) -> Movement:
        row = Movement(
            id=len(self.movements) + 1,
            consumable_id=numbered(self.ground.consumables[consumable].id),
            kind=kind,
            quantity=0,
            at_us=at_us,
            person_id=self.ground.people[who],
        )
        self.movements.append(row)
        return row


def stock_rows(ground: Ground, taken: Iterable[Taken]) -> StockRows:
    """Every receipt, count and issue. OutOfStock if the files would have more taken than there was."""
    rows = StockRows(ground)
    events: list[tuple[int, DemoMovement | Taken]] = [(one.at_us, one) for one in taken]
    for one in ground.demo.stock:
        midnight_us, _ = day_bounds_us(ground.today - timedelta(days=one.days_ago), ground.demo.zone)
        events.append((midnight_us + DELIVERY_AT_US, one))
    for at_us, event in sorted(events, key=lambda event: event[0]):
        if isinstance(event, Taken):
            rows.issue(event)
        else:
            rows.book(at_us, event)
    return rows
