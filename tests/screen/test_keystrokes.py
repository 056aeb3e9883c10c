"""The keys of the main acts, counted through the program."""

from __future__ import annotations

import inspect

import pytest

from bench.desk import Desk
from tests.clocks import HandSetClock
from tests.screen.keystrokes.acts import ACTS
from tests.screen.keystrokes.counts import NOW


@pytest.mark.parametrize("name", ACTS)
async def test_an_act_takes_the_keys_that_the_table_says(desk: Desk, clock: HandSetClock, name: str) -> None:
    act = ACTS[name]
    given = {"desk": desk, "clock": clock}
    pressed = await act(**{one: given[one] for one in inspect.signature(act).parameters})  # type: ignore[call-arg]
    assert pressed == NOW[name]
