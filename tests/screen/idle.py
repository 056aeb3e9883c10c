"""When an app under test has nothing left to do: judged by its queues and workers, not by processor time.

The framework's own wait compares wall and processor time in steps of 20 ms, several a key: half of what a
screen test took, and on a busy machine it takes a process that is kept waiting for one that is done.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import Any

from textual._compositor import Compositor, LayoutUpdate
from textual._context import active_app
from textual._wait import wait_for_idle as wait_for_the_processor
from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen

LONGEST_SECONDS = 1.0  # as the framework's own: something may well tick for ever
TURNS = 3  # looks in a row that must find nothing: an answer travels over a few turns of the loop
REST_SECONDS = 0.001
FRAME_SECONDS = 0.004  # between two frames: shorter than in the program, since every pause waits for one


async def wait_until_idle(min_sleep: float = 0.0, max_sleep: float = LONGEST_SECONDS) -> None:
    """Wait until no message waits and no worker runs, several looks in a row, `max_sleep` seconds at most."""
    app = active_app.get(None)
    if app is None:
        await wait_for_the_processor(min_sleep, max_sleep)
    else:
        await _wait_while(has_work, app, max_sleep)


async def wait_until_shown(min_sleep: float = 0.0, max_sleep: float = LONGEST_SECONDS) -> None:
    """The same where a test pauses, to look at the screen; what that shows then is rendered."""
    await wait_until_idle(min_sleep, max_sleep)
    app = active_app.get(None)
    if app is not None and app.is_running and app.screen_stack:
        render_now(app.screen)


async def wait_for_messages(pilot: Pilot[Any], _timeout: float = 0) -> bool:
    """Wait until no message waits, a worker may run; raises what the app broke on.

    The framework's own way sends a message to every widget at every key and waits for each of them.
    """
    await _wait_while(messages_wait, pilot.app, LONGEST_SECONDS)
    if broke := pilot.app._exception:
        raise broke
    return True


async def _wait_while(busy: Callable[[App[Any]], bool], app: App[Any], longest: float) -> None:
    deadline = time.monotonic() + longest
    quiet = 0
    while quiet < TURNS and time.monotonic() < deadline:
        await asyncio.sleep(REST_SECONDS)
        quiet = 0 if busy(app) else quiet + 1


def has_work(app: App[Any]) -> bool:
    """Whether a message waits, a worker runs, a widget is not there yet or a frame is to come."""
    return any(not worker.is_finished for worker in app.workers) or messages_wait(app) or _frame_waits(app)


def drawn_whole(screen: Screen[Any]) -> str:
    """What the terminal shows of a screen, with all that shows through it.

    The framework tells a dialog what lies beneath it by such a drawing alone.
    """
    update = _render(screen._compositor, full=True, screen_stack=screen.app._background_screens)
    assert isinstance(update, LayoutUpdate)
    return "\n".join("".join(piece.text for piece in pieces) for pieces in update.strips)


def _frame_waits(app: App[Any]) -> bool:
    """Whether a screen that is seen is to be laid out or drawn at its next frame."""
    seen = [app.screen, *app._background_screens] if app.is_running and app.screen_stack else []
    return any(screen.is_running and screen._update_timer._active.is_set() for screen in seen)


def messages_wait(app: App[Any]) -> bool:
    """Whether a message waits or a widget is not there yet."""
    screens = app.screen_stack if app.is_running else []
    nodes = [node for screen in screens for node in screen.walk_children(with_self=True)]
    return app.message_queue_size > 0 or any(
        node.message_queue_size > 0 or not node._is_mounted for node in nodes
    )


def render_now(screen: Screen[Any]) -> None:
    """Render all that changed on the screen since it was rendered last."""
    if screen._running and screen._compositor._dirty_regions:
        _render(screen._compositor, screen_stack=screen.app._background_screens)


def render_later(_compositor: Compositor, **_: object) -> None:
    """Leave what changed to `render_now`: a test sees settled screens, the frames on the way are for nobody.

    They took a quarter of the time of a screen test, and one for each key a twentieth.
    """


_render = Compositor.render_update
