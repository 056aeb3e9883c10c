"""A lot's price shared anew, by what each unit is expected to sell for now."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.lot_rows import shared_words
from bench.dashboard.screens.dialogs.field import MONEY, Field, NumberField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.lot_shares import LotReshared
from bench.domain.money import money_or, show_money
from bench.views.lots import LotSheet, LotUnitLine

UNIT = "expected_"


class ShareForm(Form[bool]):
    """A field for each unit that is not sold yet."""

    send_label = "Share anew"

    def __init__(self, lot_id: int) -> None:
        super().__init__("Share the lot anew", draft=f"share {lot_id}")
        self.lot_id = lot_id

    def fields(self) -> Sequence[Field]:
        """None at first: the units are read."""
        return ()

    def body(self) -> Iterable[Widget]:
        """The units' fields, then the rule."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def read(self) -> LotSheet:
        """The lot as it is."""
        from bench.views.lots import read_lot

        return read_lot(self.desk, self.lot_id)

    def begin(self, facts: LotSheet) -> None:
        """What is expected of each unit; a donor counts with what its parts are worth."""
        price = show_money(facts.price_minor, facts.currency)
        words = f"Share {facts.name} anew: {price}. What each unit is to bring:"
        self.query_one("#heading", Static).update(Content(words))
        fields = [_field(one, facts.currency) for one in facts.lines if not one.sold]
        self._fields.update((field.field_name, field) for field in fields)
        self.query_one("#body").mount(*fields, before="#known")
        self.query_one("#known", Static).update(Content(facts.rule))
        if fields:
            fields[0].call_after_refresh(fields[0].take_focus)

    def work(self) -> Callable[[], Any]:
        """Share it anew."""
        desk, lot_id = self.desk, self.lot_id
        expected = {int(name.removeprefix(UNIT)): field.value for name, field in self._fields.items()}

        def share() -> LotReshared:
            from bench.work.lots import reshare_lot

            return reshare_lot(desk, lot_id, expected=expected)

        return share

    def sent(self, result: LotReshared) -> None:
        """Say what changed."""
        say(self.app, shared_words(result.shares, result.currency))
        super().sent(result)


def _field(unit: LotUnitLine, currency: str) -> Field:
    value = money_or(unit.expected_minor, currency)
    words = f"{unit.tag} {unit.model}" + (" (donor)" if unit.donor else "")
    return NumberField(f"{UNIT}{unit.unit_id}", words, like=MONEY, value=value)
