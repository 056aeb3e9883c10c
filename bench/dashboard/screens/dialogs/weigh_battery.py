"""The battery weighed: keep it, sell it as it is, or replace it. Nothing is kept but the typing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import PurePath
from typing import Any, ClassVar

from textual import on
from textual.widget import Widget
from textual.widgets import Button, Input

from bench.dashboard.presenters.condition_rows import choice_lines
from bench.dashboard.presenters.parts import Line, Part
from bench.dashboard.reading import Reading
from bench.dashboard.screens.dialogs.choice import Choice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import MONEY, Field, NumberField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.domain.condition.battery_choice import BatteryChoice
from bench.domain.condition.fields import FITTED
from bench.errors import BadInput, NotFound

PACK, GAIN, HOW_FITTED = "pack_text", "gain_text", "fitted"


class WeighBattery(Form[bool]):
    """Shows the choice for each pack as the figures are typed."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "weigh_battery.tcss"]
    cancel_label = "Close"

    def __init__(self, unit_id: int, currency: str) -> None:
        super().__init__("The battery: keep, sell as it is, or replace", draft=f"weigh battery {unit_id}")
        self.unit_id = unit_id
        self.currency = currency
        self._weighing = Reading(self, self._weigh, self._show)

    def fields(self) -> Sequence[Field]:
        """What a pack costs, what it adds, and how it is fitted."""
        fitted = [(way, way) for way in FITTED]
        return (
            NumberField(PACK, "A new pack costs", like=MONEY, hint="such as 35"),
            NumberField(GAIN, "It adds to sale", like=MONEY, hint="how much more the unit brings with it"),
            ChoiceField(HOW_FITTED, "The pack is", fitted, none="as a reading noted it"),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then the choice."""
        yield from super().body()
        yield LinesPanel(id="choice")

    def buttons(self) -> Iterable[Button]:
        """There is nothing to send."""
        yield self.button(self.cancel_label, "cancel")

    def begin(self, facts: Any) -> None:
        """Weigh with what is known."""
        del facts
        self._weighing.ask()

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written but the draft."""
        self.action_cancel()
        return None

    @on(Input.Changed)
    @on(Choice.Changed)
    def _typed(self) -> None:
        self._weighing.ask()

    def _weigh(self) -> Callable[[], tuple[BatteryChoice, ...] | str]:
        desk, unit_id = self.desk, self.unit_id
        typed = {name: self.value(name) for name in (PACK, GAIN, HOW_FITTED)}

        def work() -> tuple[BatteryChoice, ...] | str:
            from bench.views.condition import weigh_battery

            try:
                return weigh_battery(desk, unit_id, **typed)
            except (BadInput, NotFound) as error:  # half a number while it is being typed
                return str(error)

        return work

    def _show(self, weighed: tuple[BatteryChoice, ...] | str) -> None:
        def lines(width: int) -> Sequence[Line]:
            if isinstance(weighed, str):
                return ((Part(weighed, "muted"),),)
            return [line for one in weighed for line in choice_lines(one, self.currency, width)]

        self.query_one("#choice", LinesPanel).show(lines)
