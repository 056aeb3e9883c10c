"""The acts whose keys are counted, by name, in the order of the table."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from bench.desk import Desk
from tests.clocks import HandSetClock
from tests.screen.keystrokes import at_the_bench, on_paper, on_the_shelf
from tests.screen.keystrokes.person import Pressed

Act = Callable[[Desk], Awaitable[Pressed]] | Callable[[Desk, HandSetClock], Awaitable[Pressed]]

ACTS: dict[str, Act] = {
    "start on a tag": at_the_bench.start_on_a_tag,
    "stop": at_the_bench.stop,
    "finish a task": at_the_bench.finish,
    "move on": at_the_bench.move_on,
    "closing checklist": at_the_bench.closing_checklist,
    "restock what is low": on_the_shelf.restock_a_low_one,
    "stocktake of all": on_the_shelf.stocktake,
    "grade seven parts": on_paper.grade_seven_parts,
    "wipe and verify": on_paper.wipe_and_verify,
    "a lot of five": on_paper.lot_of_five,
    "correct the sixth of the week's seven entries": on_paper.correct_the_sixth_entry,
    "sell": at_the_bench.sell,
    "take in with a scan": at_the_bench.take_in_with_a_scan,
}
