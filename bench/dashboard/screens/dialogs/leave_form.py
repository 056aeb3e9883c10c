"""A unit leaves otherwise than by a sale: handed back, kept for the shop, scrapped, broken for parts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.leaving_words import way_choices, whose_words
from bench.dashboard.screens.dialogs.ask_list import ask_list
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import MONEY, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.safety import CLOSE_UP
from bench.domain.unit_money import UnitMoney
from bench.domain.ways_out import Left, left_words
from bench.errors import BenchError, CloseUpFirst

WAY = "way"
TYPED = ("reason", "price_text", "proceeds_text")


class LeaveForm(Form[bool]):
    """Lets the unit leave; open tasks are skipped with the reason typed."""

    send_label = "Let it leave"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"{tag} leaves, not sold", draft=f"leave {unit_id}")
        self.unit_id = unit_id

    def fields(self) -> Sequence[Field]:
        """By which way, why, and what it brings."""
        return (
            ChoiceField(WAY, "Way out", none=None),
            TextField("reason", "Why", hint="open tasks are skipped with it"),
            NumberField("price_text", "Repair price", like=MONEY, hint="what its owner pays; 0 for nothing"),
            NumberField("proceeds_text", "Scrap brought", like=MONEY, hint="empty: nothing"),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then whose the unit is and what it has cost."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def read(self) -> UnitMoney:
        """Its money: it says whose the unit is."""
        from bench.views.unit_money import read_unit_money

        return read_unit_money(self.desk, self.unit_id)

    def begin(self, facts: UnitMoney) -> None:
        """Offer the ways that are open to it."""
        way, choices = self.field(WAY), way_choices(facts)
        assert isinstance(way, ChoiceField)
        way.offer(choices)
        way.start(choices[0][0])
        self.query_one("#known", Static).update(Content(whose_words(facts)))

    def work(self) -> Callable[[], Any]:
        """Let it leave."""
        desk, unit_id, way = self.desk, self.unit_id, self.value(WAY)
        typed = {name: self.value(name) for name in TYPED}

        def leave() -> Left:
            from bench.work.leaving import leave_unit

            return leave_unit(desk, unit_id, way=way, **typed)

        return leave

    def sent(self, result: Left) -> None:
        """Say how it left."""
        say(self.app, left_words(result))
        super().sent(result)

    def refused(self, error: BenchError) -> bool:
        """The closing checklist is asked over the form, and the leaving tried again."""
        if isinstance(error, CloseUpFirst):
            ask_list(self, self.unit_id, CLOSE_UP, self.action_send)
            return True
        return super().refused(error)
