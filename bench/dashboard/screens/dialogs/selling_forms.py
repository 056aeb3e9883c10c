"""The forms of a unit that is sold or comes back, and of what it would fetch by another way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bench.dashboard import use_cases
from bench.dashboard.presenters.trade_rows import fee_words
from bench.dashboard.screens.dialogs.buying_forms import party_fields
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, Choices, Filled, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import (
    DAY,
    LENGTH,
    MONEY,
    WHOLE,
    NoteField,
    NumberField,
    TextField,
)
from bench.dashboard.screens.dialogs.unit_forms import stage_choices
from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.durations import hours_and_minutes
from bench.domain.localtime import short_day
from bench.domain.money import money_or, show_money
from bench.domain.selling import Returned, Sold
from bench.domain.text import for_display
from bench.domain.three_ways import TITLES, ThreeWays
from bench.domain.unit_money import UnitMoney
from bench.errors import BatteryFirst, ClosingFirst, ListingFirst, OutcomeFirst, TasksOpen
from bench.views.kinds import Context, on_screen
from bench.views.model_page import ModelWarnings, read_warnings_of
from bench.views.sales import UnitSales, read_sales
from bench.views.shop import StageLine, read_stages
from bench.views.three_ways import read_three_ways
from bench.views.trade import ChannelLine, read_channels, read_trade
from bench.views.unit_money import read_unit_money

OURS, BUYERS = "ours", "buyers"
WHOSE_CHOICES = (
    (BUYERS, "the buyer's: the sale stands, it is handed back"),
    (OURS, "the shop's: the sale is undone"),
)


@dataclass(frozen=True, slots=True)
class SaleGround:
    """What a sale starts from: the unit's money, the channels, the usual warranty, what its model had."""

    money: UnitMoney
    channels: tuple[ChannelLine, ...]
    warranty_days: int
    warnings: ModelWarnings


@form
def sell_form(unit_id: int, tag: str) -> FormOf[Sold]:
    """A unit sold, and its way out of the queue in the same step. What is in the way of it is asked."""

    def read(desk: Desk) -> SaleGround:
        money, channels = read_unit_money(desk, unit_id), read_channels(desk)
        return SaleGround(money, channels, read_trade(desk).warranty_days, read_warnings_of(desk, unit_id))

    def another_channel(desk: Desk, values: Mapping[str, str]) -> Begun | None:
        if not values["channel"]:
            return None
        money = read_unit_money(desk, unit_id, channel_id=int(values["channel"]))
        return Begun(known=_sale_words(money, read_warnings_of(desk, unit_id)))

    def sell(filled: Filled) -> Sold:
        typed = filled.typed
        for name in ("name", "address", "contact"):
            typed[f"buyer_{name}"] = typed.pop(name)
        private, channel_id = not typed.pop("firm"), typed.pop("channel")
        return use_cases.selling.sell_unit(
            filled.desk, unit_id, channel_id=channel_id, private=private, **typed
        )

    return FormOf(
        heading=f"Sell {tag}",
        draft=f"sell {unit_id}",
        fields=(
            NumberField("price_text", "Price", like=MONEY, hint="what the buyer pays"),
            ChoiceField("channel", "Channel", none="no channel: no fees", ids=True),
            NumberField("shipping_text", "Shipping", like=MONEY, hint="what sending it costs; 0 for nothing"),
            NumberField("sold_on_text", "Sold on", like=DAY, hint="empty: today"),
            NumberField("warranty_days_text", "Warranty days", like=WHOLE),
            TextField("invoice", "Invoice"),
            *party_fields("Buyer", papers=False),
            NoteField("note", "Goes along"),
        ),
        send="Sell",
        known="",
        reads=read,
        begins=_begin_sale,
        watches=("channel",),
        looks_up=another_channel,
        does=sell,
        asks=(TasksOpen, OutcomeFirst, ClosingFirst, BatteryFirst, ListingFirst),
        says=_sold_words,
        answers=lambda sold: sold,
    )


def _begin_sale(ground: SaleGround) -> Begun:
    """The channels, the one meant first chosen."""
    money = ground.money
    meant = next((one for one in ground.channels if one.name == money.channel), None)
    return Begun(
        choices={"channel": channel_choices(ground.channels, money.currency)},
        values={"channel": str(meant.channel_id) if meant is not None else ""},
        hints={"warranty_days_text": f"empty: {ground.warranty_days}, the shop's own"},
        known=_sale_words(money, ground.warnings),
    )


def channel_choices(channels: tuple[ChannelLine, ...], currency: str) -> Choices:
    """Each channel with its fees."""
    return tuple((str(one.channel_id), f"{one.name}  ({fee_words(one, currency)})") for one in channels)


def _sale_words(money: UnitMoney, warnings: ModelWarnings) -> str:
    """What it has to bring, and what goes wrong with its model."""
    return "\n".join(filter(None, (_break_even_words(money), for_display(warnings.had))))


def _break_even_words(money: UnitMoney) -> str:
    """The price that brings back what the unit has cost, and the labour that stands apart."""
    through = f" through {for_display(money.channel)}" if money.channel else ""
    expected = ""
    if money.expected_minor is not None:
        expected = f"; expected {show_money(money.expected_minor, money.currency)}"
    labour = show_money(money.labour_minor, money.currency)
    return (
        f"Break-even{through}: {show_money(money.break_even_minor, money.currency)}{expected}. "
        f"Labour apart: {labour} for {hours_and_minutes(money.hands_on_us)}."
    )


