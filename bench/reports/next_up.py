"""What next as text and JSON: the order with its reasons, and what waits."""

from __future__ import annotations

from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.money import NOT_TYPED, at_most
from bench.domain.next_up import NextLine, NextUp, shipping_words
from bench.reports.plain_values import facts_of, json_text
from bench.reports.tables import noted, sections, table, under, wrapped


def next_text(view: NextUp) -> str:
    """The units in the order in which they earn most, the reason beneath each, and what waits."""
    rows = [
        (
            f"{line.place:>2} {line.tag}",
            line.model,
            line.next_task or "nothing open",
            (NOT_TYPED if line.for_sale else "")
            if line.expected_minor is None
            else at_most(line.to_earn_minor, view.currency, known=not line.missing),
            hours_and_minutes(line.minutes_left * MINUTE_US),
        )
        for line in view.lines
    ]
    lines = table(("", "model", "next", "to earn", "left"), rows, words=(0, 1, 2)) if rows else ""
    waiting = [(line.tag, line.model, line.stage) for line in view.waiting]
    return sections(
        noted(lines, [_why(line, view.currency) for line in view.lines])
        if rows
        else "Nothing can be worked on.",
        under(
            "Waiting",
            noted(
                table(("tag", "model", "stage"), waiting, words=(0, 1, 2)),
                [line.why for line in view.waiting],
            ),
        )
        if waiting
        else "",
        wrapped(view.how),
    )


def next_json(view: NextUp) -> str:
    """What next as a JSON document; a sum is null where something that it takes off is not known."""
    lines = [{**facts_of(line, view.zone), **_sums(line)} for line in view.lines]
    return json_text("next", {**facts_of(view, view.zone), "lines": lines})


def _sums(line: NextLine) -> dict[str, object]:
    expected = line.expected_minor is not None or not line.for_sale
    whole = expected and not line.missing
    return {
        "complete": whole,
        "missing": line.missing,
        "to_earn_minor": line.to_earn_minor if whole else None,
        "to_earn_at_most_minor": line.to_earn_minor if expected else None,
        "per_hour_minor": line.per_hour_minor if whole else None,
    }


def _why(line: NextLine, currency: str) -> str:
    return f"{line.reason} {shipping_words(line, currency)}".rstrip()
