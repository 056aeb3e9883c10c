"""The demo's repairs of owners' machines with their quotes, its general expenses, its electricity."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import timedelta

from sqlmodel import Session

from bench.domain.machine_power import read_kwh_price
from bench.domain.percent import read_percent
from bench.domain.quote_totals import Priced, quote_total, read_amount
from bench.domain.weeks import local_day
from bench.store.demo_repairs import DemoExpense, DemoRepair, DemoRepairs
from bench.store.tables import Expense, QuoteLine, RepairJob, Trade, Unit, WayOut
from bench.work.demo.ground import Ground, numbered


def add_repairs(
    session: Session, ground: Ground, told: DemoRepairs, units: Iterable[Unit], ways_out: Iterable[WayOut]
) -> None:
    """Add all of it; a repair that was handed back is paid by its lines."""
    _set(ground.terms.trade, told.settings, ground)
    by_id = {numbered(unit.id): unit for unit in units}
    left = {row.unit_id: row for row in ways_out if row.ended_us is None}
    for one in told.jobs:
        unit_id = ground.unit_ids[one.unit]
        _add_job(session, ground, one, by_id[unit_id], left.get(unit_id))
    session.add_all(_expense(ground, one) for one in told.expenses)
    session.flush()


def _set(trade: Trade, told: Mapping[str, str], ground: Ground) -> None:
    trade.repair_tax_per_10000 = read_percent(told["tax"], "The tax on repairs")
    trade.quote_days = int(told["quote_days"])
    trade.repair_warranty_days = int(told["warranty_days"])
    trade.uncollected_days = int(told["uncollected_days"])
    trade.machine_watts = int(told["machine_watts"])
    trade.mwh_price_minor = read_kwh_price(told["kwh_price"], ground.demo.currency)


def _add_job(session: Session, ground: Ground, one: DemoRepair, unit: Unit, out: WayOut | None) -> None:
    came_on, trade = local_day(unit.added_us, ground.demo.zone), ground.terms.trade
    job = RepairJob(
        unit_id=numbered(unit.id),
        at_us=unit.added_us,
        person_id=1,
        complaint=one.complaint,
        came_along=one.came_along,
        arrival=one.arrival,
        data_consent=one.data,
        diagnosis=one.diagnosis,
    )
    quoted_on = came_on if out is not None else None
    if one.quoted is not None:
        quoted_on = max(came_on, ground.today - timedelta(days=one.quoted))
    if quoted_on is not None:
        job.quoted_on = quoted_on.isoformat()
        job.quote_until = (quoted_on + timedelta(days=trade.quote_days)).isoformat()
        job.warranty_days = trade.repair_warranty_days
    if one.answer is not None and quoted_on is not None:
        days = quoted_on if one.answered is None else ground.today - timedelta(days=one.answered)
        job.answer, job.answered_how = one.answer, one.how
        job.answered_on = max(quoted_on, days).isoformat()
    lines = [_line(ground, row) for row in one.lines]
    if out is not None:
        bill = quote_total(
            Priced(line.kind, line.quantity, line.price_minor, line.tax_per_10000) for line in lines
        )
        out.price_minor, out.tax_minor = bill.total_minor, bill.tax_minor
        job.collected_on, job.way_out_id = local_day(out.at_us, ground.demo.zone).isoformat(), out.id
    session.add(job)
    session.flush()
    for line in lines:
        line.job_id = numbered(job.id)
    session.add_all(lines)
    session.flush()


def _line(ground: Ground, row: Mapping[str, str]) -> QuoteLine:
    return QuoteLine(
        job_id=0,
        what=row["what"],
        kind=row["kind"],
        quantity=read_amount(row["number"], row["kind"]),
        price_minor=ground.terms.money(row["price"]),
        tax_per_10000=ground.terms.trade.repair_tax_per_10000,
    )


def _expense(ground: Ground, one: DemoExpense) -> Expense:
    return Expense(
        day=(ground.today - timedelta(days=one.days_ago)).isoformat(),
        side=one.side,
        category=one.category,
        amount_minor=ground.terms.money(one.amount),
        party=one.party,
        note=one.note,
        tax_per_10000=read_percent(one.tax, "The tax rate") if one.tax else None,
    )
