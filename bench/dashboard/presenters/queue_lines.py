"""The queue as the lines a person sees: stage headings and units, all of them or those a filter leaves."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bench.views.queue import QueueRow, QueueStage, QueueView


@dataclass(frozen=True, slots=True)
class Heading:
    """A stage's line; `count` units stand there, whether or not the filter shows them."""

    stage_id: int
    name: str
    count: int
    lid_off: bool
    final: bool
    ways: tuple[tuple[str, int], ...] = ()


QueueLine = Heading | QueueRow


@dataclass(frozen=True, slots=True)
class Searchable:
    """A unit with all that a filter looks through, folded once for all keystrokes."""

    row: QueueRow
    haystack: str


@dataclass(frozen=True, slots=True)
class SearchableStage:
    """A stage's heading and its units."""

    heading: Heading
    units: tuple[Searchable, ...]


def searchable(view: QueueView) -> tuple[SearchableStage, ...]:
    """The view made ready for filtering by tag, model, next task, stage and the reason it is held."""
    return tuple(_stage(stage) for stage in view.stages)


def lines_of(stages: tuple[SearchableStage, ...], typed: str = "") -> tuple[QueueLine, ...]:
    """The lines to show. A unit stays when every word typed is found in it; a stage without any goes."""
    words = tuple(folded(typed).split())
    return tuple(_lines(stages, words))


def folded(text: str) -> str:
    """The text as it is compared: composed and without upper or lower case."""
    return unicodedata.normalize("NFC", text).casefold()


def line_of_unit(lines: Sequence[QueueLine], unit_id: int) -> int | None:
    """At which line the unit stands, or None."""
    for index, line in enumerate(lines):
        if isinstance(line, QueueRow) and line.unit_id == unit_id:
            return index
    return None


def nearest_unit(lines: tuple[QueueLine, ...], index: int, step: int = 1) -> int | None:
    """The line nearest to `index` that is a unit: looking on in the direction of `step`, then back."""
    start = min(max(index, 0), len(lines) - 1)
    onward = range(start, len(lines) if step > 0 else -1, 1 if step > 0 else -1)
    back = range(start, -1 if step > 0 else len(lines), -1 if step > 0 else 1)
    looked_at: tuple[int, ...] = (*onward, *back) if lines else ()
    for at in looked_at:
        if isinstance(lines[at], QueueRow):
            return at
    return None


def _stage(stage: QueueStage) -> SearchableStage:
    heading = Heading(stage.stage_id, stage.name, stage.count, stage.lid_off, stage.final, stage.ways)
    units = tuple(Searchable(row, _haystack(row, stage.name)) for row in stage.rows)
    return SearchableStage(heading, units)


def _haystack(row: QueueRow, stage: str) -> str:
    return folded("\n".join((row.tag, row.model, row.next_task, stage, row.held or "")))


def _lines(stages: tuple[SearchableStage, ...], words: tuple[str, ...]) -> Iterator[QueueLine]:
    for stage in stages:
        found = [unit.row for unit in stage.units if all(word in unit.haystack for word in words)]
        if found or (stage.heading.final and stage.heading.count and not words):
            yield stage.heading
            yield from found
