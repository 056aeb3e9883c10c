"""A repair of an owner's machine, and all of them, as text and JSON."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.repair_jobs import LOCAL_LAW, spent_words
from bench.reports.plain_tables import one_line, sections, told, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.repair_jobs import JobBook, JobSheet
from bench.views.tables.repair_jobs import JOBS, QUOTE_LINES


def job_text(sheet: JobSheet) -> str:
    """A repair with its quote, what it took, and how it stands."""
    job = sheet.job
    head = one_line(f"Repair {job.job_id} of unit {job.tag}, {job.model}: {job.state}")
    facts = (f"{label:<16}{value}" for label, value in job_facts(sheet))
    return sections(
        head,
        "\n".join(wrapped(fact, indent=16) for fact in facts),
        told(QUOTE_LINES, sheet.lines, context_of(sheet)),
        "\n".join(sum_lines(sheet)) if sheet.lines else "",
        wrapped(f"{spent_words(sheet.spent, sheet.currency)}."),
        wrapped(LOCAL_LAW) if job.uncollected else "",
    )


def job_facts(sheet: JobSheet) -> tuple[tuple[str, str], ...]:
    """What is kept of it, with labels; what was not typed is left out."""
    job = sheet.job
    kept = "kept apart; one act shows it" if job.has_access_word else ""
    answer = f"{job.answer} {job.answered_on}" if job.answer else ""
    how = f", {job.answered_how}" if job.answered_how else ""
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
        ("Answer", f"{answer}{how}" if answer else ""),
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


def jobs_text(book: JobBook) -> str:
    """All repairs of owners' machines."""
    uncollected = any(job.uncollected for job in book.jobs)
    return sections(told(JOBS, book.jobs, context_of(book)), wrapped(LOCAL_LAW) if uncollected else "")


def job_json(sheet: JobSheet) -> str:
    """A repair as a JSON document."""
    return json_text("job", facts_of(sheet, sheet.zone))


def jobs_json(book: JobBook) -> str:
    """All repairs as a JSON document."""
    return json_text("jobs", facts_of(book, book.zone))
