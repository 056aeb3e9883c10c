"""The keys of the main acts, counted through the program."""

from __future__ import annotations

import inspect

import pytest

from bench.desk import Desk
from tests.clocks import HandSetClock
from tests.screen.keystrokes.acts import ACTS
from tests.screen.keystrokes.counts import BEFORE, NOW
from tests.screen.keystrokes.table import WHERE, table


@pytest.mark.parametrize("name", ACTS)
async def test_an_act_takes_the_keys_that_the_table_says(desk: Desk, clock: HandSetClock, name: str) -> None:
    act = ACTS[name]
    given = {"desk": desk, "clock": clock}
    pressed = await act(**{one: given[one] for one in inspect.signature(act).parameters})  # type: ignore[call-arg]
    assert pressed == NOW[name]


MOST = {
    "restock what is low": 3,
    "closing checklist": 1 + 4,  # the key that opens it, then one a line: none is ticked unseen
    "grade seven parts": 14,
    "correct the sixth of the week's seven entries": 8,
}


def test_what_was_to_take_fewer_keys_does() -> None:
    assert {name for name, most in MOST.items() if NOW[name].keys > most} == set()


def test_the_table_says_what_was_counted() -> None:
    assert set(ACTS) == set(BEFORE) == set(NOW)
    assert WHERE.read_text(encoding="utf-8") == table(BEFORE, NOW)
