"""What next, and when it will be done, as text and JSON: the order, its reasons, what waits."""

from __future__ import annotations

from bench.domain.forecast_sheet import Forecast, doubt, met_words
from bench.domain.next_up import NextLine, NextUp, shipping_words
from bench.domain.orders import due_words
from bench.reports.plain_tables import sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.tables.next_up import FORECAST, RANKING, STAGES, WAITING, stays_of


def next_text(view: NextUp) -> str:
    """The units in the order in which they earn most, the reason beneath each, and what waits."""
    reasons = [_why(line, view.currency) for line in view.lines]
    waits, due = [line.why for line in view.waiting], due_words(view.parts_due, view.parts_late)
    return sections(
        told(RANKING, view.lines, context_of(view), notes=reasons)
        if view.lines
        else "Nothing can be worked on.",
        under(WAITING.title, told(WAITING, view.waiting, notes=waits)) if waits else "",
        f"{due.capitalize()}." if due else "",
        wrapped(view.how),
    )


def next_json(view: NextUp) -> str:
    """What next as a JSON document; a sum is null where something that it takes off is not known."""
    return json_text("next", facts_of(view, view.zone))


def _why(line: NextLine, currency: str) -> str:
    missing = f"(not typed: {', '.join(line.missing)})" if line.missing else ""
    return " ".join(part for part in (line.reason, shipping_words(line, currency), missing) if part)


def forecast_text(view: Forecast) -> str:
    """When each unit will be done, where the bottleneck is, and whether the past is steady."""
    context = context_of(view)
    units = told(FORECAST, view.lines, context, notes=[doubt(line) for line in view.lines])
    return sections(
        under(FORECAST.title, units) if view.lines else "The queue is empty.",
        under(STAGES.title, told(STAGES, stays_of(view))),
        wrapped(met_words(view.met)),
        wrapped(view.bottleneck),
        wrapped(view.law_words),
        wrapped(f"{view.how} It looks {view.days} days back, at the newest {view.newest} of each at most."),
    )


def forecast_json(view: Forecast) -> str:
    """The forecast as a JSON document; `law` has both sides of Little's law."""
    return json_text("forecast", facts_of(view, view.zone))
