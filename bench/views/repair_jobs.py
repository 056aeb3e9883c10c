"""Repairs of owners' machines: one with its quote, its bill and what it took; and all of them as a list."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor, Thousandths
from bench.domain.durations import HOUR_US
from bench.domain.quantities import THOUSANDTHS
from bench.domain.quote_totals import LABOUR, PART, Priced, QuoteTotal, quote_total
from bench.domain.repair_jobs import DECLINED, JobDays, Spent, warranty_until
from bench.domain.weeks import local_day
from bench.errors import NotFound
from bench.views import ledger, trade
from bench.views.binder import Query, value
from bench.views.particulars import particulars
from bench.views.shop import facts

FOREVER_US = 9_223_372_036_854_775_807


@dataclass(frozen=True, slots=True)
class RepairLine:
    """A line of a quote or a bill. `price_minor`: of one piece or hour; it and `net_minor` are without tax.

    `beyond`: added after the quote was answered.
    """

    line_id: int
    what: str
    kind: str
    quantity: Thousandths
    price_minor: Minor
    tax_per_10000: int
    beyond: bool
    net_minor: Minor = 0

    @property
    def unit(self) -> str:
        """Of what it is so many."""
        return "h" if self.kind == LABOUR else "piece"


@dataclass(frozen=True, slots=True)
class Job:
    """What is kept of one repair. `price_minor`: what the owner paid, once it is handed back.

    `has_access_word`: one is kept, apart from all else; `state`: how it stands on the day it was read.
    """

    job_id: int
    unit_id: int
    tag: str
    model: str
    serial: str
    owner: str
    owner_address: str
    owner_contact: str
    at_us: Instant
    complaint: str
    came_along: str
    arrival: str
    data_consent: str
    diagnosis: str
    quoted_on: date | None
    quote_until: date | None
    answer: str | None
    answered_on: date | None
    answered_how: str
    warranty_days: int | None
    ready_on: date | None
    collected_on: date | None
    price_minor: Minor | None
    has_access_word: bool
    state: str = ""
    uncollected: bool = False
    warranty_until: date | None = None

    @property
    def days(self) -> JobDays:
        """The days by which it stands as it does."""
        return JobDays(
            self.quoted_on, self.quote_until, self.answer, self.answered_on, self.ready_on, self.collected_on
        )


@dataclass(frozen=True, slots=True)
class JobSheet:
    """A repair whole. `quote`: the lines that were quoted, `bill`: those that are paid; with their sums.

    `earlier`: the numbers of repairs of this machine before it, the newest first.
    """

    shop: str
    job: Job
    lines: tuple[RepairLine, ...]
    quote: QuoteTotal
    bill: QuoteTotal
    spent: Spent
    earlier: tuple[int, ...]
    currency: str
    zone: str
    read_us: Instant

    @property
    def quoted_lines(self) -> tuple[RepairLine, ...]:
        """The lines of the quote."""
        return quoted_of(self.lines)

    @property
    def billed_lines(self) -> tuple[RepairLine, ...]:
        """The lines of the bill."""
        return billed_of(self.lines, self.job.answer)


@dataclass(frozen=True, slots=True)
class JobBook:
    """Repairs of owners' machines, those that last first. `uncollected_days`: 0 for never."""

    jobs: tuple[Job, ...]
    uncollected_days: int
    currency: str
    zone: str
    read_us: Instant


_JOB = """
SELECT job.id AS job_id, job.unit_id, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS model, unit.serial,
       COALESCE(owner.name, '') AS owner, COALESCE(owner.address, '') AS owner_address,
       COALESCE(owner.contact, '') AS owner_contact, job.at_us, job.complaint, job.came_along, job.arrival,
       job.data_consent, job.diagnosis, job.quoted_on, job.quote_until, job.answer, job.answered_on,
       job.answered_how, job.warranty_days, job.ready_on, job.collected_on, way_out.price_minor,
       EXISTS (SELECT 1 FROM access_word WHERE access_word.job_id = job.id) AS has_access_word
FROM repair_job AS job JOIN unit ON unit.id = job.unit_id AND unit.removed = 0
LEFT JOIN party AS owner ON owner.id = unit.owner_id LEFT JOIN way_out ON way_out.id = job.way_out_id
WHERE job.removed = 0
"""
_OF_UNIT = Query(Job, _JOB + " AND job.unit_id = :unit_id ORDER BY job.id DESC")
# Of those that last there are few, and an index holds just them.
_LASTING = Query(
    Job,
    _JOB.replace(
        "FROM repair_job AS job JOIN", "FROM repair_job AS job INDEXED BY uq_repair_job_open CROSS JOIN"
    )
    + " AND job.collected_on IS NULL ORDER BY job.id",
)
_ALL = Query(Job, _JOB + " ORDER BY job.collected_on IS NOT NULL, job.collected_on DESC, job.id")
_LINES = Query(
    RepairLine,
    """
SELECT id AS line_id, what, kind, quantity, price_minor, tax_per_10000, beyond
FROM quote_line WHERE job_id = :job_id AND removed = 0 ORDER BY id
""",
)
_HANDS_ON = """
SELECT COALESCE(SUM(MAX(0, MIN(COALESCE(entry.stopped_us, :now), :until) - MAX(entry.started_us, :since))), 0)
FROM task JOIN time_entry AS entry ON entry.task_id = task.id
WHERE task.unit_id = :unit_id AND entry.attended = 1
"""
_UNTIL = "SELECT at_us FROM way_out WHERE id = (SELECT way_out_id FROM repair_job WHERE id = :job_id)"


