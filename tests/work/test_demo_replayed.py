"""The demo as its quick loader writes it, against the same bench book replayed through the use cases."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from bench.desk import Desk
from bench.domain.localtime import instant_of
from bench.domain.specification import NAMES
from bench.domain.weeks import IsoWeek, zone_named
from bench.reports.plain_values import facts_of
from bench.store.demo_data import demo_folder, read_demo
from bench.views.expenses import read_expenses
from bench.views.faults import read_faults
from bench.views.forecast import read_forecast
from bench.views.lots import read_lots
from bench.views.model_page import read_model_page
from bench.views.months import read_month, read_year
from bench.views.next_up import read_ranking
from bench.views.orders import read_orders
from bench.views.parts import read_shelf
from bench.views.queue import read_queue
from bench.views.rates import read_rates
from bench.views.register import read_register
from bench.views.repair_jobs import read_jobs
from bench.views.stock import read_stock
from bench.views.suppliers import read_suppliers
from bench.views.unit_money import read_unit_money
from bench.views.week import read_week
from bench.work.demo import make_demo
from bench.work.files import open_existing, open_or_new
from tests.clocks import HandSetClock
from tests.made_once import made_once
from tests.work.demo_replayed import Replay

LOADED, REPLAYED = "loaded.bench", "replayed.bench"
ZONE = "Europe/Berlin"
NOW_US = instant_of(datetime(2026, 11, 25, 15, 24, tzinfo=zone_named(ZONE)))

# Rows told by names, for the two files number them differently: a unit by its tag, a task by its name.
TEXTS = {
    "units": """
SELECT unit.tag, maker, model, serial, unit.note, route.name, stage.name, stage_since_us, added_us, due_on,
       price_minor, owner.name, held_reason, held_us, unit.lid_off, cell_finding, back_us
FROM unit JOIN stage ON stage.id = unit.stage_id LEFT JOIN route ON route.id = route_id
LEFT JOIN party AS owner ON owner.id = owner_id WHERE unit.removed = 0""",
    "screws out": "SELECT tag, screws_out FROM unit WHERE lid_off",
    "opened": "SELECT tag, opened_us FROM unit WHERE lid_off",
    "moves": """
SELECT tag, old.name, from_since_us, new.name, at_us, stage_move.removed
FROM stage_move JOIN unit ON unit.id = unit_id
JOIN stage AS old ON old.id = from_stage_id JOIN stage AS new ON new.id = to_stage_id""",
    "tasks": """
SELECT tag, task.name, stage.name, task.position, estimate_minutes, unattended, task.lid_off, opens, hazard,
       state, ended_us, skip_reason, route_task_id
FROM task JOIN unit ON unit.id = unit_id JOIN stage ON stage.id = task.stage_id WHERE task.removed = 0""",
    "takes": """
SELECT tag, task.name, consumable.name, task_use.quantity FROM task_use JOIN task ON task.id = task_id
JOIN unit ON unit.id = task.unit_id JOIN consumable ON consumable.id = consumable_id""",
    "entries": """
SELECT tag, task.name, person.name, started_us, stopped_us, attended FROM time_entry
JOIN task ON task.id = task_id JOIN unit ON unit.id = task.unit_id JOIN person ON person.id = person_id""",
    "movements": """
SELECT consumable.name, movement.kind, movement.at_us, movement.quantity, movement.cost_minor, unit.tag,
       task.name, person.name, movement.supplier, movement.expires_on, movement.reason, receipt.at_us
FROM movement JOIN consumable ON consumable.id = movement.consumable_id
JOIN person ON person.id = movement.person_id LEFT JOIN movement AS receipt ON receipt.id = movement.layer_id
LEFT JOIN task ON task.id = movement.task_id LEFT JOIN unit ON unit.id = task.unit_id""",
    "layers": """
SELECT consumable.name, receipt.at_us, balance.quantity, balance.cost_minor FROM layer_balance AS balance
JOIN movement AS receipt ON receipt.id = balance.layer_id
JOIN consumable ON consumable.id = receipt.consumable_id""",
    "purchases": """
SELECT tag, lot.name, seller.name, expected_minor, donor, purchase.premium_minor, purchase.freight_minor,
       COALESCE(purchase.bought_on, lot.bought_on)
