"""Starting and stopping tasks from any screen: the opening checklist comes first where it must."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing, say
from bench.dashboard.presenters.choices import entry_of_task
from bench.domain.durations import hours_and_minutes
from bench.domain.safety import OPENING
from bench.domain.text import for_display, task_on
from bench.errors import BatteryFirst, BenchError, PartAwaited
from bench.views.tasks import TaskLine

if TYPE_CHECKING:
    from bench.views.interrupted import Before
    from bench.work.timers import Started, Stopped

ASK_WHY = "bench.dashboard.screens.dialogs.asking:ask_why"


def start_stop(screen: Doing, task: TaskLine) -> None:
    """Stop the task's timer, or start one."""
    entry = entry_of_task(task, screen.desk.person_id)
    if entry is None:
        start(screen, task.task_id)
    else:
        stop(screen, entry.entry_id)


def start(screen: Doing, task_id: int, anyway: str = "") -> None:
    """Start the task's timer; the opening checklist is asked for first where it must be, then it starts.

    Where it waits for a part, why it goes on without is asked; `anyway`: what was answered.
    """

    def then(told: Started) -> None:
        if told.stopped:
            say(screen.app, f"Stopped meanwhile: {', '.join(told.stopped)}.")

    def failed(error: BenchError) -> bool:
        if isinstance(error, BatteryFirst):
            ask_opening(screen, error, partial(start, screen, task_id, anyway))
        elif isinstance(error, PartAwaited):
            again = partial(start, screen, task_id)
            call(ASK_WHY, screen, for_display(str(error)), "Why it goes on", f"anyway {task_id}", again)
        return isinstance(error, (BatteryFirst, PartAwaited))

    screen.run_use_case("bench.work.timers:start_task", task_id, anyway=anyway, then=then, failed=failed)


def stop(screen: Doing, entry_id: int) -> None:
    """Stop a timer and say how long it ran."""
    screen.run_use_case("bench.work.timers:stop_entry", entry_id, then=partial(_say_stopped, screen))


def _say_stopped(screen: Doing, told: Stopped) -> None:
    note = f" {told.clock_note}" if told.clock_note else ""
    say(screen.app, f"{task_on(told.task, told.tag)}: {hours_and_minutes(told.length_us)}.{note}")


def stop_mine(screen: Doing) -> None:
    """Stop the hands-on timer of whoever is working, and say how long it ran."""
    screen.run_use_case("bench.work.timers:stop_person", then=partial(_say_stopped, screen))


def resume(screen: Doing) -> None:
    """Start again what the person was at before, by the way that starting takes."""

    def then(before: Before) -> None:
        say(screen.app, f'Back to "{before.task}" on {before.tag}.')
        start(screen, before.task_id)

    screen.do(partial(call, "bench.views.interrupted:read_before", screen.desk), then)


def ask_opening(screen: Doing, error: BatteryFirst, then: Callable[[], None]) -> None:
    """Ask what of the opening checklist the error names; once it is ticked, go on."""
    screen.open_screen(places.SAFETY_LIST, error.unit_id, OPENING, error.items, then=lambda _: then())
