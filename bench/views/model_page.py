"""What the shop knows of a model: its page, and what its units took, cost and fetched."""

from __future__ import annotations

import math
import sqlite3
from collections import defaultdict
from dataclasses import dataclass, replace
from pathlib import Path

from bench.desk import Desk
from bench.domain.amounts import Instant, Length, Minor
from bench.domain.model_page import (
    FittedPart,
    KnownFault,
    ModelPageSheet,
    ModelStepLine,
    Paid,
    ScrewLine,
    TaskHours,
)
from bench.domain.return_rate import rate_of
from bench.domain.statistics_of_work import median, spread
from bench.domain.text import clean_line
from bench.domain.typed import read_field
from bench.views.binder import Query
from bench.views.model_past import (
    MOST_UNITS,
    faults_of_model,
    newest_specification,
    photographs_of_page,
    tests_failed,
)
from bench.views.own_prices import read_model_prices
from bench.views.particulars import no_such_unit
from bench.views.shop import facts

MOST_MODELS = 2_000


@dataclass(frozen=True, slots=True)
class ModelName:
    """Maker and model, as typed."""

    maker: str
    model: str


MOST_NAMED = 2  # faults of a model where there is room for one line


@dataclass(frozen=True, slots=True)
class ModelWarnings:
    """What is to be minded of a model before one is bought: its traps, and the faults that its units had."""

    traps: str
    faults: tuple[KnownFault, ...]

    @property
    def had(self) -> str:
        """The newest of these faults in one line, and how many more there are; empty where none is known."""
        if not self.faults:
            return ""
        more = len(self.faults) - MOST_NAMED
        told = [one.words for one in self.faults[:MOST_NAMED]]
        told += [f"{more} more on the model's page"] if more > 0 else []
        return f"Units of this model had: {'; '.join(told)}."


@dataclass(frozen=True, slots=True)
class ModelLine:
    """A model of which units came, or a page was written. `here`: units in the queue; `units`: all."""

    maker: str
    model: str
    units: int
    here: int
    written: bool


@dataclass(frozen=True, slots=True)
class _Page:
    """The page itself."""

    page_id: int
    maker: str
    model: str
    battery: str
    drives: str
    memory: str
    traps: str
    note: str


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit of the model. `sold_us`: its first sale; None for one never sold. `back`: it came back after."""

    unit_id: int
    queued: bool
    price_minor: Minor | None
    added_us: Instant
    sold_us: Instant | None
    back: bool


@dataclass(frozen=True, slots=True)
class _Task:
    """A finished hands-on task of such a unit, and the time it took."""

    name: str
    spent_us: Length


_OF = "model = :model COLLATE NOCASE AND maker = :maker COLLATE NOCASE"
_PAGE = Query(
    _Page,
    f"""
SELECT id AS page_id, maker, model, battery, drives, memory, traps, note
FROM model_page WHERE {_OF} AND removed = 0
""",  # noqa: S608 - a text of ours
)
_STEPS = Query(
    ModelStepLine,
    """
SELECT id AS step_id, position, words FROM model_step WHERE page_id = :page_id AND removed = 0
ORDER BY position, id
""",
)
_SCREWS = Query(
    ScrewLine,
    """
SELECT id AS screw_id, place, size, count, torque_mnm, note FROM model_screw
WHERE page_id = :page_id AND removed = 0 ORDER BY id
""",
)
_UNITS = Query(
    _Unit,
    f"""
SELECT unit.id AS unit_id, NOT stage.final AS queued, unit.price_minor, unit.added_us,
       (SELECT MIN(sold_us) FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0) AS sold_us,
       EXISTS (SELECT 1 FROM sale JOIN comeback ON comeback.sale_id = sale.id AND comeback.removed = 0
               WHERE sale.unit_id = unit.id AND sale.removed = 0) AS back
FROM unit INDEXED BY ix_unit_model JOIN stage ON stage.id = unit.stage_id
WHERE {_OF} AND unit.removed = 0 AND unit.owner_id IS NULL
ORDER BY unit.id DESC LIMIT :most
""",  # noqa: S608 - a text of ours
)
_TASKS = Query(
    _Task,
    f"""
SELECT task.name, (SELECT SUM(entry.stopped_us - entry.started_us) FROM time_entry AS entry
                   WHERE entry.task_id = task.id AND entry.attended = 1
                   AND entry.stopped_us IS NOT NULL) AS spent_us
FROM (SELECT id FROM unit INDEXED BY ix_unit_model WHERE {_OF} AND removed = 0 ORDER BY id DESC LIMIT :most)
     AS of_model CROSS JOIN task ON task.unit_id = of_model.id
WHERE task.state = 'done' AND task.removed = 0 AND spent_us > 0 ORDER BY task.name
""",  # noqa: S608 - a text of ours
)
# What was bought for such units, the newest of each name with its cost and seller.
_PARTS = Query(
    FittedPart,
    f"""
SELECT name, times, cost_minor, supplier FROM (
SELECT part.name, COUNT(*) AS times, part.cost_minor, part.supplier, MAX(part.id)
FROM (SELECT id FROM unit INDEXED BY ix_unit_model WHERE {_OF} AND removed = 0 ORDER BY id DESC LIMIT :most)
     AS of_model CROSS JOIN part ON part.to_unit_id = of_model.id
WHERE part.removed = 0 AND part.from_unit_id IS NULL
GROUP BY part.name COLLATE NOCASE) ORDER BY times DESC, name
""",  # noqa: S608 - a text of ours
)
_MODELS = Query(
    ModelLine,
    """