FROM purchase JOIN unit ON unit.id = unit_id LEFT JOIN lot ON lot.id = lot_id
LEFT JOIN party AS seller ON seller.id = COALESCE(purchase.party_id, lot.party_id)""",
    "lots": "SELECT lot.name, price_minor, freight_minor, bought_on, party.name, note "
    "FROM lot JOIN party ON party.id = party_id WHERE lot.removed = 0",
    "offers": """
SELECT at_us, maker, model, serial, offer.note, route.name, channel.name, asking_minor, expected_minor,
       parts_minor, premium_per_10000, offer.freight_minor, offer.shipping_minor, state, unit_id IS NULL
FROM offer JOIN route ON route.id = route_id JOIN channel ON channel.id = channel_id
WHERE offer.removed = 0""",
    "drives": """
SELECT drive.maker, drive.model, drive.serial, media_type, size_bytes, place.tag, came.tag, outside_us
FROM drive LEFT JOIN unit AS place ON place.id = unit_id LEFT JOIN unit AS came ON came.id = came_in_unit_id
WHERE drive.removed = 0""",
    "wipes": """
SELECT serial, method, technique, wiped_us, result, verified_us FROM wipe JOIN drive ON drive.id = drive_id
WHERE wipe.removed = 0""",
    "parts": """
SELECT part.name, part.serial, giver.tag, taker.tag, cost_minor, at_us, supplier, part.note
FROM part LEFT JOIN unit AS giver ON giver.id = from_unit_id LEFT JOIN unit AS taker ON taker.id = to_unit_id
WHERE part.removed = 0""",
    "sales": """
SELECT tag, channel.name, sold_on, sold_us, sale.price_minor, fee_minor, shipping_minor, shipping_known,
       tax_minor, warranty_until, buyer.name, sale.note
FROM sale JOIN unit ON unit.id = unit_id JOIN channel ON channel.id = channel_id
LEFT JOIN party AS buyer ON buyer.id = party_id WHERE sale.removed = 0""",
    "returns": """
SELECT tag, comeback.at_us, reason, refund_minor, fee_back_minor, postage_minor, undoes
FROM comeback JOIN sale ON sale.id = sale_id JOIN unit ON unit.id = unit_id WHERE comeback.removed = 0""",
    "ways out": """
SELECT tag, way, at_us, ended_us, way_out.note, way_out.price_minor, proceeds_minor
FROM way_out JOIN unit ON unit.id = unit_id WHERE way_out.removed = 0""",
    "settings": "SELECT shop.name, currency, zone, rate_minor_per_hour, forgotten_times, "
    "forgotten_least_minutes, margin_scheme, margin_tax_per_10000, hold_days, keep_private_years, "
    "risk_reserve_per_10000, wanted_margin_minor, warranty_days, repair_tax_per_10000, quote_days, "
    "repair_warranty_days, uncollected_days, machine_watts, mwh_price_minor FROM shop CROSS JOIN trade",
    "faults": """
SELECT tag, symptom, place, found_us, finder.name, task.name, stage.name, origin, suspected, cause,
       fault.state, done, closed_us, closer.name, closing.kind, closing.at_us
FROM fault JOIN unit ON unit.id = fault.unit_id JOIN person AS finder ON finder.id = fault.person_id
LEFT JOIN person AS closer ON closer.id = closed_by_id LEFT JOIN task ON task.id = fault.task_id
LEFT JOIN stage ON stage.id = fault.stage_id LEFT JOIN test_run AS closing ON closing.id = closed_by_test_id
WHERE fault.removed = 0""",
    "tests": """
SELECT tag, task.name, kind, outcome, ran_us, figures, test_run.note, at_us, person.name, symptom
FROM test_run JOIN unit ON unit.id = test_run.unit_id JOIN person ON person.id = test_run.person_id
LEFT JOIN task ON task.id = test_run.task_id LEFT JOIN fault ON fault.id = test_run.fault_id
WHERE test_run.removed = 0""",
    "what belongs to faults": """
SELECT symptom, 'task', task.name FROM task JOIN fault ON fault.id = task.fault_id UNION ALL
SELECT symptom, 'time', started_us FROM time_entry JOIN fault ON fault.id = time_entry.fault_id UNION ALL
SELECT symptom, 'part', part.name FROM part JOIN fault ON fault.id = part.fault_id UNION ALL
SELECT symptom, 'return', comeback.at_us FROM comeback JOIN fault ON fault.id = comeback.fault_id""",
    "which part each move is of": """
