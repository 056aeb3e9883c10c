"""What handing a machine back to its owner does to its repair: it is billed, and its access word erased."""

from __future__ import annotations

from sqlmodel import select

from bench.domain.money import show_money
from bench.domain.quote_totals import QuoteTotal
from bench.errors import BadInput, Refused
from bench.store.tables import RepairJob, Unit, WayOut
from bench.work.change import Change
from bench.work.lookups import shop_of, today
from bench.work.quotes import bill_of
from bench.work.repair_jobs import job_at_hand
from bench.work.unlocking import forget_within


def collected_within(made: Change, unit: Unit, row: WayOut) -> None:
    """The repair that lasts is over: collected today, its bill the price of the repair.

    Refused while a quote that was given has no answer, or where the bill comes to less than nothing.
    """
    assert unit.id is not None
    job = job_at_hand(made, unit.id)
    if job is None:
        return
    if job.quoted_on is not None and job.answer is None:
        raise Refused(
            f"The quote for unit {unit.tag} has no answer yet.", "Note whether it was accepted or declined."
        )
    bill = bill_of(made, job)
    if bill is not None:
        if bill.total_minor < 0 or bill.tax_minor < 0:
            raise Refused(f"The bill for unit {unit.tag} is below 0.", "Lower its allowance.")
        row.price_minor, row.tax_minor = bill.total_minor, bill.tax_minor
    job.collected_on, job.way_out_id = today(made).isoformat(), row.id
    made.session.flush()
    assert job.id is not None
    forget_within(made, job.id)


def price_by_bill(made: Change, unit: Unit, row: WayOut, price_minor: int | None) -> int | None:
    """The price of a repair: what was typed, or what its bill comes to where it has one.

    BadInput where both are known and differ.
    """
    bill = _billed(made, row)
    if bill is None:
        return price_minor
    if price_minor not in (None, bill.total_minor):
        currency = shop_of(made.session).currency
        raise BadInput(
            f"The bill for unit {unit.tag} comes to {show_money(bill.total_minor, currency)}.",
            "Leave the price empty, or add a line or an allowance to the bill first.",
            field="price_text",
        )
    return bill.total_minor


def _billed(made: Change, row: WayOut) -> QuoteTotal | None:
    statement = select(RepairJob).where(RepairJob.way_out_id == row.id, RepairJob.removed == 0)
    job = made.session.exec(statement).first()
    return bill_of(made, job) if job is not None else None
