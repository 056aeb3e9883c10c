"""What next, when units will be done and where the queue jams, as rows."""

from __future__ import annotations

from bench.dashboard.presenters.parts import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Bar, Column, Row, cell, heading
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.forecast_sheet import (
    Forecast,
    ForecastLine,
    StageWait,
    days_and_hours,
    doubt,
    met_words,
)
from bench.domain.money import show_money
from bench.domain.next_up import NextLine, NextUp, WaitingLine, shipping_words
from bench.domain.text import for_display
from bench.domain.weeks import local_day

RANKING_COLUMNS = (
    Column("", 3, right=True),
    Column("Unit", 6),
    Column("Model", 10, grow=2),
    Column("Next task", 12, grow=1, from_width=96),
    Column("Earns", 13, right=True),
    Column("In", 8, right=True),
    Column("An hour", 13, right=True),
    Column("Due", 12, from_width=80),
)
FORECAST_COLUMNS = (
    Column("Unit", 6),
    Column("At", 9, grow=1, from_width=56),
    Column("50 %", 10),
    Column("80 %", 10),
    Column("95 %", 10),
    Column("Based on", 8, right=True, from_width=66),
)
STAGE_COLUMNS = (
    Column("Stage", 10, grow=1),
    Column("", 6, grow=1),
    Column("Median", 9, right=True),
    Column("80 %", 9, right=True, from_width=56),
    Column("Now", 3, right=True),
    Column("Longest", 9, right=True, from_width=66),
)


def next_head(view: NextUp, width: int) -> tuple[Line, ...]:
    """How many units can be worked on, and how many wait."""
    past = sum(one.past_due for one in view.lines)
    left = [Part(" What next", "strong")]
    left += [Part(f"  {past} past due", "alert")] if past else []
    right = Part(f"{len(view.lines)} to work on, {len(view.waiting)} wait ", "heading")
    return (spread(tuple(left), (right,), width),)


def ranking_rows(view: NextUp) -> tuple[Row, ...]:
    """The order, and below it what cannot be worked on now; the key is the unit's number."""
    waiting = [_waiting(one) for one in view.waiting]
    title = [heading("waiting", "Cannot be worked on now, or is not for sale")] if waiting else []
    return (*(_ranked(one, view.currency) for one in view.lines), *title, *waiting)


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
    return tuple(_forecast(one, view) for one in view.lines)


def stage_rows(view: Forecast) -> tuple[Row, ...]:
    """How long units stay at each stage, with a bar; the key is the stage's number."""
    longest = max((one.median_us or 0 for one in view.stages), default=0)
    return tuple(_stage(one, longest) for one in view.stages)


def jam_lines(view: Forecast, width: int) -> tuple[Line, ...]:
    """Where the queue jams, whether Little's law holds, and what the forecast rests on."""
    sentences = ((view.jam, "strong"), (met_words(view.met), ""), (view.law_words, ""), (view.how, "muted"))
    return tuple((Part(line, look),) for words, look in sentences for line in wrap(words, width))


def _ranked(one: NextLine, currency: str) -> Row:
    look = "" if one.expected_minor is not None else "muted"
    due = "" if one.due_on is None else one.due_on.isoformat()
    return Row(
        one.unit_id,
        (
            cell(str(one.place), "muted"),
            cell(one.tag, "alert" if one.past_due else ""),
            cell(one.model),
            cell(one.next_task, "muted"),
            cell(_at_most(one, one.to_earn_minor, currency), look),
            cell(hours_and_minutes(one.minutes_left * MINUTE_US)),
            cell(_at_most(one, one.per_hour_minor, currency), look or "strong"),
            cell(f"! {due}" if one.past_due else due, "alert" if one.past_due else "muted"),
        ),
    )


def _at_most(one: NextLine, minor: int, currency: str) -> str:
    """The amount; with a sign where it is at most as much, a dash where nothing was typed to reckon it by."""
    if one.expected_minor is None:
        return "–"
    return f"{'≤ ' if one.missing else ''}{show_money(minor, currency)}"


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


def _forecast(one: ForecastLine, view: Forecast) -> Row:
    if one.left_half_us is None:
        return Row(one.unit_id, (cell(f"{one.tag}  "), cell(for_display(doubt(one)), "muted")), wide=True)

    def day(at_us: int | None) -> str:
        return "–" if at_us is None else local_day(at_us, view.zone).isoformat()

    units = f"{one.rests_on} unit{'' if one.rests_on == 1 else 's'}"
    return Row(
        one.unit_id,
        (
            cell(one.tag),
            cell(one.stage, "muted"),
            cell(day(one.ready_half_us)),
            cell(day(one.ready_most_us), "strong"),
            cell(day(one.ready_nearly_all_us), "muted"),
            cell(units, "muted"),
        ),
    )


def _stage(one: StageWait, longest_us: int) -> Row:
    def stay(us: int | None) -> str:
        return "–" if us is None else days_and_hours(us)

    jams = bool(longest_us) and one.median_us == longest_us
    return Row(
        one.stage_id,
        (
            cell(f"! {one.stage}" if jams else one.stage, "alert" if jams else ""),
            Bar(one.median_us or 0, longest_us, "alert" if jams else "waiting"),
            cell(stay(one.median_us)),
            cell(stay(one.p80_us), "muted"),
            cell(str(one.standing) if one.standing else "", "muted"),
            cell(stay(one.longest_us) if one.standing else "", "muted"),
        ),
    )