SELECT component.name, component.serial, maker_number, place, gone, gone_us, component.note,
       component.price_minor, bearer.tag, part.name, giver.tag, taker.tag, at_us, person.name, drive.serial
FROM component JOIN part ON part.component_id = component.id JOIN person ON person.id = part.person_id
LEFT JOIN unit AS bearer ON bearer.id = bears_unit_id LEFT JOIN drive ON drive.id = part.drive_id
LEFT JOIN unit AS giver ON giver.id = from_unit_id LEFT JOIN unit AS taker ON taker.id = to_unit_id
WHERE component.removed = 0 AND part.removed = 0""",
    "parts in several moves": """
SELECT component.name, COUNT(*) FROM component JOIN part ON part.component_id = component.id
GROUP BY component.id""",
    "orders": """
SELECT what, orders.maker_number, unit.tag, consumable.name, quantity, orders.supplier, orders.price_minor,
       freight_minor, state, wanted_us, ordered_on, orders.due_on, arrived_on, faulty_on, found, sent_back_on,
       refunded_us, owed_minor, refund_minor, credited.tag, component.name, component.place,
       (SELECT before.what FROM parts_order AS before WHERE before.id = orders.instead_of_id), orders.note
FROM parts_order AS orders LEFT JOIN unit ON unit.id = orders.unit_id
LEFT JOIN unit AS credited ON credited.id = refund_unit_id
LEFT JOIN consumable ON consumable.id = consumable_id
LEFT JOIN component ON component.id = component_id WHERE orders.removed = 0""",
    "waits": """
SELECT tag, task.name, what, ordered_on, waived FROM task_wait JOIN task ON task.id = task_id
JOIN unit ON unit.id = task.unit_id JOIN parts_order ON parts_order.id = order_id
WHERE task_wait.removed = 0""",
    "repairs": """
SELECT tag, repair_job.at_us, person.name, complaint, came_along, arrival, data_consent, diagnosis, quoted_on,
       quote_until, answer, answered_on, answered_how, warranty_days, ready_on, collected_on, way,
       way_out.price_minor, tax_minor
FROM repair_job JOIN unit ON unit.id = repair_job.unit_id JOIN person ON person.id = repair_job.person_id
LEFT JOIN way_out ON way_out.id = way_out_id WHERE repair_job.removed = 0""",
    "lines of quotes": """
SELECT tag, what, kind, quantity, quote_line.price_minor, tax_per_10000, beyond FROM quote_line
JOIN repair_job ON repair_job.id = job_id JOIN unit ON unit.id = unit_id WHERE quote_line.removed = 0""",
    "expenses": "SELECT day, side, category, amount_minor, party, note, tax_per_10000 FROM expense "
    "WHERE removed = 0",
    "specifications": f"""
SELECT tag, source, at_us, person.name, file_digest, told, {", ".join(NAMES)}
FROM specification JOIN unit ON unit.id = unit_id JOIN person ON person.id = person_id
WHERE specification.removed = 0""",
    "readings": """
SELECT tag, drive.serial, moment, subject, source, figures, reading.note, at_us, person.name FROM reading
JOIN unit ON unit.id = reading.unit_id JOIN person ON person.id = person_id
LEFT JOIN drive ON drive.id = drive_id WHERE reading.removed = 0""",
    "grades": """
SELECT tag, part, works.name, looks.name, sentence, tested, at_us, person.name FROM grade
JOIN unit ON unit.id = unit_id JOIN person ON person.id = person_id
LEFT JOIN grade_step AS works ON works.id = function_step_id
LEFT JOIN grade_step AS looks ON looks.id = looks_step_id WHERE grade.removed = 0""",
    "photographs": """
SELECT tag, folder, photograph.name, sha256, size_bytes, kind, taken_us, kept_us, person.name, shown, caption,
       task_id IS NULL, grade_id IS NULL
