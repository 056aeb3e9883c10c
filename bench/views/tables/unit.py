"""What there is to say of a unit, line by line: a screen's lines open what is behind them."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass

from bench.domain.durations import hours_and_minutes
from bench.domain.money import money_or, show_money
from bench.domain.timers import elapsed_us
from bench.views.columns import Column, Table
from bench.views.kinds import Context
from bench.views.unit import UnitSheet

HANDS_ON, MACHINE_TIME, CONSUMABLES_USED = "attended", "unattended", "consumables"
STAGE, HELD, PARTICULARS = "stage", "held", "particulars"


@dataclass(frozen=True, slots=True)
class Fact:
    """A line. `key`: what it opens, with a number where several lines open the same."""

    key: Hashable
    label: str
    words: str
    look: str = ""


LABEL_CELLS = 12
FACTS = Table[Fact](
    "facts",
    "The unit",
    (
        Column("", "label", width=LABEL_CELLS, look="muted"),
        Column("", "words", width=20, grow=1, look=lambda fact: fact.look),
    ),
    key="key",
)


def standing_facts(unit: UnitSheet, context: Context) -> Iterator[Fact]:
    """Where it stands, why it is held, and what was said for listing it without something."""
    yield Fact(STAGE, "Stage", f"{unit.stage}, since {context.instant(unit.stage_since_us)}")
    if unit.held is not None:
        since = "" if unit.held_us is None else f" (since {context.instant(unit.held_us)})"
        yield Fact(HELD, "On hold", f"{unit.held}{since}", "warning")
    for number, one in enumerate(unit.without):
        words = f"{one.matters}: {one.reason} ({one.person}, {context.instant(one.at_us)})"
        yield Fact((PARTICULARS, 200 + number), "" if number else "Without", words, "warning")


def figure_facts(unit: UnitSheet, now_us: int | None = None) -> Iterator[Fact]:
    """Its hours and materials; where an instant is given, what runs is counted until then."""
    running = [entry for task in unit.tasks for entry in task.running] if now_us is not None else []
    hands, alone = unit.hands_on_us, unit.machine_us
    hands += sum(elapsed_us(one.started_us, now_us or 0) for one in running if one.attended)
    alone += sum(elapsed_us(one.started_us, now_us or 0) for one in running if not one.attended)
    yield Fact(HANDS_ON, "Hands-on", hours_and_minutes(hands))
    yield Fact(MACHINE_TIME, "Machine time", hours_and_minutes(alone))
    yield Fact(CONSUMABLES_USED, "Consumables", show_money(unit.consumables_minor, unit.currency))


def particular_facts(unit: UnitSheet, context: Context) -> Iterator[Fact]:
    """What is known of the unit itself, its note apart."""
    told = (
        ("Price paid", money_or(unit.price_minor, unit.currency)),
        ("Due", context.day(unit.due_on) if unit.due_on else ""),
        ("Serial", unit.serial),
        ("Route", unit.route),
        ("Owner", ", ".join(word for word in (unit.owner, unit.owner_contact) if word)),
        ("Came in", context.instant(unit.added_us)),
    )
    for number, (label, words) in enumerate(told):
        if words:
            yield Fact((PARTICULARS, number), label, words)
