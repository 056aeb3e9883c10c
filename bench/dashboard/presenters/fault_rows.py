"""Faults and tests of a unit on the screen: their head, what is known of one, and lines for the unit."""

from __future__ import annotations

from collections.abc import Iterable

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Row, cell
from bench.domain.faults import OPEN
from bench.domain.outcomes import FAILED, KINDS
from bench.domain.percent import show_percent
from bench.domain.return_rate import FEW_SALES, SETTLED_DAYS, rate_words
from bench.domain.text import for_display
from bench.views.faults import FaultLine, FaultList, UnitFaults
from bench.views.kinds import Context
from bench.views.outcomes import OutcomeLine, outcome_look
from bench.views.rates import RateSheet
from bench.views.tables.faults import state_words
from bench.views.unit import UnitSheet

FAULT, TESTS = "fault", "tests"
MOST_SHOWN = 2


def fault_fact_rows(unit: UnitSheet) -> tuple[Row, ...]:
    """The unit's open faults and how its last tests ended, in few lines; nothing where there is none."""
    opened = [one for one in unit.faults if one.state == OPEN]
    rows = [
        Row((FAULT, at), (cell("" if at else "Faults", "muted"), cell(_line_of(one), "alert")))
        for at, one in enumerate(opened[:MOST_SHOWN])
    ]
    if len(opened) > MOST_SHOWN:
        more = f"and {len(opened) - MOST_SHOWN} more"
        rows.append(Row((FAULT, MOST_SHOWN), (cell("", "muted"), cell(more, "alert"))))
    if unit.outcomes:
        failed = any(one.outcome == FAILED for one in unit.outcomes)
        words = ", ".join(f"{one.kind} {one.outcome}" for one in _failed_first(unit.outcomes))
        rows.append(Row((TESTS, 0), (cell("Tests", "muted"), cell(words, "alert" if failed else "good"))))
    return tuple(rows)


def faults_head(view: UnitFaults, width: int) -> tuple[Line, ...]:
    """The unit, and how many of its faults are open."""
    opened = sum(one.state == OPEN for one in view.faults)
    left = (Part(f" Faults and tests of {view.tag}", "strong"), Part(f"  {for_display(view.model)}"))
    words = f"{opened} open" if opened else "none open"
    return (spread(left, (Part(f"{words} ", "alert" if opened else "good"),), width),)


def fault_detail(fault: FaultLine | None, context: Context, width: int) -> tuple[Line, ...]:
    """What is known of the fault under the cursor."""
    if fault is None:
        return ()
    step = ", ".join(word for word in (fault.stage, fault.task) if word)
    closed = ""
    if fault.closed_us is not None:
        closed = f"{state_words(fault)}, {context.instant(fault.closed_us)}, {fault.closed_by}"
    facts = (
        ("found", f"{context.instant(fault.found_us)}, {fault.person}{f', at {step}' if step else ''}"),
        ("whose", fault.whose),
        ("suspected", fault.suspected),
        ("cause", fault.cause),
        ("done" if fault.state != "stays" else "why it stays", fault.done),
        ("closed", closed),
        ("photographs", f"{fault.photographs} show it" if fault.photographs > 1 else "one shows it")
        if fault.photographs
        else ("", ""),
    )
    return _lines(facts, width)


def outcome_detail(outcome: OutcomeLine | None, width: int) -> tuple[Line, ...]:
    """What else is known of the attempt under the cursor."""
    if outcome is None:
        return ()
    facts = (
        ("measured", outcome.measured),
        ("note", outcome.note.replace("\n", " ")),
        ("fault", f"f{outcome.fault_id} {outcome.symptom}" if outcome.fault_id else ""),
        ("task", outcome.task),
        ("by", outcome.person),
    )
    return _lines(facts, width)


def shop_faults_head(view: FaultList, width: int) -> tuple[Line, ...]:
    """How many faults on the list are open; the closed ones may stand there too."""
    count = sum(one.state == OPEN for one in view.faults)
    words = f"{count} open" if count else "none open"
    return (spread((Part(" Faults", "strong"),), (Part(f"{words} ", "alert" if count else "good"),), width),)


def rate_lines(sheet: RateSheet, width: int) -> tuple[Line, ...]:
    """How many units come back, how sure that is, what is put by for it, and which tests fail most."""
    returns = sheet.returns
    told = "too few sales to tell yet"
    if returns.rate is not None:
        of = f"{returns.sales} sales of at least {SETTLED_DAYS} days ago"
        told = f"{returns.rate.events} of {of}, {rate_words(returns.rate)}"
    if returns.reserve_per_10000 is None:
        by = f"{show_percent(sheet.flat_per_10000)}, the shop's setting until {FEW_SALES} sales tell"
    else:
        by = f"{show_percent(returns.reserve_per_10000)} of a price, by these returns"
    tests = "; ".join(
        f"{KINDS[one.kind].label.lower()} {one.rate.events} of {one.rate.trials}"
        for one in sheet.tests
        if one.rate is not None and one.rate.events
    )
    return _lines((("came back", told), ("put by", by), ("failed first", tests)), width)


def _lines(facts: Iterable[tuple[str, str]], width: int) -> tuple[Line, ...]:
    return tuple(
        (Part(f"{name if not at else '':<16}", "muted"), Part(line))
        for name, words in facts
        if words
        for at, line in enumerate(wrap(for_display(words), max(width - 16, 20)))
    )


def _line_of(fault: FaultLine) -> str:
    return f"{fault.place}: {fault.symptom}" if fault.place else fault.symptom


def _failed_first(outcomes: Iterable[OutcomeLine]) -> list[OutcomeLine]:
    return sorted(outcomes, key=lambda one: outcome_look(one.outcome) != "alert")
