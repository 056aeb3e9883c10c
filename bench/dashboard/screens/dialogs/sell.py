"""Selling a unit: price, channel, buyer and warranty, and its way out of the queue in the same step."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from textual import on
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.selling_words import break_even_words, sold_words
from bench.dashboard.presenters.trade_choices import channel_choices
from bench.dashboard.screens.dialogs.ask_list import ask_list
from bench.dashboard.screens.dialogs.before_listing import ask_before_listing
from bench.dashboard.screens.dialogs.choice import Choice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import DAY, MONEY, WHOLE, Field, NoteField, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.mark_field import YES
from bench.dashboard.screens.dialogs.party_fields import FIRM, party_fields
from bench.dashboard.screens.dialogs.settle_tasks import Settled, SettleTasks
from bench.domain.safety import CLOSE_UP, OPENING
from bench.domain.selling import Sold
from bench.domain.unit_money import UnitMoney
from bench.errors import BatteryFirst, BenchError, CloseUpFirst, ListingFirst, TasksOpen
from bench.views.trade import ChannelLine, TradeSettings

CHANNEL = "channel"
TYPED = ("price_text", "shipping_text", "sold_on_text", "warranty_days_text", "invoice", "note")


@dataclass(frozen=True, slots=True)
class SaleGround:
    """What a sale starts from."""

    money: UnitMoney
    channels: tuple[ChannelLine, ...]
    trade: TradeSettings


class SellForm(Form[Sold]):
    """Sells the unit. What is in the way of it is asked over the form, and the sale tried again."""

    send_label = "Sell"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"Sell {tag}", draft=f"sell {unit_id}")
        self.unit_id = unit_id
        self._settled: Settled | None = None

    def fields(self) -> Sequence[Field]:
        """Price first, then where it goes, to whom, and what goes along."""
        return (
            NumberField("price_text", "Price", like=MONEY, hint="what the buyer pays"),
            ChoiceField(CHANNEL, "Channel", none="no channel: no fees"),
            NumberField("shipping_text", "Shipping", like=MONEY, hint="what sending it costs; 0 for nothing"),
            NumberField("sold_on_text", "Sold on", like=DAY, hint="empty: today"),
            NumberField("warranty_days_text", "Warranty days", like=WHOLE),
            TextField("invoice", "Invoice"),
            *party_fields("Buyer", papers=False),
            NoteField("note", "Goes along"),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then the price that brings back what the unit has cost."""
        yield from super().body()
        yield Static(id="known", markup=False)

    def read(self) -> SaleGround:
        """The unit's money, the channels, the warranty that is usual."""
        from bench.views.trade import read_channels, read_trade
        from bench.views.unit_money import read_unit_money

        desk = self.desk
        return SaleGround(read_unit_money(desk, self.unit_id), read_channels(desk), read_trade(desk))

    def begin(self, facts: SaleGround) -> None:
        """Offer the channels, the one meant first chosen."""
        channel, warranty = self.field(CHANNEL), self.field("warranty_days_text")
        assert isinstance(channel, ChoiceField)
        assert isinstance(warranty, TextField)
        channel.offer(channel_choices(facts.channels, facts.money.currency))
        meant = next((one for one in facts.channels if one.name == facts.money.channel), None)
        channel.start(str(meant.channel_id) if meant is not None else "")
        warranty.hint(f"empty: {facts.trade.warranty_days}, the shop's own")
        self._know(facts.money)

    def work(self) -> Callable[[], Any]:
        """Sell it, settling its tasks as chosen."""
        desk, unit_id, channel = self.desk, self.unit_id, self.value(CHANNEL)
        typed = {name: self.value(name) for name in TYPED}
        buyer = {f"buyer_{name}": self.value(name) for name in ("name", "address", "contact")}
        private = self.value(FIRM) != YES
        settled = self._settled

        def sell() -> Sold:
            from bench.work.selling import sell_unit

            return sell_unit(
                desk,
                unit_id,
                channel_id=int(channel) if channel else None,
                private=private,
                open_tasks=settled[0] if settled else "ask",
                reason=settled[1] if settled else "",
                **typed,
                **buyer,
            )

        return sell

    def answer(self, sold: Sold) -> Sold:
        """What was sold."""
        return sold

    def sent(self, result: Sold) -> None:
        """Say what it brought."""
        say(self.app, sold_words(result))
        super().sent(result)

    def refused(self, error: BenchError) -> bool:
        """What a move would ask is asked here too; then the sale is tried again."""
        if isinstance(error, TasksOpen):
            self._ask_about_tasks(error)
        elif isinstance(error, CloseUpFirst):
            ask_list(self, self.unit_id, CLOSE_UP, self.action_send)
        elif isinstance(error, BatteryFirst):
            ask_list(self, self.unit_id, OPENING, self.action_send, error.items)
        elif isinstance(error, ListingFirst):
            ask_before_listing(self, error, self.action_send)
        else:
            return super().refused(error)
        return True

    def _ask_about_tasks(self, error: TasksOpen) -> None:
        asked = SettleTasks(self.unit_id, error.tasks)

        def answered(chosen: bool | None) -> None:
            if chosen:
                self._settled = asked.settled
                self.action_send()

        self.app.push_screen(asked, answered)

    @on(Choice.Changed)
    def _another_channel(self) -> None:
        desk, unit_id, channel = self.desk, self.unit_id, self.value(CHANNEL)
        if not channel:
            return

        def work() -> UnitMoney:
            from bench.views.unit_money import read_unit_money

            return read_unit_money(desk, unit_id, channel_id=int(channel))

        self.do(work, self._know)

    def _know(self, money: UnitMoney) -> None:
        self.query_one("#known", Static).update(Content(break_even_words(money)))
