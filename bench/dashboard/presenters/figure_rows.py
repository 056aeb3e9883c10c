"""The rows behind a unit's hours and materials, and the sums that they add up to."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.entry_lines import length_words, span_words
from bench.dashboard.presenters.parts import Line, Part, spread
from bench.dashboard.presenters.rows import Column, Row, cell
from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import day_and_time
from bench.domain.money import show_money
from bench.domain.quantities import show_quantity
from bench.domain.timers import elapsed_us
from bench.views.entries import EntryLine
from bench.views.unit import UnitMaterials

ENTRY_COLUMNS = (
    Column("From and to", 24),
    Column("Who", 8, from_width=64),
    Column("Task", 14, grow=1),
    Column("Stage", 10, from_width=100),
    Column("Unit", 6, from_width=90),
    Column("Length", 10, right=True),
)
MATERIAL_COLUMNS = (
    Column("When", 16),
    Column("Consumable", 14, grow=2),
    Column("Task", 12, grow=2, from_width=90),
    Column("Who", 8, grow=1, from_width=74),
    Column("Amount", 11, right=True),
    Column("Cost", 12, right=True),
)


def entry_rows(entries: Sequence[EntryLine], zone: str, now_us: int) -> tuple[Row, ...]:
    """Time entries as rows; the key is the entry's number, * marks a corrected one."""
    return tuple(_entry_row(entry, zone, now_us) for entry in entries)


def entries_head(
    entries: Sequence[EntryLine], now_us: int, width: int, *, attended: bool
) -> tuple[Line, ...]:
    """What the rows add up to."""
    total = sum(elapsed_us(one.started_us, _stop(one, now_us)) for one in entries)
    tag = f" of {entries[0].tag}" if entries else ""
    name = f" Time hands on{tag}" if attended else f" Time that ran by itself{tag}"
    return (spread((Part(name, "strong"),), (Part(f"{hours_and_minutes(total)} ", "heading"),), width),)


def material_rows(materials: UnitMaterials) -> tuple[Row, ...]:
    """Movements as rows; the key is the movement's number. Amounts are what was taken."""
    return tuple(
        Row(
            line.movement_id,
            (
                cell(day_and_time(line.at_us, materials.zone), "muted"),
                cell(line.name),
                cell(line.task, "muted"),
                cell(line.person, "muted"),
                cell(show_quantity(-line.quantity, line.base_unit)),
                cell(show_money(-line.cost_minor, materials.currency)),
            ),
        )
        for line in materials.lines
    )


def materials_head(materials: UnitMaterials, width: int) -> tuple[Line, ...]:
    """What the rows add up to."""
    total = show_money(-sum(line.cost_minor for line in materials.lines), materials.currency)
    name = Part(f" Materials of {materials.tag}, oldest receipt first", "strong")
    return (spread((name,), (Part(f"{total} ", "heading"),), width),)


def _entry_row(entry: EntryLine, zone: str, now_us: int) -> Row:
    look = "muted" if entry.stopped_us is not None else "running" if entry.attended else "waiting"
    star = "* " if entry.corrected else ""
    hands = "" if entry.attended else "○ "
    return Row(
        entry.entry_id,
        (
            cell(span_words(entry.started_us, entry.stopped_us, zone)),
            cell(entry.person, "muted"),
            cell(f"{hands}{entry.task}"),
            cell(entry.stage, "muted"),
            cell(entry.tag, "muted"),
            cell(star + length_words(entry, now_us), look),
        ),
    )


def _stop(entry: EntryLine, now_us: int) -> int:
    return now_us if entry.stopped_us is None else entry.stopped_us
