"""The forecast as text and JSON: when units will be done, how long they stay, where the queue jams."""

from __future__ import annotations

from bench.domain.forecast_sheet import Forecast, doubt, met_words
from bench.reports.plain_tables import sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.tables.next_up import FORECAST, STAGES, stays_of


def forecast_text(view: Forecast) -> str:
    """When each unit will be done, where the queue jams, and whether the past is steady."""
    context = context_of(view)
    units = told(FORECAST, view.lines, context, notes=[doubt(line) for line in view.lines])
    return sections(
        under(FORECAST.title, units) if view.lines else "The queue is empty.",
        under(STAGES.title, told(STAGES, stays_of(view))),
        wrapped(met_words(view.met)),
        wrapped(view.jam),
        wrapped(view.law_words),
        wrapped(f"{view.how} It looks {view.days} days back, at the newest {view.newest} of each at most."),
    )


def forecast_json(view: Forecast) -> str:
    """The forecast as a JSON document; `law` has both sides of Little's law."""
    return json_text("forecast", facts_of(view, view.zone))
