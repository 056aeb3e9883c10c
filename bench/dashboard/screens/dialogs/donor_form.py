"""A unit kept for its parts, or sold whole after all; its lot may be shared anew with it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from textual.content import Content
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.lot_rows import donor_words
from bench.dashboard.screens.dialogs.field import MONEY, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.domain.lot_shares import DonorMade
from bench.views.purchase import UnitPurchase

EXPECTED, RESHARE = "expected_text", "reshare"


class DonorForm(Form[bool]):
    """Marks a unit as a donor, or takes the mark off."""

    send_action = "enter"

    def __init__(self, unit_id: int) -> None:
        super().__init__("Donor", draft=f"donor {unit_id}")
        self.unit_id = unit_id
        self.donor = True

    def fields(self) -> Sequence[Field]:
        """What is expected of it from now on, and whether its lot is shared anew."""
        return (
            NumberField(EXPECTED, "Expected", like=MONEY, hint="what its parts are worth; empty: 0"),
            MarkField(RESHARE, "", "share its lot anew", value=YES),
        )

    def read(self) -> UnitPurchase:
        """Where the unit comes from."""
        from bench.views.purchase import read_purchase

        return read_purchase(self.desk, self.unit_id)

    def begin(self, facts: UnitPurchase) -> None:
        """Say which way it goes; without a lot there is nothing to share."""
        self.donor = not facts.donor
        words = f"Keep {facts.tag} for its parts" if self.donor else f"Sell {facts.tag} whole after all"
        self.query_one("#heading", Static).update(Content(words))
        if not self.donor:
            expected = self.field(EXPECTED)
            assert isinstance(expected, TextField)
            expected.hint("what it is to sell for")
        self.field(RESHARE).display = facts.lot_id is not None

    def work(self) -> Callable[[], Any]:
        """Mark it, or take the mark off."""
        desk, unit_id, donor = self.desk, self.unit_id, self.donor
        expected, reshare = self.value(EXPECTED), self.value(RESHARE) == YES

        def mark() -> DonorMade:
            from bench.work.donors import end_donor, make_donor

            use_case = make_donor if donor else end_donor
            return use_case(desk, unit_id, expected_text=expected, reshare=reshare)

        return mark

    def sent(self, result: DonorMade) -> None:
        """Say what it is now, and what its lot's shares are."""
        say(self.app, donor_words(result))
        super().sent(result)
