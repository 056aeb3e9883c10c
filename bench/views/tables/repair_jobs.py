"""Repairs of owners' machines, and the lines of a quote or bill, as tables."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.quantities import plain_number
from bench.domain.quote_totals import ALLOWANCE, LABOUR
from bench.views.columns import Column, Table
from bench.views.kinds import COUNT, LOCAL_DAY, MONEY, SHARE, WORD
from bench.views.repair_jobs import Job, JobSheet, RepairLine


def state_look(job: Job) -> str:
    """A machine that nobody collects stands out, one that was handed back stands back."""
    if job.uncollected:
        return "warning"
    return "muted" if job.collected_on is not None else ""


def _quantity(line: RepairLine) -> str:
    return f"{plain_number(line.quantity)} h" if line.kind == LABOUR else plain_number(line.quantity)


JOBS = Table[Job](
    "repairs",
    "Owners' machines",
    (
        Column("Unit", "tag", width=6),
        Column("Owner", "owner", width=11, grow=1),
        Column("Model", "model", width=12, grow=1, from_width=90),
        Column("Complaint", "complaint", width=14, grow=3),
        Column("How it stands", "state", width=30, grow=1, look=state_look),
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


def job_facts(sheet: JobSheet) -> tuple[tuple[str, str], ...]:
    """What is kept of it, with labels; what was not typed is left out."""
    job = sheet.job
    kept = "kept apart; one act shows it" if job.has_access_word else ""
    answer = f"{job.answer} {job.answered_on}" if job.answer else ""
    facts = (
        ("Owner", ", ".join(part for part in (job.owner, job.owner_contact) if part)),
        ("Complaint", job.complaint),
        ("Came along", job.came_along),
        ("At arrival", job.arrival),
        ("Data", job.data_consent or "not asked yet"),
        ("Access word", kept),
        ("Diagnosis", job.diagnosis),
        ("Quote given", str(job.quoted_on or "")),
        ("Valid until", str(job.quote_until or "")),
        ("Answer", answer),
        ("Answered how", job.answered_how if answer else ""),
        ("Ready", str(job.ready_on or "")),
        ("Handed back", str(job.collected_on or "")),
        ("Warranty until", str(job.warranty_until or "")),
        ("Earlier repairs", ", ".join(map(str, sheet.earlier))),
    )
    return tuple((label, value) for label, value in facts if value)


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
