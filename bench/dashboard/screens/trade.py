"""How the shop trades: margin and tax, waiting period, warranty; its channels; its scale of grades."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from textual.widget import Widget

from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.trade_rows import (
    CHANNEL,
    ELECTRICITY,
    LISTINGS,
    REPAIRS,
    STEP,
    TASK_WATTS,
    TRADING,
    trade_rows,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.grading import Step
from bench.views.grades import read_scale
from bench.views.machine_power import TaskWatts, read_task_watts
from bench.views.trade import ChannelLine, TradeSettings, read_channels, read_trade


@dataclass(frozen=True, slots=True)
class TradeFacts:
    """All that is set."""

    trade: TradeSettings
    channels: tuple[ChannelLine, ...]
    scale: tuple[Step, ...]
    watts: tuple[TaskWatts, ...]


class TradeScreen(Sheet[TradeFacts]):
    """One table: trading, channels, the scale."""

    keys = "trade"

    def panels(self) -> Iterable[Widget]:
        """The table."""
        yield RowTable(TRADING, id="rows")

    def read(self) -> Callable[[], TradeFacts]:
        """All that is set."""
        desk = self.desk

        return lambda: TradeFacts(
            read_trade(desk), read_channels(desk), read_scale(desk), read_task_watts(desk)
        )

    def show(self, facts: TradeFacts) -> None:
        """The rows."""
        title = (Part(" Trading settings", "strong"), Part("  margin, tax, channels, grades", "muted"))
        self.query_one("#head", LinesPanel).show(lambda _width: (title,))
        self.table("rows").show(trade_rows(facts.trade, facts.channels, facts.scale, facts.watts))

    def currency_here(self) -> str:
        """The shop's currency."""
        return self.facts.trade.currency if self.facts else ""

    def channel_here(self) -> ChannelLine | None:
        """The channel under the cursor."""
        key = self.table("rows").key
        channels = self.facts.channels if self.facts else ()
        return next((one for one in channels if key == (CHANNEL, one.channel_id)), None)

    def step_here(self) -> Step | None:
        """The step of the scale under the cursor."""
        key = self.table("rows").key
        scale = self.facts.scale if self.facts else ()
        return next((one for one in scale if key == (STEP, one.step_id)), None)

    def repair_terms_here(self) -> TradeSettings | None:
        """The settings where the cursor is on the terms of repairs."""
        return self._settings_on(REPAIRS)

    def listing_words_here(self) -> TradeSettings | None:
        """The settings where the cursor is on the words of listings."""
        return self._settings_on(LISTINGS)

    def electricity_here(self) -> TradeSettings | None:
        """The settings where the cursor is on what machines draw."""
        return self._settings_on(ELECTRICITY)

    def task_watts_here(self) -> TaskWatts | None:
        """The task under the cursor that has watts of its own."""
        key = self.table("rows").key
        watts = self.facts.watts if self.facts else ()
        return next((one for one in watts if key == (TASK_WATTS, one.name)), None)

    def new_task_watts_here(self) -> TaskWatts | None:
        """A task still to be named, where the cursor is on what machines draw."""
        on_it = self._settings_on(ELECTRICITY) or self._settings_on(TASK_WATTS)
        return TaskWatts("", 0) if on_it is not None else None

    def _settings_on(self, kind: str) -> TradeSettings | None:
        key = self.table("rows").key
        on_it = isinstance(key, tuple) and key[0] == kind
        return self.facts.trade if self.facts is not None and on_it else None

    def open_row(self) -> None:
        """Change what is under the cursor."""
        self.action_act("edit")
