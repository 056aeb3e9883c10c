"""The forecast as text and JSON: when units will be done, how long they stay, where the queue jams."""

from __future__ import annotations

from bench.domain.forecast_sheet import Forecast, days_and_hours, doubt, met_words
from bench.domain.localtime import day_name, local_datetime
from bench.reports.plain_values import facts_of, json_text
from bench.reports.tables import noted, sections, table, under, wrapped


def forecast_text(view: Forecast) -> str:
    """When each unit will be done, where the queue jams, and whether the past is steady."""
    rows = [
        (
            line.tag,
            line.model,
            line.stage,
            *(_day(at_us, view.zone) for at_us in (line.ready_half_us, line.ready_most_us)),
            *(_day(at_us, view.zone) for at_us in (line.left_half_us, line.left_most_us)),
        )
        for line in view.lines
    ]
    heads = ("tag", "model", "at", "ready 50 %", "80 %", "left 50 %", "80 %")
    units = noted(table(heads, rows, words=(0, 1, 2)), [doubt(line) for line in view.lines])
    stages = [
        (
            wait.stage,
            str(wait.stays),
            "" if wait.median_us is None else days_and_hours(wait.median_us),
            "" if wait.p80_us is None else days_and_hours(wait.p80_us),
            str(wait.standing),
            "" if wait.longest_us is None else days_and_hours(wait.longest_us),
        )
        for wait in view.stages
    ]
    return sections(
        units if rows else "The queue is empty.",
        under(
            "Stays",
            table(("stage", "past stays", "median", "80 % within", "now", "longest"), stages),
        ),
        wrapped(met_words(view.met)),
        wrapped(view.jam),
        wrapped(view.law_words),
        wrapped(f"{view.how} It looks {view.days} days back, at the newest {view.newest} of each at most."),
    )


def forecast_json(view: Forecast) -> str:
    """The forecast as a JSON document; `law` has both sides of Little's law."""
    facts = facts_of(view, view.zone)
    if view.law is not None:
        facts["law"] = {**facts["law"], "expected_in_queue": view.law.expected_in_queue}
    return json_text("forecast", facts)


def _day(at_us: int | None, zone: str) -> str:
    return "" if at_us is None else day_name(local_datetime(at_us, zone).date())