def _sold_words(sold: Sold) -> str:
    """What it was sold for, and until when the shop stands behind it."""
    until = f", warranty until {short_day(sold.warranty_until)}" if sold.warranty_until else ", no warranty"
    low = f" Low now: {', '.join(sold.low)}." if sold.low else ""
    return f"{sold.tag} sold for {show_money(sold.price_minor, sold.currency)}{until}.{low}"


@dataclass(frozen=True, slots=True)
class ReturnGround:
    """What a return starts from. `corrects`: the unit is back already, and its return is corrected."""

    sales: UnitSales
    stages: tuple[StageLine, ...]
    now_us: Instant

    @property
    def corrects(self) -> bool:
        """Whether it is back already."""
        return self.sales.back is not None and not self.sales.out


@form
def return_form(unit_id: int, tag: str) -> FormOf[bool]:
    """A sold unit comes back: why, what is given back, whose it is now, at which stage work on it goes on.

    For one that is back already the same form sets its return right: a repair that failed is refunded after
    all, a channel gives its fee back days later.
    """

    def take(filled: Filled) -> Returned:
        typed = filled.typed
        stage_id, ours = typed.pop("stage"), {OURS: True, BUYERS: False}.get(typed.pop("whose"))
        if filled.facts.corrects:
            return use_cases.comebacks.correct_return(filled.desk, unit_id, ours=ours, **typed)
        return use_cases.comebacks.take_return(filled.desk, unit_id, stage_id=stage_id, ours=ours, **typed)

    return FormOf(
        heading=f"{tag} came back",
        draft=f"return {unit_id}",
        fields=(
            TextField("reason", "Why"),
            NumberField("refund_text", "Refund", like=MONEY, hint="empty: none, a repair under warranty"),
            NumberField("fee_back_text", "Fee back", like=MONEY, hint="what the channel gives back"),
            NumberField("postage_text", "Return postage", like=MONEY, hint="0 for nothing"),
            ChoiceField(
                "whose",
                "Whose it is now",
                WHOSE_CHOICES,
                none="by the refund: all of the price, the shop's",
            ),
            ChoiceField("stage", "Back to stage", none=None, ids=True, needed=True),
        ),
        send="Record the return",
        known="",
        reads=lambda desk: ReturnGround(read_sales(desk, unit_id), read_stages(desk), desk.clock.now_us()),
        begins=_begin_return,
        does=take,
        says=_returned_words,
    )


def _begin_return(ground: ReturnGround) -> Begun:
    """The first stage is chosen."""
    choices = stage_choices(ground.stages)
    values, back, currency = {"stage": choices[0][0]}, ground.sales.back, ground.sales.currency
    if back is not None and ground.corrects:
        values |= {
            "reason": back.reason,
            "refund_text": money_or(back.refund_minor or None, currency),
            "fee_back_text": money_or(back.fee_back_minor or None, currency),
            "postage_text": money_or(back.postage_minor, currency),
            "whose": OURS if back.undoes else BUYERS,
        }
    return Begun(
        choices={"stage": choices},
        values=values,
        known=_standing_words(ground.sales, on_screen(ground.sales, ground.now_us)),
    )


def _standing_words(sales: UnitSales, context: Context) -> str:
    """The sale it comes back from."""
    last = sales.sales[-1] if sales.sales else None
    if last is None:
        return "It was never sold."
    buyer = f" to {for_display(last.buyer)}" if last.buyer else ""
    refunded = (
        f", {show_money(last.refund_minor, sales.currency)} refunded so far" if last.refund_minor else ""
    )
    until = f"warranty until {context.day(last.warranty_until)}" if last.warranty_until else "no warranty"
    price = show_money(last.price_minor, sales.currency)
    return f"Sold {context.day(last.sold_on)}{buyer} for {price}, {until}{refunded}."


def _returned_words(back: Returned) -> str:
    """Where it stands now, and what was given back."""
    refund = f"{show_money(back.refund_minor, back.currency)} refunded" if back.refund_minor else "no refund"
    whose = "the sale is undone" if back.undoes else "its sale stands"
    return f"{back.tag} is back at {back.stage}, {refund}: {whose}."


@form
def way_form(unit_id: int, way: str) -> FormOf[bool]:
    """What a unit fetches as it is, or in parts, and the time that takes."""

    def begin(ways: ThreeWays) -> Begun:
        known = next((one for one in ways.estimates if one.way == way), None)
        heading = f"{TITLES[way]}: {ways.tag}"
        if known is None:
            return Begun(heading=heading)
        return Begun(
            heading=heading,
            values={
                "price_text": money_or(known.price_minor, ways.currency),
                "minutes_text": "" if known.minutes is None else str(known.minutes),
                "note": known.note,
            },
        )

    return FormOf(
        heading=TITLES[way],
        draft=f"way {way} {unit_id}",
        fields=(
            NumberField(
                "price_text", "Expected price", like=MONEY, hint="before channel fees; empty: not known"
            ),
            NumberField("minutes_text", "Hands-on time", like=LENGTH, hint="minutes, or 1:30"),
            TextField("note", "Based on", hint="such as: two like it sold last month"),
        ),
        reads=lambda desk: read_three_ways(desk, unit_id),
        begins=begin,
        does=lambda filled: use_cases.way_estimates.set_way_estimate(
            filled.desk, unit_id, way, **filled.typed
        ),
        answers=lambda _: True,
    )
