"""The queue as text and JSON: who times what, and each unit by stage with what comes next."""

from __future__ import annotations

from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import day_and_time
from bench.domain.safety import FINDINGS
from bench.domain.text import task_on
from bench.domain.timers import elapsed_us
from bench.domain.ways_out import ways_words
from bench.domain.weeks import day_bounds_us, local_day
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import Context
from bench.views.queue import PersonNow, QueueRow, QueueStage, QueueView
from bench.views.tables.queue import QUEUE
from bench.views.timers import Running


def queue_text(view: QueueView) -> str:
    """People and what each is timing, then the units under their stages."""
    zone = view.shop.zone
    head = one_line(f"{view.shop.name}, {day_and_time(view.read_us, zone)} by the clock of {zone}")
    people = "\n".join(wrapped(_person(person, view), indent=2) for person in view.people)
    stages = [_stage(stage, view.read_us) for stage in view.stages if stage.count]
    return sections(head, people, *(stages or [QUEUE.empty]))


def queue_json(view: QueueView) -> str:
    """The queue as a JSON document; `spent` leaves out what still runs: that is under `running`."""
    return json_text("queue", facts_of(view, view.shop.zone))


def _person(person: PersonNow, view: QueueView) -> str:
    midnight_us = day_bounds_us(local_day(view.read_us, view.shop.zone), view.shop.zone)[0]
    ticking_us = sum(
        elapsed_us(max(timer.started_us, midnight_us), view.read_us)
        for timer in person.running
        if timer.attended
    )
    timing = ", ".join(_timer(timer, view.read_us) for timer in person.running) or "nothing runs"
    return f"{person.name}: {timing}; today {hours_and_minutes(person.today_us + ticking_us)}"


def _timer(timer: Running, read_us: int) -> str:
    alone = "" if timer.attended else " (machine time)"
    length = hours_and_minutes(elapsed_us(timer.started_us, read_us))
    return f"{task_on(timer.task, timer.tag)} for {length}{alone}"


def _stage(stage: QueueStage, read_us: int) -> str:
    ways = ways_words(stage.ways)
    counted = f"{stage.count}: {ways}" if ways else str(stage.count)
    title = f"{stage.name} ({counted}){', cover off' if stage.lid_off else ''}"
    title = wrapped(title, indent=2) if ways else one_line(title)
    if not stage.rows:
        return title
    flags = [_flags(row) for row in stage.rows]
    return under(title, told(QUEUE, stage.rows, Context(now_us=read_us), notes=flags))


def _flags(row: QueueRow) -> str:
    words = []
    if row.battery_alarm:
        words.append("BATTERY CONNECTED, COVER OFF")
    if row.cell_finding is not None:
        words.append(f"STOP, {FINDINGS[row.cell_finding]}")
    if row.held is not None:
        words.append(f"on hold: {row.held}")
    if row.overdue:
        words.append("overdue")
    if row.short_of:
        words.append(f"short of {', '.join(row.short_of)}")
    return "; ".join(words)
