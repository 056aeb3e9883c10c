"""Orders of the simple shop, the parts they bring, tasks that wait for them; what leaves the shelf."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.faults.model_ground import Bench, need

WANTED, ORDERED, ARRIVED, BROKEN = "wanted", "ordered", "arrived", "broken"
SENT_BACK, REFUNDED, CANCELLED = "sent back", "refunded", "cancelled"


@dataclass
class Orders(Bench):
    """Orders: the unit it is for, its state, the part it brought (0 for none yet), what came back for it.

    `waits`: a task and the order that it waits for.
    """

    orders: dict[int, tuple[int | None, str, int, int]] = field(default_factory=dict)
    waits: set[tuple[int, int]] = field(default_factory=set)

    def order(self, order: int, unit: int | None, state: str, task: int) -> None:
        need(unit not in self.sold, f"an order for {unit}, which is sold")
        self.orders[order] = (unit, state, 0, 0)
        if task:
            self.waits.add((task, order))

    def awaited(self, task: int) -> bool:
        """Whether a task waits for what is not here."""
        states = [self.orders[order][1] for one, order in self.waits if one == task and order in self.orders]
        return any(state not in (ARRIVED, CANCELLED) for state in states)

    def _goes_on(self, order: int, states: tuple[str, ...], to: str, back: int = 0) -> int:
        need(order in self.orders, f"order {order} is not there")
        unit, state, component, _ = self.orders[order]
        need(state in states, f"order {order} {to}, which is {state}")
        self.orders[order] = (unit, to, component, back)
        return component

    def take_in(self, order: int, found: str, component: int, part: int) -> None:
        self._goes_on(order, (WANTED, ORDERED), found or ARRIVED)
        unit, state, _, back = self.orders[order]
        self.orders[order] = (unit, state, component, back)
        self.parts[part], self.which[part] = None, component

    def cancel(self, order: int) -> None:
        self._goes_on(order, (WANTED, ORDERED), CANCELLED)

    def complain(self, order: int) -> None:
        self._goes_on(order, (ARRIVED,), BROKEN)

    def send_back(self, order: int) -> None:
        self.leaves(self._goes_on(order, (BROKEN,), SENT_BACK), SENT_BACK)

    def refund(self, order: int, back: int) -> None:
        self._goes_on(order, (BROKEN, SENT_BACK), REFUNDED, back)

    def leaves(self, component: int, way: str) -> None:
        """A part leaves the shop off the shelf."""
        need(component not in self.gone, f"part {component} {way}, which is {self.gone.get(component)}")
        need(self.where(component) is None, f"part {component} {way}, which is not on the shelf")
        self.gone[component] = way
