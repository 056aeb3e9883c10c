"""A unit's particulars and figures as rows that each open what is behind them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from bench.dashboard.presenters.drive_rows import standing_of
from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import GAP, Row, cell, rows_of
from bench.domain.holding import NO_DRIVE
from bench.domain.money import at_least, show_money
from bench.domain.safety import FINDINGS
from bench.domain.specification import specification_lines
from bench.domain.text import for_display
from bench.domain.unit_money import UnitMoney
from bench.views.drives import DriveSheet
from bench.views.kinds import Context, on_screen
from bench.views.safety import SafetyView
from bench.views.specification import BEFORE_OPENED
from bench.views.tables.money import margin_words
from bench.views.tables.totals import gain_look
from bench.views.tables.unit import (
    FACTS,
    LABEL_CELLS,
    PARTICULARS,
    Fact,
    figure_facts,
    particular_facts,
    standing_facts,
)
from bench.views.unit import UnitSheet

CELL = "cell"
OPENING_CHECKLIST = "opening"
CLOSING_CHECKLIST = "closing"
SPECIFICATION = "specification"
LEAST_ROOM = 10
_ASKED_FIRST = ("processor", "memory", "screen")


def unit_head(unit: UnitSheet, width: int) -> tuple[Line, ...]:
    """The line above everything: tag, model, stage, and what is amiss."""
    left = (
        Part(f" {unit.tag}", "strong"),
        Part("  "),
        Part(for_display(unit.name)),
    )
    amiss: tuple[Part, ...] = ()
    if unit.safety.cell_finding is not None:
        amiss = (Part(f"✖ CELL {for_display(unit.safety.cell_finding)}", "loud"), Part(" "))
    elif unit.safety.alarm:
        amiss = (Part("▲ BATTERY CONNECTED, COVER OFF", "loud"), Part(" "))
    elif unit.held is not None:
        amiss = (Part("‖ on hold", "warning"), Part(" "))
    return (spread(left, (*amiss, Part(f"{for_display(unit.stage)} ", "heading")), width),)


def fact_rows(
    unit: UnitSheet, now_us: int, width: int, more: tuple[Row, ...] = (), wrong: tuple[Row, ...] = ()
) -> tuple[Row, ...]:
    """The rows; a key says what Enter opens, with a number where several rows open the same.

    `more`: rows that follow the figures. `wrong`: those of faults and tests.
    """
    told = on_screen(unit, now_us)
    standing = standing_facts(_but_looked_for(unit), told)
    before = (*_safety(unit.safety), *figure_facts(unit, now_us))
    note = (
        Fact((PARTICULARS, 100 + number), "" if number else "Note", text, "strong")
        for number, text in enumerate(unit.note.split("\n") if unit.note else ())
    )
    after = (*_specification(unit, told), *particular_facts(unit, told), *note)
    first, second, last = (rows_of(FACTS, _broken(facts, width)) for facts in (standing, before, after))
    return (*first, *wrong, *second, *more, *last)


def _broken(facts: Iterable[Fact], width: int) -> Iterator[Fact]:
    """The facts with their words on as many lines as they need; each line opens the same."""
    room = max(width - LABEL_CELLS - GAP, LEAST_ROOM)
    for fact in facts:
        first, *others = wrap(fact.words, room) or [""]
        yield replace(fact, words=first)
        opens = fact.key if isinstance(fact.key, tuple) else (fact.key,)
        for number, line in enumerate(others):
            yield replace(fact, key=(*opens, "line", number), label="", words=line)


def _but_looked_for(unit: UnitSheet) -> UnitSheet:
    """Without who looked for a drive and found none: the unit's drives have a row."""
    return replace(unit, without=tuple(one for one in unit.without if one.covers != (NO_DRIVE,)))


def _safety(safety: SafetyView) -> Iterator[Fact]:
    if safety.cell_finding is not None:
        finding = FINDINGS.get(safety.cell_finding, safety.cell_finding)
        yield Fact(CELL, "Cell", f"✖ {finding}: stop, see what comes next", "loud")
    battery = "battery in" if safety.battery_connected else "battery disconnected"
    battery = "battery CONNECTED" if safety.alarm else battery
    cover = "cover off" if safety.lid_off else "cover on"
    yield Fact(OPENING_CHECKLIST, "Cover", f"{cover}, {battery}", "loud" if safety.alarm else "")
    opening = sum(tick.at_us is not None for tick in safety.opening)
    closing = sum(tick.at_us is not None for tick in safety.closing)
    yield _list(OPENING_CHECKLIST, "Opening", opening, len(safety.opening), safety.without_opening)
    yield _list(CLOSING_CHECKLIST, "Closing", closing, len(safety.closing), safety.without_closing)


def _list(key: str, label: str, done: int, of: int, without: str | None) -> Fact:
    if without is not None:
        return Fact((key, 1), label, f"! gone on without: {without}", "alert")
    return Fact((key, 1), label, f"{done} of {of} ticked", "good" if done == of else "muted")


MONEY = "money"
DRIVES = "drives"


def trade_fact_rows(money: UnitMoney, drives: DriveSheet) -> tuple[Row, ...]:
    """What the unit has cost and earns, and whether its drives are wiped; Enter opens each."""
    return (
        Row(
            (MONEY, 0),
            (
                cell("Cost so far", "muted"),
                cell(at_least(money.cost_so_far_minor, money.currency, known=money.cost_so_far_known)),
            ),
        ),
        Row((MONEY, 1), _earned(money)),
        Row(DRIVES, (cell("Drives", "muted"), standing_of(drives))),
    )


def _earned(money: UnitMoney) -> tuple[Part, Part]:
    if money.margin_minor is None:
        return cell("Break-even", "muted"), cell(show_money(money.break_even_minor, money.currency))
    words = margin_words(money)
    if money.per_hour_minor is not None and not money.missing:
        words += f", {show_money(money.per_hour_minor, money.currency)} per hour"
    return cell("Margin", "muted"), cell(words, gain_look(money.margin_minor))


def _specification(unit: UnitSheet, context: Context) -> Iterator[Fact]:
    """What it is made of in a few lines: what a buyer asks for first by itself, the rest together."""
    kept = unit.specification
    if kept is None:
        yield Fact(SPECIFICATION, "Made of", "not known", "muted")
        return
    told = {line.name: line for line in specification_lines(kept.machine)}
    told.pop("drives", None)  # they have a row of their own, by what is in it now
    locks = [told.pop(name) for name in ("firmware_lock", "account_lock") if name in told]
    texts = [(told[name].label, told.pop(name).text) for name in _ASKED_FIRST if name in told]
    texts.append(("Also", "; ".join(f"{line.label.casefold()} {line.text}" for line in told.values())))
    look = "" if kept.holds else "muted"
    lines = [(label, text, look) for label, text in texts if text]
    lock_look = "alert" if kept.machine.locked else look
    lines += [("Locks", "; ".join(f"{lock.label.casefold()} {lock.text}" for lock in locks), lock_look)]
    if not kept.holds:
        lines.append(("", f"as of {context.instant(kept.at_us)}, {BEFORE_OPENED}", "muted"))
    yield from (Fact((SPECIFICATION, number), *line) for number, line in enumerate(lines) if line[1])
