"""What next, when units will be done and where the bottleneck is, as rows."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Row, cell, heading, rows_of
from bench.domain.forecast_sheet import (
    Forecast,
    ForecastLine,
    doubt,
    met_words,
)
from bench.domain.money import show_money
from bench.domain.next_up import NextLine, NextUp, WaitingLine, shipping_words
from bench.domain.orders import due_words
from bench.domain.text import for_display
from bench.views.kinds import context_of
from bench.views.tables.next_up import FORECAST, RANKING


def next_head(view: NextUp, width: int) -> tuple[Line, ...]:
    """How many units can be worked on, how many wait, and which parts are due."""
    past = sum(one.past_due for one in view.lines)
    left = [Part(" What next", "strong")]
    left += [Part(f"  {past} past due", "alert")] if past else []
    due = due_words(view.parts_due, view.parts_late)
    left += [Part(f"  {due}", "warning" if view.parts_late else "waiting")] if due else []
    right = Part(f"{len(view.lines)} to work on, {len(view.waiting)} wait ", "heading")
    return (spread(tuple(left), (right,), width),)


def ranking_rows(view: NextUp) -> tuple[Row, ...]:
    """The order, and below it what cannot be worked on now; the key is the unit's number."""
    waiting = [_waiting(one) for one in view.waiting]
    title = [heading("waiting", "Cannot be worked on now, or is not for sale")] if waiting else []
    return (*rows_of(RANKING, view.lines, context_of(view)), *title, *waiting)


def reason_lines(view: NextUp, unit_id: object, width: int) -> tuple[Line, ...]:
    """Why the unit under the cursor stands where it does, and how the order is made."""
    ranked = next((one for one in view.lines if one.unit_id == unit_id), None)
    waits = next((one for one in view.waiting if one.unit_id == unit_id), None)
    lines: list[Line] = []
    if ranked is not None:
        lines += [(Part(line),) for line in wrap(f"{ranked.tag}: {ranked.reason}", width)]
        lines += [(Part(line, "muted"),) for line in wrap(_sum(ranked, view.currency), width)]
    elif waits is not None:
        lines += [(Part(line),) for line in wrap(f"{waits.tag}: {waits.why}", width)]
    return (*lines, *((Part(line, "muted"),) for line in wrap(view.how, width)))


def forecast_rows(view: Forecast) -> tuple[Row, ...]:
    """When each unit is ready for its buyer, by share of past cases; the key is the unit's number."""
    rows = rows_of(FORECAST, view.lines, context_of(view))
    return tuple(
        row if one.left_50_us is not None else _no_day(one) for one, row in zip(view.lines, rows, strict=True)
    )


def bottleneck_lines(view: Forecast, width: int) -> tuple[Line, ...]:
    """Where the bottleneck is, whether Little's law holds, and what the forecast rests on."""
    sentences = (
        (view.bottleneck, "strong"),
        (met_words(view.met), ""),
        (view.law_words, ""),
        (view.how, "muted"),
    )
    return tuple((Part(line, look),) for words, look in sentences for line in wrap(words, width))


def _waiting(one: WaitingLine) -> Row:
    words = f"     {one.tag}  {for_display(one.model)}: "
    return Row(one.unit_id, (cell(words), cell(for_display(one.why), "warning")), wide=True)


def _sum(one: NextLine, currency: str) -> str:
    def shown(minor: int) -> str:
        return show_money(minor, currency)

    unknown = "not typed" if one.for_sale else "nothing more"
    expected = unknown if one.expected_minor is None else shown(one.expected_minor)
    unpriced = (
        f" without {for_display(', '.join(one.unpriced))}, of which no price is known" if one.unpriced else ""
    )
    missing = f" Not known and left out: {for_display(', '.join(one.missing))}." if one.missing else ""
    return (
        f"Expected {expected}, less fees and tax {shown(one.fees_minor)}, "
        f"less parts, consumables and shipping still needed {shown(one.to_spend_minor)}{unpriced}. "
        f"{for_display(shipping_words(one, currency))}{missing}"
    )


def _no_day(one: ForecastLine) -> Row:
    return Row(one.unit_id, (cell(f"{one.tag}  "), cell(for_display(doubt(one)), "muted")), wide=True)
