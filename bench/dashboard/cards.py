"""What an action card does when it is scanned at the bench: what its key would, through the same gates."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing, say
from bench.domain.labels import DONE, NEXT, START, STOP, WHO
from bench.errors import NotFound
from bench.views.queue import read_queue
from bench.views.scans import Found

if TYPE_CHECKING:
    from bench.desk import Desk

STARTING = "bench.dashboard.screens.starting"
NO_UNIT = "Scan or choose a unit first: the card does not say which."


def obey(screen: Doing, found: Found) -> None:
    """Do what the card asks for, on the unit that the open screen is about."""
    _ACTS[found.act](screen, found)


def _start(screen: Doing, _found: Found) -> None:
    unit_id = _unit_here(screen)
    if unit_id is None:
        say(screen.app, NO_UNIT)
        return

    def then(task_id: int | None) -> None:
        if task_id is None:
            say(screen.app, "Nothing is left to start on that unit at its stage.")
        else:
            call(f"{STARTING}:start", screen, task_id)

    screen.do(partial(next_task, screen.desk, unit_id), then)


def _stop(screen: Doing, _found: Found) -> None:
    call(f"{STARTING}:stop_mine", screen)


def _done(screen: Doing, _found: Found) -> None:
    screen.do(partial(task_timed, screen.desk), lambda task_id: screen.open_screen(places.FINISH, task_id))


def _next(screen: Doing, _found: Found) -> None:
    here = getattr(screen.bench.top_screen, "unit_here", lambda: None)()
    if here is None:
        say(screen.app, NO_UNIT)
    else:
        call("bench.dashboard.screens.moving:move_on", screen, here.unit_id, here.tag)


def _who(screen: Doing, found: Found) -> None:
    if found.person_id is not None:
        screen.bench.act_as(found.person_id)
        say(screen.app, f"{found.name} is working now.")


_ACTS: dict[str, Callable[[Doing, Found], None]] = {
    START: _start,
    STOP: _stop,
    DONE: _done,
    NEXT: _next,
    WHO: _who,
}


def next_task(desk: Desk, unit_id: int) -> int | None:
    """The task that comes next on a unit of the queue."""
    row = read_queue(desk).row(unit_id)
    return row.next_task_id if row is not None else None


def task_timed(desk: Desk) -> int:
    """The task that the desk's person has hands on; NotFound where none runs."""
    for entry in read_queue(desk).running():
        if entry.attended and entry.person_id == desk.person_id:
            return entry.task_id
    raise NotFound("No hands-on timer of yours is running.", "Start a task, or finish it by its key.")


def _unit_here(screen: Doing) -> int | None:
    here = getattr(screen.bench.top_screen, "unit_here", lambda: None)()
    return here.unit_id if here is not None else None
