"""Every dialog fits a small window: what has the focus can be seen, and so can the buttons."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.dashboard.screens.dialogs.stock_forms import consumable_form, restock_form
from bench.dashboard.screens.dialogs.unit_forms import unit_form
from bench.desk import Desk
from bench.domain.safety import CLOSING
from tests.screen.host import opened, settled
from tests.screen.workshop import CLEANING, fill_shelf, new_unit, task

DIALOGS: dict[str, Callable[[Desk, int], Dialog[object]]] = {
    "unit": lambda desk, unit_id: unit_form(),
    "safety": lambda desk, unit_id: SafetyListDialog(unit_id, CLOSING),
    "finish": lambda desk, unit_id: FinishDialog(task(desk, unit_id, CLEANING).task_id),
    "restock": lambda desk, unit_id: restock_form(),
    "consumable": lambda desk, unit_id: consumable_form(1),
}


@pytest.mark.parametrize("size", [(60, 16), (80, 24), (200, 50)])
@pytest.mark.parametrize("name", DIALOGS)
async def test_every_control_can_be_reached_and_seen(desk: Desk, name: str, size: tuple[int, int]) -> None:
    fill_shelf(desk)
    unit_id = new_unit(desk)
    async with opened(desk, DIALOGS[name](desk, unit_id), size) as (app, pilot):
        seen = set()
        for _ in range(20):
            await pilot.press("tab")
            await settled(pilot)
            focused = app.focused
            assert focused is not None
            box = app.screen.query_one("#box")
            assert app.screen.region.contains_region(box.region)
            assert box.region.contains_region(focused.region), f"{focused} is out of sight"
            if focused in seen:
                break
            seen.add(focused)
        assert {button.id for button in app.screen.query("#buttons Button") if button.display} <= {
            one.id for one in seen
        }
