"""What people order by chance, and what becomes of it: taken in, broken, sent back, refunded, scrapped."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st
from hypothesis.stateful import rule

from bench.desk import Desk
from bench.work.arrivals import complain, refund_order, send_back, take_in
from bench.work.components import scrap_part
from bench.work.orders import cancel_order, order_part
from tests.faults.machine_ground import ANY, PEOPLE, UNITS, WHY, Ground
from tests.faults.model import Model

# Arrived parts that may be fitted, complained of and the like come up often: all orders are chosen from.
_ORDERS = "SELECT id FROM parts_order WHERE removed = 0 AND state IN ({states})"


class OrderActs(Ground):
    """Each rule does one thing as one person; what is refused must leave all as it was."""

    @rule(
        person=PEOPLE, unit=st.one_of(st.none(), UNITS), wanted=st.booleans(), waits=st.booleans(), choice=ANY
    )
    def order(self, person: int, unit: int | None, wanted: bool, waits: bool, choice: int) -> None:
        task = 0
        if waits and unit is not None:
            task = self.chosen(
                f"SELECT id FROM task WHERE unit_id = {unit} AND state = 'todo' AND unattended = 0", choice
            )

        def do(desk: Desk) -> Callable[[Model], None]:
            order = order_part(
                desk, unit, what="fan", price_text="7", wanted=wanted, task_ids=[task] if task else []
            ).order_id
            return lambda model: model.order(order, unit, "wanted" if wanted else "ordered", task)

        self.act(person, "order", do)

    @rule(person=PEOPLE, found=st.sampled_from(("", "", "broken")), choice=ANY)
    def take_in(self, person: int, found: str, choice: int) -> None:
        order = self.chosen(_ORDERS.format(states="'wanted', 'ordered'"), choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            component = take_in(desk, order, found=found).component_id or 0
            part = self.one("SELECT id FROM part WHERE component_id = ?", component)
            return lambda model: model.take_in(order, found, component, part)

        self.act(person, "take in", do)

    @rule(person=PEOPLE, choice=ANY)
    def cancel(self, person: int, choice: int) -> None:
        order = self.chosen(_ORDERS.format(states="'wanted', 'ordered'"), choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            cancel_order(desk, order, WHY)
            return lambda model: model.cancel(order)

        self.act(person, "cancel", do)

    @rule(person=PEOPLE, choice=ANY)
    def complain(self, person: int, choice: int) -> None:
        order = self.chosen(_ORDERS.format(states="'arrived'"), choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            complain(desk, order, found="broken")
            return lambda model: model.complain(order)

        self.act(person, "complain", do)

    @rule(person=PEOPLE, choice=ANY)
    def send_back(self, person: int, choice: int) -> None:
        order = self.chosen(_ORDERS.format(states="'broken'"), choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            send_back(desk, order)
            return lambda model: model.send_back(order)

        self.act(person, "send back", do)

    @rule(person=PEOPLE, choice=ANY)
    def refund(self, person: int, choice: int) -> None:
        order = self.chosen(_ORDERS.format(states="'broken', 'sent back'"), choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            refund_order(desk, order, refund_text="5")
            return lambda model: model.refund(order, 500)

        self.act(person, "refund", do)

    @rule(person=PEOPLE, choice=ANY)
    def scrap(self, person: int, choice: int) -> None:
        component = self.chosen(
            "SELECT component_id FROM part WHERE removed = 0 AND to_unit_id IS NULL", choice
        )

        def do(desk: Desk) -> Callable[[Model], None]:
            scrap_part(desk, component, WHY)
            return lambda model: model.scrap(component)

        self.act(person, "scrap", do)

    def orders_are_so(self, model: Model) -> None:
        orders = self.all(
            "SELECT id, unit_id, state, COALESCE(component_id, 0), refund_minor FROM parts_order"
            " WHERE removed = 0"
        )
        assert set(orders) == {(order, *one) for order, one in model.orders.items()}
        assert set(self.all("SELECT task_id, order_id FROM task_wait WHERE removed = 0")) == model.waits
        gone = self.all("SELECT id, gone FROM component WHERE gone <> '' AND removed = 0")
        assert set(gone) == set(model.gone.items())
        moves = self.all("SELECT id, component_id FROM part WHERE removed = 0")
        assert set(moves) == {(part, model.which[part]) for part in model.parts}
