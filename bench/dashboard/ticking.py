"""The one second hand of the dashboard: ticks, a clock that was set, and timers that were forgotten."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from textual.screen import ModalScreen, Screen

from bench.dashboard.acts.act import call
from bench.dashboard.doing import say
from bench.dashboard.messages import Tick
from bench.desk import Clock
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.text import task_on
from bench.domain.timers import clock_step_us
from bench.views.timers import Running, has_run_out

if TYPE_CHECKING:
    from bench.dashboard.app import BenchApp

TICK_SECONDS = 1
ASK_SECONDS = 60


class ClockWatch:
    """Compares the wall's clock with the steady one from look to look."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._wall_us, self._steady_us = clock.now_us(), clock.steady_us()

    def step_us(self) -> int:
        """By how much the wall clock was set since the last look, in microseconds; 0 when it was not."""
        wall_us, steady_us = self._clock.now_us(), self._clock.steady_us()
        step_us = clock_step_us(self._wall_us, wall_us, self._steady_us, steady_us)
        self._wall_us, self._steady_us = wall_us, steady_us
        return step_us


def in_sight(stack: Sequence[Screen[object]]) -> Sequence[Screen[object]]:
    """The open screen, and under dialogs the one that is seen beneath them."""
    first = len(stack) - 1
    while first > 0 and stack[first].is_modal:
        first -= 1
    return stack[max(first, 0) :]


class SecondHand:
    """Tells the screens in sight each second; asks about forgotten timers at the start and each minute."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._watch = ClockWatch(app.desk.clock)
        self._asked: set[int] = set()
        self._rung: set[int] = set()

    def start(self) -> None:
        """Begin to tick."""
        self._app.set_interval(TICK_SECONDS, self.tick)
        self._app.set_interval(ASK_SECONDS, self.look_for_forgotten)
        self.look_for_forgotten()

    def tick(self) -> None:
        """Look at the clocks and tell the screen."""
        step_us = self._watch.step_us()
        if step_us:
            self._report(step_us)
        now_us = self._app.desk.clock.now_us()
        for screen in in_sight(self._app.screen_stack):
            screen.post_message(Tick(now_us))

    def ring(self, timers: Iterable[Running], now_us: int) -> bool:
        """Ring for machine time that is up, once for each timer; answers whether it rang."""
        up = [one for one in timers if one.entry_id not in self._rung and has_run_out(one, now_us)]
        self._rung |= {one.entry_id for one in up}
        for one in up:
            self._app.bell()
            words = f"Time is up: {task_on(one.task, one.tag)}."
            say(self._app, words)
            if self._app.notices:
                call("bench.dashboard.terminal_driver:show_notice", self._app.terminal, words)
        return bool(up)

    def look_for_forgotten(self) -> None:
        """Ask about timers past the shop's limit, each once a session, never over another dialog."""
        self._app.do(partial(call, "bench.views.timers:read_forgotten", self._app.desk), self._ask)

    def _ask(self, forgotten: tuple[Running, ...]) -> None:
        new = {entry.entry_id for entry in forgotten} - self._asked
        screen = self._app.top_screen
        if not new or screen is None or isinstance(screen, ModalScreen):
            return
        self._asked |= new
        self._app.open_screen("bench.dashboard.screens.dialogs.time_forms:ForgottenDialog")

    def _report(self, step_us: int) -> None:
        way = "forward" if step_us > 0 else "back"
        length_us = abs(step_us)
        length = hours_and_minutes(length_us) if length_us >= MINUTE_US else f"{length_us // 1_000_000} s"
        say(self._app, f"The computer's clock was set {way} by {length}. Look at the times that run.")
        self._app.run_use_case("bench.work.forgotten:report_clock_step", step_us)
