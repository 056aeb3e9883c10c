"""A repair of an owner's machine, and all of them, as text and JSON."""

from __future__ import annotations

from bench.domain.repair_jobs import LOCAL_LAW, spent_words
from bench.reports.plain_tables import one_line, sections, told, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.repair_jobs import JobBook, JobSheet
from bench.views.tables.repair_jobs import JOBS, QUOTE_LINES, job_facts, sum_lines


def job_text(sheet: JobSheet) -> str:
    """A repair with its quote, what it took, and how it stands."""
    job = sheet.job
    head = one_line(f"Repair {job.job_id} of unit {job.tag}, {job.model}: {job.state}")
    facts = (f"{label:<16}{value}" for label, value in job_facts(sheet, context_of(sheet)))
    return sections(
        head,
        "\n".join(wrapped(fact, indent=16) for fact in facts),
        told(QUOTE_LINES, sheet.lines, context_of(sheet)),
        "\n".join(sum_lines(sheet)) if sheet.lines else "",
        wrapped(f"{spent_words(sheet.spent, sheet.currency)}."),
        wrapped(LOCAL_LAW) if job.uncollected else "",
    )


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
