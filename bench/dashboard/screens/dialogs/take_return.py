"""A sold unit comes back: why, what is given back, whose it is now, and at which stage work on it goes on.

For a unit that is back already the same form sets its return right: a repair that failed is refunded after
all, a channel gives its fee back days later.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.selling_words import return_values, returned_words, standing_words
from bench.dashboard.presenters.trade_choices import stage_choices
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import MONEY, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.selling import ComebackLine, Returned, UnitSales
from bench.views.shop import StageLine

STAGE, WHOSE = "stage", "whose"
OURS, BUYERS = "ours", "buyers"
WHOSE_CHOICES = (
    (BUYERS, "the buyer's: the sale stands, it is handed back"),
    (OURS, "the shop's: the sale is undone"),
)
TYPED = ("reason", "refund_text", "fee_back_text", "postage_text")


@dataclass(frozen=True, slots=True)
class ReturnGround:
    """What a return starts from."""

    sales: UnitSales
    stages: tuple[StageLine, ...]


class ReturnForm(Form[bool]):
    """Takes the unit back into the queue, linked to its sale."""

    send_label = "Take it back in"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"{tag} came back", draft=f"return {unit_id}")
        self.unit_id = unit_id
        self._corrects = False

    def fields(self) -> Sequence[Field]:
        """Why, how much, where to."""
        return (
            TextField("reason", "Why"),
            NumberField("refund_text", "Refund", like=MONEY, hint="empty: none, a repair under warranty"),
            NumberField("fee_back_text", "Fee back", like=MONEY, hint="what the channel gives back"),
            NumberField("postage_text", "Return postage", like=MONEY, hint="0 for nothing"),
            ChoiceField(WHOSE, "Whose it is now", none="by the refund: all of the price, the shop's"),
            ChoiceField(STAGE, "Back to stage", none=None),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then the sale it comes back from."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def read(self) -> ReturnGround:
        """Its sales, and the stages."""
        from bench.views.shop import read_stages
        from bench.work.sales import read_sales

        return ReturnGround(read_sales(self.desk, self.unit_id), read_stages(self.desk))

    def begin(self, facts: ReturnGround) -> None:
        """Offer the stages, the first one chosen."""
        stage, choices = self.field(STAGE), stage_choices(facts.stages)
        assert isinstance(stage, ChoiceField)
        stage.offer(choices)
        stage.start(choices[0][0])
        whose, sales = self.field(WHOSE), facts.sales
        assert isinstance(whose, ChoiceField)
        whose.offer(WHOSE_CHOICES)
        self._corrects = sales.back is not None and not sales.out
        if sales.back is not None and self._corrects:
            self._start_from(sales.back, sales.currency)
        self.query_one("#known", Static).update(Content(standing_words(facts.sales)))

    def work(self) -> Callable[[], Any]:
        """Take it back."""
        desk, unit_id, stage_id = self.desk, self.unit_id, self.chosen(STAGE)
        typed = {name: self.value(name) for name in TYPED}
        ours = {OURS: True, BUYERS: False}.get(self.value(WHOSE))
        corrects = self._corrects

        def take() -> Returned:
            from bench.work.comebacks import correct_return, take_return

            if corrects:
                return correct_return(desk, unit_id, ours=ours, **typed)
            return take_return(desk, unit_id, stage_id=stage_id, ours=ours, **typed)

        return take

    def sent(self, result: Returned) -> None:
        """Say where it stands."""
        say(self.app, returned_words(result))
        super().sent(result)

    def _start_from(self, back: ComebackLine, currency: str) -> None:
        for name, value in return_values(back, currency).items():
            self.field(name).start(value)
        self.field(WHOSE).start(OURS if back.undoes else BUYERS)
