"""What next as text and JSON: the order with its reasons, and what waits."""

from __future__ import annotations

from bench.domain.next_up import NextLine, NextUp, shipping_words
from bench.domain.orders import due_words
from bench.reports.plain_tables import noted, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.kinds import context_of
from bench.views.tables.next_up import RANKING, WAITING


def next_text(view: NextUp) -> str:
    """The units in the order in which they earn most, the reason beneath each, and what waits."""
    reasons = [_why(line, view.currency) for line in view.lines]
    waits, due = [line.why for line in view.waiting], due_words(view.parts_due, view.parts_late)
    return sections(
        noted(told(RANKING, view.lines, context_of(view)), reasons)
        if view.lines
        else "Nothing can be worked on.",
        under(WAITING.title, noted(told(WAITING, view.waiting), waits)) if waits else "",
        f"{due.capitalize()}." if due else "",
        wrapped(view.how),
    )


def next_json(view: NextUp) -> str:
    """What next as a JSON document; a sum is null where something that it takes off is not known."""
    return json_text("next", facts_of(view, view.zone))


def _why(line: NextLine, currency: str) -> str:
    missing = f"(not typed: {', '.join(line.missing)})" if line.missing else ""
    return " ".join(part for part in (line.reason, shipping_words(line, currency), missing) if part)
