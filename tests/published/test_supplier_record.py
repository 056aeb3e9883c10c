"""How often suppliers are late or wrong, and stock on order: against definitions outside the program.

Sources. On-time delivery: the share of deliveries on or before the promised day among those with one
(common practice, no source). Inventory position = on hand + on order - backorders: E. A. Silver, D. F. Pyke,
D. J. Thomas, Inventory and Production Management in Supply Chains, 4th ed., ch. 6 (from memory). Conservation
of money: every amount that is paid is a cost, lies on the shelf, is owed, or came back (double entry).
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from statistics import fmean

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.orders import late_days
from bench.domain.stock_levels import Level, stock_line
from bench.errors import BenchError
from bench.views.months import read_month
from bench.views.orders import read_orders
from bench.views.parts import read_shelf
from bench.views.suppliers import read_suppliers
from bench.views.unit_money import read_unit_money
from bench.work.arrivals import complain, refund_order, send_back, take_in
from bench.work.components import scrap_part, sell_part
from bench.work.orders import order_part
from bench.work.parts import fit_from_shelf, take_part
from tests.clocks import HandSetClock
from tests.work.trade_steps import new_unit

DUE = date(2026, 12, 1)
# Days between the promised day and the day of arrival, None where it has not come yet.
DELIVERIES = (0, -2, 3, 1, 0, None, 5)


def test_late_is_after_the_promised_day_and_not_on_it() -> None:
    today = DUE + timedelta(days=4)
    told = [
        late_days(DUE, None, "ordered", today)
        if after is None
        else late_days(DUE, DUE + timedelta(days=after), "arrived", today)
        for after in DELIVERIES
    ]
    assert told == [0, 0, 3, 1, 0, 4, 5]
    assert late_days(None, DUE, "arrived", today) == 0
    assert late_days(DUE, None, "cancelled", today) == 0
    assert late_days(DUE, None, "wanted", today) == 0


def test_the_share_of_late_deliveries_is_reckoned_from_those_with_a_promised_day(
    desk: Desk, clock: HandSetClock
) -> None:
    unit_id = new_unit(desk, "80")
    came: list[bool] = []
    for promised, took in ((2, 1), (2, 2), (2, 4), (None, 3), (1, 3)):
        due = "" if promised is None else f"+{promised}"
        number = order_part(desk, unit_id, what="fan", supplier="Odd", price_text="1", due_text=due).order_id
        clock.advance(minutes=took * 24 * 60)
        take_in(desk, number)
        if promised is not None:
            came.append(took > promised)
    [line] = read_suppliers(desk).lines
    assert line.late / line.dated == pytest.approx(fmean(came))
    assert line.late_days == (4 - 2) + (3 - 1)


def test_what_is_on_order_counts_to_the_inventory_position() -> None:
    """Two units a day, 10 on hand: 5 days. With 20 on order, 15; the reorder point of 12 is not reached."""
    level = Level(
        consumable_id=1,
        name="",
        base_unit="g",
        pack=1_000,
        lead_days=2,
        shelf_life_days=None,
        reorder_quantity=12_000,
        hazard="",
        code="",
        on_hand=10_000,
        value_minor=0,
        after_incoming=0,
        first_us=1,
    )
    use = [2_000] * 10
    alone = stock_line(level, use, (), DUE)
    assert (alone.low, alone.days_of_cover, alone.cover) == (True, 5.0, 5.0)
    coming = stock_line(level, use, (), DUE, on_order=20_000, order_due=DUE)
    assert (coming.low, coming.days_of_cover, coming.cover) == (False, 5.0, 15.0)
    assert coming.suggest_packs == 0


STEPS = st.lists(st.tuples(st.integers(0, 9), st.integers(0, 2), st.integers(1, 40)), min_size=1, max_size=14)


@settings(deadline=None, max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=STEPS)
def test_whatever_becomes_of_parts_no_cent_is_lost_or_made(
    desk: Desk, steps: list[tuple[int, int, int]]
) -> None:
    """Costs of units + shelf + refunds awaited = paid - came back - sales + gains of the shop."""
    units = [new_unit(desk, "80"), new_unit(desk, "50")]
    for kind, which, cents in steps:
        try:
            _step(desk, units, kind, which, f"{cents}.{cents:02d}")
        except BenchError:
            continue  # not every step fits every state
    with desk.store.read() as connection:
        one = connection.execute(
            "SELECT (SELECT SUM(price_minor) FROM unit)"
            " + (SELECT COALESCE(SUM(cost_minor), 0) FROM part WHERE from_unit_id IS NULL AND removed = 0)"
            " - (SELECT COALESCE(SUM(refund_minor), 0) FROM parts_order)"
            " - (SELECT COALESCE(SUM(price_minor), 0) FROM component)"
        ).fetchone()[0]
        ids = [row[0] for row in connection.execute("SELECT id FROM unit")]
    month = read_month(desk)
    costs = sum(read_unit_money(desk, unit_id).cost_so_far_minor for unit_id in ids)
    beside = sum(line.amount_minor or 0 for line in month.unsold)
    held = {line.name: line.cost_so_far_minor for line in month.tied_up}
    awaited = held.get("parts sent back, refund awaited", 0)
    assert costs + read_shelf(desk).cost_minor + awaited - beside == one
    assert held.get("parts on the shelf", 0) == read_shelf(desk).cost_minor


def _step(desk: Desk, units: list[int], kind: int, which: int, amount: str) -> None:
    """One thing that may become of a part; BenchError where it does not fit."""
    unit_id = None if which == 2 else units[which]
    lines = [*read_orders(desk).lines, *read_orders(desk, settled=True).lines]
    shelf = read_shelf(desk).lines
    order = lines[which % len(lines)].order_id if lines else 0
    part = shelf[which % len(shelf)] if shelf else None
    part_id, component_id = (part.part_id, part.component_id) if part else (0, 0)
    acts: tuple[Callable[[], object], ...] = (
        lambda: order_part(desk, unit_id, what="fan", price_text=amount, freight_text="1"),
        lambda: take_in(desk, order),
        lambda: take_in(desk, order, found="wrong"),
        lambda: complain(desk, order, found="broken"),
        lambda: send_back(desk, order),
        lambda: refund_order(desk, order, refund_text=amount),
        lambda: fit_from_shelf(desk, part_id, unit_id or units[0]),
        lambda: take_part(desk, unit_id or units[1], name="fan", cost_text="2.50", again="another"),
        lambda: sell_part(desk, component_id, price_text=amount),
        lambda: scrap_part(desk, component_id, "worn"),
    )
    acts[kind]()
