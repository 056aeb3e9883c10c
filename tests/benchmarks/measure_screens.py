"""Opening screens and forms on the demo and on three years of a large shop, against an empty modal.

From the key to the drawing of what was read first, by the clock; opened in turn in the same app, over the
first screen. Whole documents go on reading behind that. Memory in cycles is looked for as the program does.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from typing import Any

import pytest
from rich.console import RenderableType
from textual.pilot import Pilot
from textual.screen import Screen

from bench.dashboard.acts.places import Place
from bench.dashboard.app import BenchApp, look_for_cycles
from bench.desk import Desk
from tests.benchmarks.grown_demo import DAYS, grown_demo
from tests.benchmarks.measure_dialogs import EmptyModal
from tests.screen.every_form import FORMS
from tests.screen.host import Host, settled

RUNS = 7
AT_MOST = 3.2
SCREENS = "bench.dashboard.screens"
MODEL = ("Tarn", "Cairn 15 b")

OPENED: dict[str, Callable[[Desk], Screen[Any]]] = {
    "unit": lambda _: Place(f"{SCREENS}.unit:UnitScreen", (42,)).made(),
    "faults": lambda _: Place(f"{SCREENS}.faults:FaultsScreen", (3,)).made(),
    "shop's faults": lambda _: Place(f"{SCREENS}.faults:ShopFaultsScreen").made(),
    "orders": lambda _: Place(f"{SCREENS}.orders:OrdersScreen").made(),
    "a unit's orders": lambda _: Place(f"{SCREENS}.orders:OrdersScreen", (42, "10428")).made(),
    "parts": lambda _: Place(f"{SCREENS}.parts:PartsScreen", (42,)).made(),
    "shelf": lambda _: Place(f"{SCREENS}.parts_shelf:PartsShelfScreen").made(),
    "photographs": lambda _: Place(f"{SCREENS}.photographs:PhotographsScreen", (42,)).made(),
    "models": lambda _: Place(f"{SCREENS}.models:ModelsScreen").made(),
    "model page": lambda _: Place(
        f"{SCREENS}.model_page:ModelPageScreen", (), {"maker": MODEL[0], "model": MODEL[1]}
    ).made(),
    "three ways": lambda _: Place(f"{SCREENS}.three_ways:ThreeWaysScreen", (56,)).made(),
    "papers": lambda _: Place(f"{SCREENS}.papers:PapersScreen", (42,)).made(),
    "money": lambda _: Place(f"{SCREENS}.money:MoneyScreen", (42,)).made(),
    "stock": lambda _: Place(f"{SCREENS}.stock:StockScreen").made(),
    "consumable": lambda _: Place(f"{SCREENS}.stock:ConsumableScreen", (1,)).made(),
    "week": lambda _: Place(f"{SCREENS}.week:WeekScreen").made(),
    "month": lambda _: Place(f"{SCREENS}.months:MonthsScreen").made(),
    "year": lambda _: Place(f"{SCREENS}.months:MonthsScreen", (), {"whole_year": True}).made(),
    "register": lambda _: Place(f"{SCREENS}.register:RegisterScreen").made(),
    "journal": lambda _: Place(f"{SCREENS}.journal:JournalScreen").made(),
    "what next": lambda _: Place(f"{SCREENS}.next_up:NextUpScreen").made(),
    "repairs": lambda _: Place(f"{SCREENS}.repair_jobs:JobsScreen").made(),
    "offers": lambda _: Place(f"{SCREENS}.buying:BuyingScreen").made(),
    "lots": lambda _: Place(f"{SCREENS}.lots:LotsScreen").made(),
    "offer form": FORMS["OfferForm"],
    "listing form": FORMS["listing_form"],
    "restock form": FORMS["restock_form"],
    "fault form": FORMS["fault_line_form"],
    "order form": FORMS["order_part_form"],
    "opening list": FORMS["SafetyListDialog"],
    "finish form": FORMS["FinishDialog"],
}


class Drawing(Host):
    """The dashboard; knows when it drew last, and when it first drew a screen with what that had read."""

    get_default_screen = BenchApp.get_default_screen
    last_s = 0.0
    first_s = 0.0

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        super()._display(screen, renderable)
        if renderable is not None:
            self.last_s = time.perf_counter()
            if not self.first_s and getattr(screen, "facts", None) is not None:
                self.first_s = self.last_s


async def seconds_to_open(pilot: Pilot[int], screen: Screen[Any]) -> float:
    """From the key to the first drawing with what was read; a form's or a bare modal's last drawing."""
    app = pilot.app
    assert isinstance(app, Drawing)
    await settled(pilot)
    app.first_s, began = 0.0, time.perf_counter()
    app.push_screen(screen)
    await settled(pilot)
    whole = screen.is_modal or not app.first_s
    took = (app.last_s if whole else app.first_s) - began
    app.pop_screen()
    await settled(pilot)
    return took


@pytest.mark.parametrize("days", [0, DAYS], ids=["demo", "100x"])
async def test_every_screen_opens(tmp_path: Path, days: int) -> None:
    ratios: dict[str, tuple[float, float]] = {}
    with grown_demo(tmp_path / "shop.bench", days=days) as desk:
        app = Drawing(desk)
        async with app.run_test(size=(120, 36)) as pilot:
            await settled(pilot)
            await seconds_to_open(pilot, EmptyModal())
            look_for_cycles()
            for name, opening in OPENED.items():
                gc.collect()
                await seconds_to_open(pilot, opening(desk))
                floor, ours = [], []
                for _ in range(RUNS):
                    floor.append(await seconds_to_open(pilot, EmptyModal()))
                    ours.append(await seconds_to_open(pilot, opening(desk)))
                ratios[name] = median(ours) / median(floor), median(ours) * 1000
    print(f"\nopening against an empty modal, {days} days of history; milliseconds")
    for name, (ratio, ms) in sorted(ratios.items(), key=lambda one: one[1]):
        print(f"{name:20} {ratio:5.2f} {ms:7.1f}")
    slow = [name for name, (ratio, _) in ratios.items() if ratio > AT_MOST]
    assert not slow
