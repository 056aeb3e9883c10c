"""The bar that shows while a battery is connected on an opened unit, or a cell is bad."""

from __future__ import annotations

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, fit
from bench.domain.safety import CAUTION_CONNECTED
from bench.views.queue import QueueRow, QueueView


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
