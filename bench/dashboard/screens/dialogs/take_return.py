"""A sold unit comes back: why, what is given back, and at which stage work on it goes on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.selling_words import returned_words, standing_words
from bench.dashboard.presenters.trade_choices import stage_choices
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.selling import Returned, UnitSales
from bench.domain.stages import StageLine

STAGE = "stage"


@dataclass(frozen=True, slots=True)
class ReturnGround:
    """What a return starts from."""

    sales: UnitSales
    stages: tuple[StageLine, ...]


class ReturnForm(Form[bool]):
    """Takes the unit back into the queue, linked to its sale."""

    send_label = "Take it back in"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"{tag} came back")
        self.unit_id = unit_id
        self.draft = f"return {unit_id}"

    def fields(self) -> Sequence[Field]:
        """Why, how much, where to."""
        return (
            TextField("reason", "Why"),
            TextField("refund_text", "Refund", hint="empty: none, a repair under warranty"),
            ChoiceField(STAGE, "Back to stage", none=None),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then the sale it comes back from."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def read(self) -> ReturnGround:
        """Its sales, and the stages."""
        from bench.work.sales import read_sales
        from bench.work.stages import read_stages

        return ReturnGround(read_sales(self.desk, self.unit_id), read_stages(self.desk))

    def begin(self, facts: ReturnGround) -> None:
        """Offer the stages, the first one chosen."""
        stage, choices = self.field(STAGE), stage_choices(facts.stages)
        assert isinstance(stage, ChoiceField)
        stage.offer(choices)
        stage.start(choices[0][0])
        self.query_one("#known", Static).update(Content(standing_words(facts.sales)))

    def work(self) -> Callable[[], Any]:
        """Take it back."""
        desk, unit_id, stage_id = self.desk, self.unit_id, self.chosen(STAGE)
        reason, refund = self.value("reason"), self.value("refund_text")

        def take() -> Returned:
            from bench.work.comebacks import take_return

            return take_return(desk, unit_id, reason=reason, refund_text=refund, stage_id=stage_id)

        return take

    def sent(self, result: Returned) -> None:
        """Say where it stands."""
        say(self.app, returned_words(result))
        super().sent(result)
