"""Trading settings and channels: read, set, refused, taken back."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.domain.offers import OfferTyped
from bench.errors import BadInput, NotFound, Refused
from bench.views.trade import ChannelLine, TradeSettings, read_channels, read_trade
from bench.work.buying import save_offer
from bench.work.parts import fit_part
from bench.work.shop import edit_shop
from bench.work.trade import add_channel, edit_channel, remove_channel
from tests.work.taking_back import changes_nothing, is_taken_back
from tests.work.trade_steps import last_summary, new_unit, set_trade


def test_a_new_file_has_settings_that_do_no_harm(desk: Desk) -> None:
    assert read_trade(desk) == TradeSettings(False, 2000, 0, 6, 1000, 0, 365, "EUR")
    assert read_channels(desk) == (ChannelLine(1, "over the counter", 0, 0),)


def test_everything_is_set_as_typed_and_taken_back(desk: Desk) -> None:
    is_taken_back(
        desk,
        lambda: set_trade(
            desk,
            margin_scheme=True,
            margin_tax_text="19 %",
            hold_days_text="14",
            keep_private_text="10",
            risk_reserve_text="7.5",
            wanted_margin_text="45.50",
            warranty_text="180",
        ),
    )
    assert read_trade(desk) == TradeSettings(True, 1900, 14, 10, 750, 4550, 180, "EUR")
    assert last_summary(desk) == "Changed the trading settings"


def test_an_empty_margin_is_none_and_the_same_again_says_nothing(desk: Desk) -> None:
    set_trade(desk, wanted_margin_text=" ", hold_days_text="3")
    assert read_trade(desk).wanted_margin_minor == 0
    before = last_summary(desk)
    set_trade(desk, wanted_margin_text="", hold_days_text="3")
    assert last_summary(desk) == before


@pytest.mark.parametrize(
    ("field", "typed", "what"),
    [
        ("margin_tax_text", "120", "The tax rate “120” is more than the whole"),
        ("margin_tax_text", "", "The tax rate .* is not a share"),
        ("hold_days_text", "366", "The waiting period in days 366 cannot be"),
        ("hold_days_text", "two weeks", "“two weeks” is not a whole number"),
        ("keep_private_text", "101", "Years to keep names 101"),
        ("risk_reserve_text", "-1", "The risk reserve .* is not a share"),
        ("wanted_margin_text", "lots", "is not an amount of money"),
        ("warranty_text", "4000", "The warranty in days 4000"),
    ],
)
def test_what_cannot_be_set(desk: Desk, field: str, typed: str, what: str) -> None:
    changes_nothing(desk, lambda: set_trade(desk, **{field: typed}), BadInput, what)


def test_a_channel_is_added_changed_and_removed(desk: Desk) -> None:
    number = is_taken_back(desk, lambda: add_channel(desk, "by post", share_text="12.5", fixed_text="0.35"))
    assert read_channels(desk)[1:] == (ChannelLine(number, "by post", 1250, 35),)
    is_taken_back(desk, lambda: edit_channel(desk, number, name="by parcel", share_text="", fixed_text="1"))
    assert read_channels(desk)[1:] == (ChannelLine(number, "by parcel", 0, 100),)
    is_taken_back(desk, lambda: remove_channel(desk, number))
    assert [one.name for one in read_channels(desk)] == ["over the counter"]


def test_channels_refuse(desk: Desk) -> None:
    changes_nothing(desk, lambda: remove_channel(desk, 1), Refused, "the only channel")
    changes_nothing(desk, lambda: add_channel(desk, "Over the COUNTER"), BadInput, "already a channel")
    changes_nothing(desk, lambda: add_channel(desk, "x", share_text="150"), BadInput, "share")
    changes_nothing(desk, lambda: add_channel(desk, "x", fixed_text="-1"), BadInput, "negative")
    changes_nothing(desk, lambda: remove_channel(desk, 9), NotFound, "no channel with number 9")


@pytest.mark.parametrize("kept", ["fee", "margin", "offer", "part"])
def test_amounts_of_trade_keep_the_currency_too(desk: Desk, kept: str) -> None:
    """The yen has no decimals: 35 cents would become 35 yen."""
    acts = {
        "fee": lambda: add_channel(desk, "by post", fixed_text="0.35"),
        "margin": lambda: set_trade(desk, wanted_margin_text="40"),
        "offer": lambda: save_offer(desk, OfferTyped("M", "300")),
        "part": lambda: fit_part(desk, new_unit(desk), name="lid", cost_text="5"),
    }
    acts[kept]()
    typed = {"name": "S", "zone": "UTC", "rate_text": "", "forgotten_times_text": "3"}
    changes_nothing(
        desk,
        lambda: edit_shop(desk, currency="JPY", forgotten_least_text="120", **typed),
        Refused,
        "kept in EUR, and JPY has other decimals",
    )