def read_job(desk: Desk, unit_id: int, job_id: int | None = None) -> JobSheet | None:
    """The newest repair of a unit, or one of its earlier ones; None where it has none.

    NotFound where there is no such unit, or it has no repair of that number.
    """
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        unit, shop, terms = particulars(connection, unit_id), facts(connection), trade.settings(connection)
        jobs = _OF_UNIT.all(connection, unit_id=unit_id)
        if job_id is not None and job_id not in {one.job_id for one in jobs}:
            raise NotFound(f"Unit {unit.tag} has no repair {job_id}.", "Look it up again.")
        if not jobs:
            return None
        job = next(one for one in jobs if job_id in (None, one.job_id))
        lines = tuple(map(_with_net, _LINES.each(connection, job_id=job.job_id)))
        quoted = quoted_of(lines)
        return JobSheet(
            shop=shop.name,
            job=standing(job, local_day(now_us, shop.zone), terms.uncollected_days),
            lines=lines,
            quote=quote_total(map(priced, quoted)),
            bill=quote_total(map(priced, billed_of(lines, job.answer))),
            spent=_spent(connection, job, quoted, now_us),
            earlier=tuple(one.job_id for one in jobs if one.job_id < job.job_id),
            currency=shop.currency,
            zone=shop.zone,
            read_us=now_us,
        )


def the_job(desk: Desk, unit_id: int) -> JobSheet:
    """The newest repair of a unit. NotFound where it has none."""
    sheet = read_job(desk, unit_id)
    if sheet is None:
        raise NotFound(
            "There is no repair of that unit yet.",
            "Take one in, with the complaint; a unit of the shop's own has faults instead.",
        )
    return sheet


def read_jobs(desk: Desk, *, every: bool = False) -> JobBook:
    """The repairs that last, oldest first; with `every`, those handed back after them."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        shop, days = facts(connection), trade.settings(connection).uncollected_days
        today = local_day(now_us, shop.zone)
        jobs = (_ALL if every else _LASTING).each(connection)
        return JobBook(
            tuple(standing(job, today, days) for job in jobs), days, shop.currency, shop.zone, now_us
        )


def standing(job: Job, today: date, uncollected_days: int) -> Job:
    """The repair with how it stands on a day."""
    uncollected = job.days.uncollected(today, uncollected_days)
    return replace(
        job,
        state=job.days.state(today, uncollected=uncollected),
        uncollected=uncollected,
        warranty_until=warranty_until(job.collected_on, job.warranty_days),
    )


def quoted_of(lines: Iterable[RepairLine]) -> tuple[RepairLine, ...]:
    """Those that stand in the quote."""
    return tuple(line for line in lines if not line.beyond)


def billed_of(lines: Iterable[RepairLine], answer: str | None) -> tuple[RepairLine, ...]:
    """Those that are paid: of a quote that was declined, only what came beyond it."""
    return tuple(line for line in lines if line.beyond or answer != DECLINED)


def priced(line: RepairLine) -> Priced:
    """What a line asks for."""
    return Priced(line.kind, line.quantity, line.price_minor, line.tax_per_10000)


def _with_net(line: RepairLine) -> RepairLine:
    return replace(line, net_minor=priced(line).net_minor)


def _spent(connection: sqlite3.Connection, job: Job, quoted: tuple[RepairLine, ...], now_us: int) -> Spent:
    """Hands-on time and costs since the repair was taken in, until it was handed back."""
    until = value(connection, _UNTIL, job_id=job.job_id) or FOREVER_US
    hours = sum(line.quantity for line in quoted if line.kind == LABOUR)
    parts = sum(line.net_minor for line in quoted if line.kind == PART)
    costs = (
        line.amount_minor or 0
        for line in ledger.lines_of(connection, job.unit_id)
        if line.side == ledger.COST and job.at_us <= line.at_us <= until
    )
    given = job.quoted_on is not None
    return Spent(
        hands_on_us=value(
            connection, _HANDS_ON, unit_id=job.unit_id, since=job.at_us, until=until, now=now_us
        ),
        quoted_us=hours * HOUR_US // THOUSANDTHS if given else None,
        cost_minor=-sum(costs),
        quoted_parts_minor=parts if given else None,
    )
