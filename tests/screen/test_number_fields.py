"""What can be typed where a number, a day or a time stands: all that its reader takes, and no other word."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.dashboard.screens.dialogs.stock_forms import restock_form
from bench.dashboard.screens.dialogs.text_fields import (
    DAY,
    FIGURE,
    LENGTH,
    MADE_OF,
    MOMENT,
    MONEY,
    NUMBERS,
    SHARE,
    WHOLE,
)
from bench.desk import Desk
from bench.domain import durations
from bench.domain.calculators.measures import UNITS, read_figure
from bench.domain.dates import DAY_WORDS, read_day
from bench.domain.durations import read_minutes
from bench.domain.money import read_money
from bench.work import typed_time
from tests.screen.host import opened, runs, typed
from tests.screen.workshop import level

ASCII = st.characters(codec="ascii", exclude_categories=["Cc"])


def takes(like: str, text: str) -> bool:
    """Whether the text can be typed, character by character."""
    return all(re.fullmatch(NUMBERS[like], text[:length]) for length in range(len(text) + 1))


@given(st.from_regex(typed_time._TIME, fullmatch=True, alphabet=ASCII))
def test_every_time_that_is_read_can_be_typed(text: str) -> None:
    assert takes(MOMENT, text)
    assert takes(MOMENT, text.upper())


@pytest.mark.parametrize("pattern", [durations._MINUTES_ONLY, durations._CLOCK, durations._HOURS])
def test_every_length_that_is_read_can_be_typed(pattern: re.Pattern[str]) -> None:
    @given(st.from_regex(pattern, fullmatch=True, alphabet=ASCII))
    def can_be_typed(text: str) -> None:
        assert takes(LENGTH, text)
        assert takes(MOMENT, f"+{text}")

    can_be_typed()
    assert read_minutes("2 hours 5 minutes") == 125


@pytest.mark.parametrize("text", [*DAY_WORDS, "Today", "2026-11-30", "+14", " tomorrow "])
def test_every_day_that_is_read_can_be_typed(text: str) -> None:
    assert read_day(text, date(2026, 11, 25), "The day") is not None
    assert takes(DAY, text)


@pytest.mark.parametrize(
    "text", ["12", "12.50", "12,5", "1 200.00", "1,200.00", "1.200,00", "12 EUR", "12eur"]
)
def test_money_that_is_read_can_be_typed(text: str) -> None:
    assert read_money(text, "EUR") > 0
    assert takes(MONEY, text)


@pytest.mark.parametrize("unit", UNITS)
def test_every_figure_that_is_read_can_be_typed(unit: str) -> None:
    for written in ("", *UNITS[unit]):
        for text in (f"12.5 {written}", f"-1250,5{written}", f"62 786 553 {written}"):
            assert read_figure(text, "It", [unit])
            assert takes(FIGURE, text), text


@pytest.mark.parametrize("like", NUMBERS)
@pytest.mark.parametrize("text", ["x", "7x7", "soon", "some time", "q", "!", "SN-4711-B", "4;", "٤"])
def test_no_other_word_and_no_code_can_be_typed(like: str, text: str) -> None:
    assert not takes(like, f"{text}kkkk")


@pytest.mark.parametrize(
    ("like", "text"),
    [
        (DAY, "sold"),
        (DAY, "todays"),
        (DAY, "14:30"),
        (MOMENT, "noon"),
        (MOMENT, "14.30"),
        (WHOLE, "3 "),
        (SHARE, "a"),
    ],
)
def test_what_its_reader_never_takes_is_barred(like: str, text: str) -> None:
    assert not takes(like, text)


async def test_what_is_barred_is_said_and_not_typed(desk: Desk) -> None:
    async with opened(desk, restock_form(level(desk).consumable_id)) as (app, pilot):
        form = app.screen
        assert runs(form, restock_form)
        field = form.field("expires_text")
        field.take_focus()
        await typed(pilot, "tox+2k9-")
        assert field.value == "to"
        assert MADE_OF[DAY] in field.said
