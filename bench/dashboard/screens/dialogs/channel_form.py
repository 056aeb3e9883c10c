"""A channel through which units are sold, and what it takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.trade_rows import channel_values
from bench.dashboard.screens.dialogs.field import MONEY, SHARE, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.views.trade import ChannelLine

TYPED = ("name", "share_text", "fixed_text")


class ChannelForm(Form[bool]):
    """Asks for name and fees; without `channel` it is new."""

    def __init__(self, currency: str, channel: ChannelLine | None = None) -> None:
        super().__init__(
            "New channel" if channel is None else f"Channel {channel.name}",
            draft=f"channel {channel.channel_id if channel is not None else 'new'}",
        )
        self.currency = currency
        self.channel = channel

    def fields(self) -> Sequence[Field]:
        """Its name, and a share and a fixed amount of each sale."""
        return (
            TextField("name", "Name"),
            NumberField("share_text", "Takes a share", like=SHARE, hint="such as 12.5 %"),
            NumberField("fixed_text", "and an amount", like=MONEY, hint="on each sale, such as 0.35"),
        )

    def begin(self, facts: None) -> None:
        """Show the channel as it is."""
        del facts
        if self.channel is not None:
            for name, value in channel_values(self.channel, self.currency).items():
                self.field(name).start(value)

    def work(self) -> Callable[[], Any]:
        """Add it, or change it."""
        desk, channel = self.desk, self.channel
        typed = {name: self.value(name) for name in TYPED}

        def keep() -> object:
            from bench.work.trade import add_channel, edit_channel

            if channel is None:
                name = typed.pop("name")
                return add_channel(desk, name, **typed)
            edit_channel(desk, channel.channel_id, **typed)
            return channel.channel_id

        return keep