SELECT MAX(maker) AS maker, MAX(model) AS model, SUM(one) AS units, SUM(queued) AS here, MAX(page) AS written
FROM (
    SELECT unit.maker, unit.model, 1 AS one, NOT stage.final AS queued, 0 AS page
    FROM unit JOIN stage ON stage.id = unit.stage_id WHERE unit.removed = 0
    UNION ALL SELECT maker, model, 0, 0, 1 FROM model_page WHERE removed = 0
) GROUP BY maker COLLATE NOCASE, model COLLATE NOCASE
ORDER BY here DESC, units DESC, maker, model LIMIT :most
""",
)
_NAME = Query(ModelName, "SELECT maker, model FROM unit WHERE id = :unit_id AND removed = 0")


def read_models(desk: Desk) -> tuple[ModelLine, ...]:
    """Every model of which units came or something was written, those in the queue first."""
    with desk.store.read() as connection:
        return _MODELS.all(connection, most=MOST_MODELS)


def model_of(desk: Desk, unit_id: int) -> ModelName:
    """Maker and model of a unit. NotFound when there is no such unit."""
    with desk.store.read() as connection:
        name = _NAME.first(connection, unit_id=unit_id)
    if name is None:
        raise no_such_unit(unit_id)
    return name


def read_model_page(desk: Desk, maker: str, model: str) -> ModelPageSheet:
    """All that the shop knows of a model, which may be nothing. BadInput for an empty model."""
    of = {
        "maker": read_field("maker", clean_line, maker, "The maker", allow_empty=True),
        "model": read_field("model", clean_line, model, "The model"),
    }
    with desk.store.read() as connection:
        sheet = _sheet(connection, of["maker"], of["model"], desk.store.path)
    return replace(sheet, fetched=read_model_prices(desk, of["maker"], of["model"]))


def read_written_page(desk: Desk, unit_id: int) -> ModelPageSheet | None:
    """What is written of a unit's model, its past left out; None where nothing is."""
    with desk.store.read() as connection:
        name = _NAME.first(connection, unit_id=unit_id)
        page = None if name is None else _PAGE.first(connection, maker=name.maker, model=name.model)
        return None if page is None else _written(connection, page)


def read_model_warnings(desk: Desk, maker: str, model: str) -> ModelWarnings:
    """What goes wrong easily with a model, by its page and by its units; nothing where nothing is known."""
    of = {"maker": maker.strip(), "model": model.strip()}
    with desk.store.read() as connection:
        page = _PAGE.first(connection, **of)
        return ModelWarnings(page.traps if page is not None else "", faults_of_model(connection, **of))


def read_warnings_of(desk: Desk, unit_id: int) -> ModelWarnings:
    """The same of the model that a unit is."""
    with desk.store.read() as connection:
        name = _NAME.first(connection, unit_id=unit_id)
        if name is None:
            return ModelWarnings("", ())
        page = _PAGE.first(connection, maker=name.maker, model=name.model)
        faults = faults_of_model(connection, name.maker, name.model)
        return ModelWarnings(page.traps if page is not None else "", faults)


def _sheet(connection: sqlite3.Connection, maker: str, model: str, path: Path) -> ModelPageSheet:
    of = {"maker": maker, "model": model}
    page = _PAGE.first(connection, **of)
    if page is not None:
        sheet = _written(connection, page)
    else:
        shop = facts(connection)
        sheet = ModelPageSheet(None, maker, model, "", "", "", "", "", shop.currency, shop.zone)
    if page is not None:
        sheet = replace(sheet, photographs=photographs_of_page(connection, page.page_id, path))
    specified = newest_specification(connection, **of)
    units = _UNITS.all(connection, **of, most=MOST_UNITS)
    sold = [one for one in units if one.sold_us is not None]
    days = [(one.sold_us - one.added_us) / 86_400_000_000 for one in sold if one.sold_us is not None]
    return replace(
        sheet,
        here=sum(one.queued for one in units),
        sold=len(sold),
        returned=sum(one.back for one in sold),
        days_to_sell=math.floor(median(days) + 0.5) if days else None,
        paid=_paid([one.price_minor for one in units if one.price_minor is not None]),
        hours=_hours(_TASKS.all(connection, **of, most=MOST_UNITS)),
        parts=_PARTS.all(connection, **of, most=MOST_UNITS),
        returns=rate_of(sum(one.back for one in sold), len(sold)),
        faults=faults_of_model(connection, **of),
        tests=tests_failed(connection, **of),
        specification=None if specified is None else specified[1].machine,
        specified_tag="" if specified is None else specified[0],
    )


def _written(connection: sqlite3.Connection, page: _Page) -> ModelPageSheet:
    shop = facts(connection)
    return ModelPageSheet(
        page_id=page.page_id,
        maker=page.maker,
        model=page.model,
        battery=page.battery,
        drives=page.drives,
        memory=page.memory,
        traps=page.traps,
        note=page.note,
        currency=shop.currency,
        zone=shop.zone,
        steps=_STEPS.all(connection, page_id=page.page_id),
        screws=_SCREWS.all(connection, page_id=page.page_id),
    )


def _paid(prices: list[int]) -> Paid | None:
    if not prices:
        return None
    return Paid(len(prices), math.floor(median(prices) + 0.5), min(prices), max(prices))


def _hours(tasks: tuple[_Task, ...]) -> tuple[TaskHours, ...]:
    by_name: defaultdict[str, list[int]] = defaultdict(list)
    for task in tasks:
        by_name[task.name].append(task.spent_us)
    told = [(name, spread(times)) for name, times in by_name.items()]
    return tuple(
        TaskHours(name, found.count, found.median_us, found.p80_us)
        for name, found in told
        if found is not None
    )
