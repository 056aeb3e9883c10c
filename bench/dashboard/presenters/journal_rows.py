"""The journal as rows: when, who, what, why."""

from __future__ import annotations

import json
import re
from datetime import date

from bench.dashboard.presenters.pieces import Line, Part, clip, spread, wrap
from bench.domain.money import show_money
from bench.domain.quantities import plain_number
from bench.views.journal import JournalLine, JournalPage
from bench.views.kinds import Context
from bench.views.undo import UndoOffer

VIA = {"dashboard": "on the screen", "command": "by a command", "demo": "with the demo"}
OF_DAYS = ("_on", "_until", "day")
ISO_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def change_lines(line: JournalLine, context: Context) -> tuple[str, ...]:
    """What a line of the journal changed, a line a value: what it is, before and after."""
    lines: list[str] = []
    for change in json.loads(line.changes):
        before, after = change["before"] or {}, change["after"] or {}
        if change["after"] == {}:
            continue  # looked at and found right
        how = "added" if not change["before"] else "taken away" if not change["after"] else "changed"
        lines.append(f"{change['table'].replace('_', ' ')} {change['id']} {how}")
        columns = (*before, *(one for one in after if one not in before))
        lines += [
            f"  {_words(column)}: {_value(column, before.get(column), context)} → "
            f"{_value(column, after.get(column), context)}"
            for column in columns
            if before.get(column) != after.get(column) and not _is_number_of_a_row(column)
        ]
    return tuple(lines)


def journal_head(page: JournalPage, context: Context, width: int, *, of_unit: bool) -> tuple[Line, ...]:
    """Whose journal, and how far back it is read."""
    tag = next((line.tag for line in page.lines if line.tag), "")
    name = f" Journal of {tag}" if of_unit else " Journal"
    back = "all of it "
    if page.more:
        back = f"back to {context.instant(page.lines[-1].at_us)} "
    return (spread((Part(name, "strong"),), (Part(back, "muted"),), width),)


def undo_words(offer: UndoOffer | None) -> str:
    """What the undo key does with a line."""
    if offer is None:
        return "Nothing in this line can be undone."
    if offer.refusal:
        return offer.refusal
    reason = "; it asks for a reason" if offer.needs_reason else ""
    return "u redoes it" if offer.again else f"u undoes it{reason}"


def line_detail(
    line: JournalLine | None, context: Context, width: int, can: str | None = None
) -> tuple[Line, ...]:
    """A line in full: what, why, by which way, what undo can do, and each value before and after."""
    if line is None:
        return ((Part("Nothing under the cursor.", "muted"),),)
    when = f"{line.person}, {context.instant(line.at_us)}, {VIA.get(line.via, line.via)}"
    if can and can.startswith("u "):
        when, can = f"{when}; {can}", ""
    lines: list[Line] = [(Part(text, "strong"),) for text in wrap(line.summary, width)]
    lines += [(Part(text),) for text in wrap(line.reason, width)]
    lines.append((Part(clip(when, width), "muted"),))
    lines += [(Part(text),) for text in wrap(can or "", width)]
    lines += [(Part(clip(text, width), "muted"),) for text in change_lines(line, context)]
    return tuple(lines)


def _words(column: str) -> str:
    """A column's name as words: instants and amounts say what they are by their values."""
    bare = column.removesuffix("_us").removesuffix("_minor").removesuffix("_quantity")
    return bare.replace("_", " ")


def _value(column: str, value: object, context: Context) -> str:
    if value is None or value == "":
        return "–"
    if isinstance(value, int):
        if column.endswith("_us"):
            return context.instant(value)
        if column.endswith("quantity"):
            return plain_number(value)
        if column.endswith("_minor"):
            return show_money(value, context.currency)
    if column.endswith(OF_DAYS) and ISO_DAY.fullmatch(str(value)):
        return context.day(date.fromisoformat(str(value)))
    return str(value)


def _is_number_of_a_row(column: str) -> bool:
    return column == "id" or column.endswith("_id")
