"""The rows behind a unit's hours and materials, and the sums that they add up to."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.pieces import Line, Part, spread
from bench.domain.durations import hours_and_minutes
from bench.domain.money import show_money
from bench.domain.timers import elapsed_us
from bench.views.entries import EntryLine
from bench.views.unit import UnitMaterials


def entries_head(
    entries: Sequence[EntryLine], now_us: int, width: int, *, attended: bool
) -> tuple[Line, ...]:
    """What the rows add up to."""
    total = sum(elapsed_us(one.started_us, _stop(one, now_us)) for one in entries)
    tag = f" of {entries[0].tag}" if entries else ""
    name = f" Time hands on{tag}" if attended else f" Time that ran by itself{tag}"
    return (spread((Part(name, "strong"),), (Part(f"{hours_and_minutes(total)} ", "heading"),), width),)


def materials_head(materials: UnitMaterials, width: int) -> tuple[Line, ...]:
    """What the rows add up to."""
    total = show_money(-sum(line.cost_minor for line in materials.lines), materials.currency)
    name = Part(f" Materials of {materials.tag}, oldest receipt first", "strong")
    return (spread((name,), (Part(f"{total} ", "heading"),), width),)


def _stop(entry: EntryLine, now_us: int) -> int:
    return now_us if entry.stopped_us is None else entry.stopped_us
