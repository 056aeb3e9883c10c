"""The queue in the order that a person chose: the units of each stage by a column of its table."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.presenters.arranged_rows import FALLS, RISES, Arrangement, column_names
from bench.dashboard.presenters.queue_lines import SearchableStage
from bench.views.columns import places_by
from bench.views.tables.queue import QUEUE


def in_order(stages: tuple[SearchableStage, ...], arrangement: Arrangement) -> tuple[SearchableStage, ...]:
    """The stages with their units by that column; as they are for the queue's own order."""
    names = column_names(QUEUE)
    if arrangement.by not in names:
        return stages
    column = QUEUE.columns[names.index(arrangement.by)]
    return tuple(
        replace(stage, units=tuple(stage.units[at] for at in places))
        for stage in stages
        for places in [places_by(column, [unit.row for unit in stage.units], falling=arrangement.falling)]
    )


def order_words(arrangement: Arrangement) -> str:
    """By what the queue is sorted; empty for its own order."""
    if arrangement.by not in column_names(QUEUE):
        return ""
    return f"{FALLS if arrangement.falling else RISES} {arrangement.by.casefold()}"
