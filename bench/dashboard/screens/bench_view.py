"""The bench view: the unit on the bench, read from a metre, and three keys for gloves or a foot switch."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import PurePath
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.bench_view_lines import OnTheBench, bench_lines, go_on_word
from bench.dashboard.presenters.choices import entry_to_stop
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.stock_lines import low_words
from bench.dashboard.presenters.top_line import top_line
from bench.dashboard.screens.first import read_first
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.large_key import LargeKey
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.steady import SideBySide
from bench.desk import Desk
from bench.views.queue import QueueRow

if TYPE_CHECKING:
    from bench.dashboard.doing import Doing

LARGE_KEYS = ("go_on", "start_stop", "back")


def read_on_the_bench(desk: Desk, unit_id: int | None) -> OnTheBench | None:
    """The unit that the desk's person has a timer on, else the one asked for, else the queue's first.

    None for an empty queue.
    """
    reading = read_first(desk, None)
    own = any(entry.person_id == desk.person_id for entry in reading.queue.running())
    if unit_id is not None and not own:
        reading = read_first(desk, unit_id)
    unit, row = reading.unit, reading.queue.row(reading.unit.unit_id) if reading.unit else None
    if unit is None or row is None:
        return None
    low = low_words(reading.stock.lines)
    return OnTheBench(reading.queue, row, unit.safety, unit.tasks, desk.person_id, low)


@dataclass(frozen=True, slots=True)
class Seen:
    """What was read: the unit that is shown, None while the bench is empty."""

    unit: OnTheBench | None


class BenchView(Sheet[Seen]):
    """One unit, large. `unit_id`: the one that is shown while its person times none."""

    keys = "bench_view"
    has_tables = False
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "bench_view.tcss"]

    def __init__(self, unit_id: int | None) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """What is told, and the three keys as areas to tap."""
        own = self.bench.own_keys
        yield LinesPanel(id="told")
        with SideBySide(id="large-keys"):
            for act, label in zip(LARGE_KEYS, ("done", "start/stop", "back"), strict=True):
                yield LargeKey(act, key_shown(f"{self.keys}.{act}", own), label)

    def read(self) -> Callable[[], Seen]:
        """The unit on the bench."""
        desk, unit_id = self.desk, self.unit_id
        return lambda: Seen(read_on_the_bench(desk, unit_id))

    @property
    def shown(self) -> OnTheBench | None:
        """The unit that is shown; None before it was read, and while the bench is empty."""
        return self.facts.unit if self.facts is not None else None

    def show(self, facts: Seen) -> None:
        """Everything on the screen."""
        self.query_one("#large-go_on", LargeKey).name_it(go_on_word(facts.unit))
        self.tick(self.desk.clock.now_us())

    def tick(self, now_us: int) -> None:
        """The times go on."""
        facts = self.shown
        if facts is None:
            told = (Part("The bench is empty.", "strong"),)
            self.query_one("#told", LinesPanel).show(lambda _width: (told,))
            return
        person_id, told_panel = self.desk.person_id, self.query_one("#told", LinesPanel)
        self.query_one("#head", LinesPanel).show(
            lambda width: (top_line(facts.view, now_us, person_id, width),)
        )
        told_panel.show(lambda width: bench_lines(facts, width, told_panel.size.height, now_us))

    def unit_here(self) -> QueueRow | None:
        """The unit that is shown."""
        return self.shown.row if self.shown is not None else None

    def timed_task_here(self) -> int | None:
        """The task that runs on it, one's own first."""
        timer = self.shown.timer if self.shown is not None else None
        return timer.task_id if timer is not None else None

    def timer_here(self) -> int | None:
        """The time entry that start/stop stops."""
        row = self.unit_here()
        entry = entry_to_stop(row, self.desk.person_id) if row is not None else None
        return entry.entry_id if entry is not None else None

    def action_open_row(self) -> None:
        """Nothing here is a row."""

    @on(LargeKey.Tapped)
    async def _tapped(self, event: LargeKey.Tapped) -> None:
        await self.run_action("back" if event.act == "back" else f"act('{event.act}')")


def open_bench_view(screen: Doing) -> None:
    """Open the view on the unit that is under the cursor of the open screen, from wherever one is."""
    open_now: object = screen.bench.top_screen
    if isinstance(open_now, BenchView):
        return
    here = getattr(open_now, "unit_here", lambda: None)()
    screen.app.push_screen(BenchView(getattr(here, "unit_id", None)))