FROM photograph JOIN unit ON unit.id = unit_id JOIN person ON person.id = person_id
LEFT JOIN photograph_caption ON photograph_id = photograph.id WHERE photograph.removed = 0""",
    "pages": "SELECT maker, model, battery, drives, memory, traps, note FROM model_page WHERE removed = 0",
    "steps": "SELECT model, position, words FROM model_step JOIN model_page ON model_page.id = page_id",
    "screws": "SELECT model, place, size, count, torque_mnm, model_screw.note FROM model_screw "
    "JOIN model_page ON model_page.id = page_id",
}


# What is told of the demo to people. Numbers of rows differ: the loader counts units as its file lists them,
# the shop as they come in.
VIEWS: dict[str, Callable[[Desk], Any]] = {
    "week": read_week,
    "week before": lambda desk: read_week(desk, IsoWeek.at(NOW_US, ZONE).previous()),
    "month": read_month,
    "month before": lambda desk: read_month(desk, 2026, 10),
    "year": read_year,
    "what next": read_ranking,
    "forecast": read_forecast,
    "stock": read_stock,
    "shelf": read_shelf,
    "lots": read_lots,
    "register": read_register,
    "queue": read_queue,
    "faults": lambda desk: read_faults(desk, closed=True),
    "orders": lambda desk: read_orders(desk, settled=True),
    "suppliers": read_suppliers,
    "repairs": lambda desk: read_jobs(desk, every=True),
    "expenses": read_expenses,
    "fault rates": read_rates,
    "model": lambda desk: read_model_page(desk, "Tarn", "Cairn 15 b"),
}
NUMBERS = re.compile(r"(^|_)id$|^(number|opens|row_id)$")

# What differs on purpose, by key, and why.
DIFFERS = {
    "photographs": "pictures are files beside the data file; the replay attaches none",
    "sale_invoice": "the loader numbers the invoices; the replay types none",
    "purchase_invoice": "the units of one lot have invoices of their own in the demo; a lot's form takes one",
    "corrected": "one stop was corrected afterwards; the replay stops that timer in time",
}


@dataclass(frozen=True)
class Both:
    """The demo's file, and the replayed one, each with its clock at the same instant."""

    loaded: Desk
    replayed: Desk


def make_both(folder: Path) -> None:
    demo, clock = read_demo(demo_folder()), HandSetClock(wall_us=NOW_US)
    make_demo(folder / LOADED, clock).close()
    replayed = open_or_new(folder / REPLAYED, person=demo.people[0].name, zone=demo.zone)
    Replay(Desk(replayed, clock, person_id=1), clock, demo, NOW_US).run()
    replayed.close()
    assert clock.now_us() == NOW_US


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Both]:
    made, own = made_once(tmp_path_factory, "replayed", make_both), tmp_path_factory.mktemp("replayed")
    stores = [open_existing(Path(shutil.copy(made / name, own))) for name in (LOADED, REPLAYED)]
    yield Both(*(Desk(store, HandSetClock(wall_us=NOW_US), person_id=1) for store in stores))
    for store in stores:
        store.close()


def rows(desk: Desk, what: str) -> list[tuple[object, ...]]:
    with desk.store.read() as connection:
        return sorted((tuple(row) for row in connection.execute(TEXTS[what])), key=repr)


@pytest.mark.parametrize("what", TEXTS)
def test_what_was_done_is_what_the_quick_loader_writes(both: Both, what: str) -> None:
    loaded, replayed = rows(both.loaded, what), rows(both.replayed, what)
    assert loaded
    assert replayed == loaded


@pytest.mark.parametrize("view", VIEWS)
def test_what_is_told_of_it_is_told_alike(both: Both, view: str) -> None:
    loaded, replayed = (told(VIEWS[view](desk)) for desk in (both.loaded, both.replayed))
    assert loaded
    if view == "queue":  # it alone tells that the workshop is made up
        loaded["demo"] = replayed["demo"]
    assert replayed == loaded


def test_every_units_money_comes_to_the_same(both: Both) -> None:
    loaded, replayed = (
        {one.tag: told(one) for one in (read_unit_money(desk, unit_id) for unit_id in range(1, 71))}
        for desk in (both.loaded, both.replayed)
    )
    assert len(loaded) == 70
    assert replayed == loaded


def told(view: Any) -> Any:
    """A view as plain values without the numbers of rows; what has no order but by them sorted."""
    return _bare(facts_of(view, ZONE))


def _bare(value: Any) -> Any:
    if isinstance(value, list):
        return sorted(map(_bare, value), key=repr)
    if not isinstance(value, dict):
        return value
    return {
        name: _bare(inner)
        for name, inner in value.items()
        if not NUMBERS.search(name) and name not in DIFFERS
    }
