"""A repair of an owner's machine on the screen: its head, its facts, what it comes to and took."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Row, cell
from bench.domain.repair_jobs import LOCAL_LAW, spent_words
from bench.domain.text import for_display
from bench.views.kinds import on_screen
from bench.views.particulars import Particulars
from bench.views.repair_jobs import JobBook, JobSheet
from bench.views.tables.repair_jobs import job_facts, state_look, state_words, sum_lines

REPAIR = "repair"


def repair_head(unit: Particulars, sheet: JobSheet | None, width: int) -> tuple[Line, ...]:
    """The machine, and how its repair stands."""
    left = (Part(f" Repair of {unit.tag}", "strong"), Part(f"  {for_display(unit.name)}"))
    state = Part("no repair yet ", "muted")
    if sheet is not None:
        words = state_words(sheet.job, on_screen(sheet, sheet.read_us))
        state = Part(f"{words} ", state_look(sheet.job) or "heading")
    return (spread(left, (state,), width),)


def repair_fact_rows(sheet: JobSheet | None) -> tuple[Row, ...]:
    """What is kept of it."""
    if sheet is None:
        return ()
    facts = job_facts(sheet, on_screen(sheet, sheet.read_us))
    return tuple(Row(label, (cell(label, "muted"), cell(value))) for label, value in facts)


def repair_sum_lines(sheet: JobSheet | None, width: int) -> tuple[Line, ...]:
    """What the lines come to, what it took against the quote; uncollected, that law comes first."""
    if sheet is None:
        return ()
    told = [(LOCAL_LAW, "warning")] if sheet.job.uncollected else []
    told += [(text, "strong") for text in sum_lines(sheet)] if sheet.lines else []
    over = sheet.spent.over_us or sheet.spent.over_minor
    told.append((f"{spent_words(sheet.spent, sheet.currency)}.", "warning" if over else ""))
    return tuple((Part(line, look),) for text, look in told for line in wrap(text, width))


def jobs_head(book: JobBook, width: int) -> tuple[Line, ...]:
    """How many there are, and how many nobody collects."""
    waiting = sum(job.uncollected for job in book.jobs)
    here = sum(job.collected_on is None for job in book.jobs)
    right = (Part(f"{here} here, {waiting} not collected ", "warning" if waiting else "heading"),)
    return (spread((Part(" Owners' machines", "strong"),), right, width),)


def uncollected_lines(book: JobBook, width: int) -> tuple[Line, ...]:
    """What comes before anything is done with a machine that nobody collects."""
    if not any(job.uncollected for job in book.jobs):
        return ()
    return tuple((Part(line, "warning"),) for line in wrap(LOCAL_LAW, width))


def repair_row(sheet: JobSheet | None) -> tuple[Row, ...]:
    """The repair in a line, for the panel of a unit's figures; nothing for a unit without one."""
    if sheet is None:
        return ()
    words = state_words(sheet.job, on_screen(sheet, sheet.read_us))
    return (Row(REPAIR, (cell("Repair", "muted"), cell(words, state_look(sheet.job)))),)
