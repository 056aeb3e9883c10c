"""The safety panel, the alarm across the screen, and the lines of the two lists."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, clip, cut, fit, width_of, wrap
from bench.domain.safety import AFTER_A_BAD_CELL, CAUTION_CONNECTED, CLOSING, FINDINGS, LIST_NAMES, OPENING
from bench.views.queue import QueueRow, QueueView
from bench.views.safety import SafetyView, Tick

SIDE_BY_SIDE = 66
TICKED = "✓"
OPEN = "·"


def safety_lines(safety: SafetyView | None, width: int) -> tuple[Line, ...]:
    """The panel's lines for the unit under the cursor; what hurts comes first."""
    if safety is None:
        return ((Part("No unit under the cursor.", "muted"),),)
    lists = _beside(safety, width) if width >= SIDE_BY_SIDE else _stacked(safety, width)
    lines = (*_alarm(safety, width), *_state(safety, width), *_caution(safety, width), *lists)
    return tuple(cut(line, width) for line in lines)


def _alarm(safety: SafetyView, width: int) -> tuple[Line, ...]:
    if safety.cell_finding is not None:
        finding = FINDINGS.get(safety.cell_finding, safety.cell_finding)
        told = [f"✖ STOP: {finding}.", *AFTER_A_BAD_CELL]
        return tuple((Part(fit(line, width), "loud"),) for text in told for line in wrap(text, width))
    if safety.alarm:
        return tuple((Part(fit(line, width), "loud"),) for line in wrap(f"▲ {CAUTION_CONNECTED}", width))
    return ()


def _state(safety: SafetyView, width: int) -> tuple[Line, ...]:
    cover = Part("cover off", "warning") if safety.lid_off else Part("cover on", "good")
    battery = Part("battery disconnected", "good")
    if safety.alarm:
        battery = Part("battery CONNECTED", "loud")
    elif safety.battery_connected:
        battery = Part("battery in", "warning" if safety.lid_off else "good")
    state = (cover, Part("   "), battery)
    unit = f"{safety.tag}  {safety.model}"
    if width >= SIDE_BY_SIDE:
        return ((Part(clip(unit, width - width_of(state) - 3), "strong"), Part("   "), *state),)
    return ((Part(clip(unit, width), "strong"),), state)


def _caution(safety: SafetyView, width: int) -> tuple[Line, ...]:
    if safety.cell_finding is not None or safety.caution == CAUTION_CONNECTED:
        return ()
    return tuple((Part(line, "warning"),) for line in wrap(safety.caution, width))


def _stacked(safety: SafetyView, width: int) -> tuple[Line, ...]:
    opening = _list(OPENING, safety.opening, safety.without_opening, width)
    closing = _list(CLOSING, safety.closing, safety.without_closing, width)
    return (*opening, *closing, *_screws(safety))


def _beside(safety: SafetyView, width: int) -> tuple[Line, ...]:
    half = (width - 2) // 2
    left = _list(OPENING, safety.opening, safety.without_opening, half)
    right = _list(CLOSING, safety.closing, safety.without_closing, half)
    blank: Line = (Part(" " * half),)
    rows = zip_longest(left, right, fillvalue=blank)
    return (*((*_filled(one, half), Part("  "), *other) for one, other in rows), *_screws(safety))


def _list(which: str, ticks: tuple[Tick, ...], without: str | None, width: int) -> tuple[Line, ...]:
    done = sum(tick.at_us is not None for tick in ticks)
    name = LIST_NAMES[which]
    head = f"{name[0].upper()}{name[1:]} {done}/{len(ticks)}"
    lines = [(Part(clip(head, width), "heading"),)]
    if without is not None:
        lines.append((Part(clip(f"! gone on without: {without}", width), "alert"),))
    return (*lines, *(_tick(tick, width) for tick in ticks))


def _tick(tick: Tick, width: int) -> Line:
    ticked = tick.at_us is not None
    note = f" ({tick.note})" if tick.note else ""
    label = clip(f"{tick.label}{note}", width - 2)
    return (Part(f"{TICKED} ", "good"), Part(label)) if ticked else (Part(f"{OPEN} {label}", "muted"),)


def _screws(safety: SafetyView) -> tuple[Line, ...]:
    if safety.screws_out is None:
        return ()
    back = "not counted back yet" if safety.screws_back is None else f"{safety.screws_back} back"
    differ = safety.screws_back is not None and safety.screws_back != safety.screws_out
    return ((Part(f"Screws: {safety.screws_out} out, {back}", "alert" if differ else ""),),)


def _filled(line: Line, width: int) -> Line:
    return (*line, Part(" " * max(width - width_of(line), 0)))


def alarmed(view: QueueView) -> tuple[QueueRow, ...]:
    """The units whose battery is connected with the cover off."""
    return tuple(row for stage in view.stages for row in stage.rows if row.battery_alarm)


def alarm_line(rows: tuple[QueueRow, ...], width: int) -> Line:
    """The caution, and which units it is about, across the whole width; fewer tags where there is no room."""
    tags = [row.tag for row in rows]
    texts = [f" ▲ {_named(tags, shown)}: {CAUTION_CONNECTED} " for shown in range(len(tags), 0, -1)]
    text = next((text for text in texts if cell_len(text) <= width), texts[-1] if texts else "")
    return (Part(fit(text, width), "loud"),)


def _named(tags: list[str], shown: int) -> str:
    more = f" +{len(tags) - shown}" if shown < len(tags) else ""
    return ", ".join(tags[:shown]) + more


BATTERY_OUT = "battery_out"
BATTERY_IN = "battery_in"
SCREWS_BACK = "screws_back"


@dataclass(frozen=True, slots=True)
class TickShown:
    """One line of a list, and who ticked it ("" while nobody did)."""

    number: int
    item: str
    label: str
    ticked: bool
    by: str

    @property
    def words(self) -> str:
        """The line without its mark."""
        return f"{self.number}  {self.label}" + (f"  ({self.by})" if self.by else "")


def shown_ticks(view: SafetyView, which: str) -> tuple[TickShown, ...]:
    """The list's lines. The disconnected battery counts as open again once it was reconnected."""
    ticks = view.opening if which == OPENING else view.closing
    back_in = which == OPENING and battery_back_in(view)
    return tuple(
        TickShown(number, one.item, one.label, ticked, _by(one.person, one.note) if ticked else "")
        for number, one in enumerate(ticks, start=1)
        for ticked in (one.at_us is not None and not (back_in and one.item == BATTERY_OUT),)
    )


def battery_back_in(view: SafetyView) -> bool:
    """Whether the closing checklist says that the battery is connected again."""
    return any(one.item == BATTERY_IN and one.at_us is not None for one in view.closing)


def passed(view: SafetyView, which: str, items: Sequence[str]) -> bool:
    """Whether these items of the list are ticked, or it was gone on without for a reason."""
    without = view.without_opening if which == OPENING else view.without_closing
    return without is not None or all(one.ticked for one in shown_ticks(view, which) if one.item in items)


def still_open(view: SafetyView, which: str, items: Sequence[str]) -> str:
    """The sentence that names what is not ticked yet."""
    names = "; ".join(one.label for one in shown_ticks(view, which) if one.item in items and not one.ticked)
    return f"The {LIST_NAMES[which]} is not ticked through: {names}."


def screws_known(view: SafetyView, which: str) -> str:
    """The count of screws that is kept already, as text."""
    count = view.screws_out if which == OPENING else view.screws_back
    return "" if count is None else str(count)


def _by(person: str | None, note: str) -> str:
    return f"{person or ''}: {note}" if note else person or ""
