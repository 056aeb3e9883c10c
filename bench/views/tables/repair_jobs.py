"""Repairs of owners' machines, and the lines of a quote or bill, as tables."""

from __future__ import annotations

from datetime import date

from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.quantities import plain_number
from bench.domain.quote_totals import ALLOWANCE, LABOUR
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, LOCAL_DAY, MONEY, SHARE, WORD, Context, Kind
from bench.views.repair_jobs import Job, JobSheet, RepairLine


def state_look(job: Job) -> str:
    """A machine that nobody collects stands out, one that was handed back stands back."""
    if job.uncollected:
        return "warning"
    return "muted" if job.collected_on is not None else ""


def state_words(job: Job, context: Context) -> str:
    """How it stands; on a screen with its days in the short form."""
    if not context.screen or context.today is None:
        return job.state
    return job.days.state(context.today, uncollected=job.uncollected, told=context.day)


def _quantity(line: RepairLine) -> str:
    return f"{plain_number(line.quantity)} h" if line.kind == LABOUR else plain_number(line.quantity)


STATE = Kind(state_words, width=30, right=False, order=lambda job: job.state)

JOBS = Table[Job](
    "repairs",
    "Owners' machines",
    (
        Column("Unit", "tag", width=6),
        Column("Owner", "owner", width=11, grow=1),
        Column("Model", "model", width=12, grow=1, from_width=90),
        Column("Complaint", "complaint", width=14, grow=3),
        Column("How it stands", lambda job: job, STATE, grow=1, look=state_look),
        Column("Came", "at_us", LOCAL_DAY, from_width=100, look="muted"),
    ),
    key="job_id",
    empty="No owner's machine is here for repair.",
)
QUOTE_LINES = Table[RepairLine](
    "quote",
    "Quote and bill",
    (
        Column("No.", "line_id", COUNT, from_width=68, look="muted"),
        Column("For", "what", width=14, grow=3),
        Column(
            "Kind",
            lambda line: f"{line.kind}, beyond" if line.beyond else line.kind,
            width=14,
            from_width=60,
            look=lambda line: "waiting" if line.beyond else "muted",
        ),
        Column("Number", _quantity, WORD, 7),
        Column("Each", "price_minor", MONEY, 12, from_width=84, look="muted"),
        Column("Tax", "tax_per_10000", SHARE, 7, from_width=58, look="muted"),
        Column("Net", "net_minor", MONEY, 12, look=lambda line: "good" if line.kind == ALLOWANCE else ""),
    ),
    key="line_id",
    empty="Nothing quoted yet.",
)


def job_facts(sheet: JobSheet, context: Context) -> tuple[tuple[str, str], ...]:
    """What is kept of it, with labels; what was not typed is left out."""
    job = sheet.job
    kept = "kept apart; one act shows it" if job.has_access_word else ""
    answer = f"{job.answer} {_day(job.answered_on, context)}" if job.answer else ""
    facts = (
        ("Owner", ", ".join(part for part in (job.owner, job.owner_contact) if part)),
        ("Complaint", job.complaint),
        ("Came along", job.came_along),
        ("At arrival", job.arrival),
        ("Data", job.data_consent or "not asked yet"),
        ("Access word", kept),
        ("Diagnosis", job.diagnosis),
        ("Quote given", _day(job.quoted_on, context)),
        ("Valid until", _day(job.quote_until, context)),
        ("Answer", answer),
        ("Answered how", job.answered_how if answer else ""),
        ("Ready", _day(job.ready_on, context)),
        ("Handed back", _day(job.collected_on, context)),
        ("Warranty until", _day(job.warranty_until, context)),
        ("Earlier repairs", ", ".join(map(str, sheet.earlier))),
    )
    return tuple((label, value) for label, value in facts if value)


def _day(day: date | None, context: Context) -> str:
    return "" if day is None else context.day(day)


def sum_lines(sheet: JobSheet) -> tuple[str, ...]:
    """What the bill comes to; where it is another sum than the quote, that one too."""
    bill, currency = sheet.bill, sheet.currency
    taxes = "".join(
        f", tax {show_percent(one.tax_per_10000)} {show_money(one.tax_minor, currency)}" for one in bill.taxes
    )
    net, total = show_money(bill.net_minor, currency), show_money(bill.total_minor, currency)
    lines = [f"Net {net}{taxes}, total {total}."]
    if sheet.quote.total_minor != bill.total_minor:
        lines.append(f"Quoted: {show_money(sheet.quote.total_minor, currency)}.")
    return tuple(lines)
