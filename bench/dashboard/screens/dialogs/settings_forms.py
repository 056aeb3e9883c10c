"""The forms of the settings: the shop, its trade, its channels, its scale of grades, and plain names."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bench.dashboard import use_cases
from bench.dashboard.presenters.settings_rows import shop_values
from bench.dashboard.presenters.trade_rows import channel_values, trade_values
from bench.dashboard.screens.dialogs.choice_fields import YES, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import LENGTH, MONEY, SHARE, WHOLE, NumberField, TextField
from bench.desk import Desk
from bench.domain.grading import Step
from bench.views.register import NOT_ADVICE
from bench.views.shop import read_shop
from bench.views.trade import ChannelLine, TradeSettings, read_trade


@form
def shop_form() -> FormOf[bool]:
    """What the shop calls itself, its money and clock, and when it asks about timers."""
    return FormOf(
        heading="The shop",
        draft="shop_form",
        fields=(
            TextField("name", "Name"),
            TextField("currency", "Currency", hint="three letters, such as EUR"),
            TextField("zone", "Time zone", hint="such as Europe/Berlin"),
            NumberField("rate_text", "Labour per hour", like=MONEY, hint="empty: nothing"),
            NumberField("forgotten_times_text", "Ask after times", like=WHOLE),
            NumberField("forgotten_least_text", "at least min", like=LENGTH, hint="such as 120"),
        ),
        reads=read_shop,
        begins=lambda shop: Begun(values=shop_values(shop)),
        does=lambda filled: use_cases.shop.edit_shop(filled.desk, **filled.typed),
    )


@form
def trade_form() -> FormOf[bool]:
    """Tax on the margin, waiting period, warranty, reserve and margin, how long people's data are kept."""

    def begin(trade: TradeSettings) -> Begun:
        return Begun(values={"margin_scheme": YES if trade.margin_scheme else "", **trade_values(trade)})

    return FormOf(
        heading="Trading settings",
        draft="trade_form",
        fields=(
            MarkField("margin_scheme", "Tax on margin", "calculate it (second-hand margin scheme)"),
            NumberField("margin_tax_text", "Its rate", like=SHARE, hint="such as 20 %"),
            NumberField("hold_days_text", "Hold days", like=WHOLE, hint="0: none by local code"),
            NumberField("risk_reserve_text", "Risk reserve", like=SHARE, hint="of the expected price"),
            NumberField("wanted_margin_text", "Margin wanted", like=MONEY, hint="on each unit"),
            NumberField("loss_chance_text", "Chance of loss", like=SHARE, hint="at most, when buying"),
            NumberField("warranty_text", "Warranty days", like=WHOLE, hint="0: none"),
            NumberField("keep_private_text", "Keep names years", like=WHOLE),
        ),
        known=NOT_ADVICE,
        reads=read_trade,
        begins=begin,
        does=lambda filled: use_cases.trade.edit_trade(filled.desk, **filled.typed),
    )


@form
def channel_form(currency: str, channel: ChannelLine | None = None) -> FormOf[bool]:
    """A channel through which units are sold, and what it takes; without `channel` it is new."""

    def keep(filled: Filled) -> object:
        typed = filled.typed
        if channel is None:
            return use_cases.trade.add_channel(filled.desk, typed.pop("name"), **typed)
        use_cases.trade.edit_channel(filled.desk, channel.channel_id, **typed)
        return channel.channel_id

    return FormOf(
        heading="New channel" if channel is None else f"Channel {channel.name}",
        draft=f"channel {channel.channel_id if channel is not None else 'new'}",
        fields=(
            TextField("name", "Name"),
            NumberField("share_text", "Takes a share", like=SHARE, hint="such as 12.5 %"),
            NumberField("fixed_text", "and an amount", like=MONEY, hint="on each sale, such as 0.35"),
        ),
        begins=lambda _: Begun(values=channel_values(channel, currency) if channel is not None else {}),
        does=keep,
    )


@form
def step_form(side: str, step: Step | None = None) -> FormOf[bool]:
    """A step of the shop's scale of grades: its name, and what a buyer may expect of it.

    Without `step` it is a new one at the lower end.
    """

    def keep(filled: Filled) -> object:
        if step is None:
            return use_cases.grades.add_step(filled.desk, side, **filled.typed)
        use_cases.grades.edit_step(filled.desk, step.step_id, **filled.typed)
        return step.step_id

    return FormOf(
        heading=f"New step for {side}" if step is None else f"Step {step.name} for {side}",
        draft=f"step {step.step_id if step is not None else f'new {side}'}",
        fields=(
            TextField("name", "Name", value=step.name if step else ""),
            TextField("meaning", "Meaning", value=step.meaning if step else ""),
        ),
        does=keep,
    )


@form
def name_form(
    heading: str, use_case: Callable[[Desk, str], Any], name: str = "", *, draft: str
) -> FormOf[bool]:
    """A name for something: a person, a stage, a route. It is handed to the use case."""
    return FormOf(
        heading=heading,
        draft=draft,
        fields=(TextField("name", "Name", value=name),),
        does=lambda filled: use_case(filled.desk, filled.typed["name"]),
        enter=True,
    )
