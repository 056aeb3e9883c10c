"""The bar that shows while a battery is connected on an opened unit, or a cell is bad."""

from __future__ import annotations

from bench.dashboard.presenters.parts import Line, Part, fit
from bench.domain.queue import QueueRow, QueueView
from bench.domain.safety import CAUTION_CONNECTED


def alarmed(view: QueueView) -> tuple[QueueRow, ...]:
    """The units whose battery is connected with the lid off."""
    return tuple(row for stage in view.stages for row in stage.rows if row.battery_alarm)


def alarm_line(rows: tuple[QueueRow, ...], width: int) -> Line:
    """The caution, and which units it is about, across the whole width."""
    tags = ", ".join(row.tag for row in rows)
    return (Part(fit(f" ▲ {tags}: {CAUTION_CONNECTED} ", width), "loud"),)
