"""The app: whose desk it is, which screens are open, and news that the file has changed."""

from __future__ import annotations

import asyncio
import os
import signal
import threading
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events, on
from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.screen import Screen

from bench.dashboard.doing import Doing
from bench.dashboard.key_check import check_keys
from bench.dashboard.keys import bindings_for
from bench.dashboard.messages import DataChanged, Written
from bench.dashboard.scanning import SeesKeysFirst
from bench.dashboard.themes import DARK, LIGHT, own_theme
from bench.dashboard.ticking import SecondHand
from bench.dashboard.widgets.looks import LOOK_CLASSES
from bench.work.desk import Desk

if TYPE_CHECKING:
    from textual.command import Provider

HERE = Path(__file__).parent
POLL_SECONDS = 0.5
SIGNALS = (signal.SIGTERM, signal.SIGHUP, signal.SIGINT)


def _bench_commands() -> type[Provider]:
    from bench.dashboard.commands import BenchCommands

    return BenchCommands


_PATIENCE_SECONDS = 3.0


class BenchApp(Doing, App[int]):
    """The dashboard. `desk` belongs to the person who acts now; `writing` puts writes one after the other."""

    TITLE = "bench"
    # The first screen's sheet is here because the framework loads none for an app's default screen.
    CSS_PATH: ClassVar[list[str | PurePath]] = [
        HERE / "widgets" / "looks.tcss",
        HERE / "screens" / "first.tcss",
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = set(LOOK_CLASSES)
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("app")
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = App.COMMANDS | {_bench_commands}

    def __init__(self, desk: Desk, *, keys: Mapping[str, str] | None = None) -> None:
        super().__init__()
        self._desk = desk
        self.writing = asyncio.Lock()
        self.own_keys = dict(keys or {})
        self.set_keymap(self.own_keys)
        self.end_at_once: Callable[[int], None] | None = None
        self._seen_version = desk.store.data_version()
        self.second_hand = SecondHand(self)
        for theme in (DARK, LIGHT):
            self.register_theme(theme)
        if "TEXTUAL_THEME" not in os.environ:
            self.theme = own_theme(os.environ)

    @property
    def desk(self) -> Desk:
        """The desk of the person who acts now."""
        return self._desk

    @property
    def top_screen(self) -> Screen[object] | None:
        """The screen that is open; None while the program ends, when its timers may still run."""
        return self.screen_stack[-1] if self.screen_stack else None

    def act_as(self, person_id: int) -> None:
        """Have someone else act from now on."""
        self._desk = self._desk.as_person(person_id)
        self._tell_screens()

    def get_default_screen(self) -> Screen[Any]:
        """The first screen is the first thing shown: no empty one before it."""
        from bench.dashboard.screens.first import FirstScreen

        return FirstScreen(self.size)

    async def on_event(self, event: events.Event) -> None:
        """Let the open screen see a key before the widget with the focus gets it."""
        if isinstance(event, events.Key) and not event.is_forwarded:
            self._show_to_screen(event)
        await super().on_event(event)

    def on_mount(self) -> None:
        """Listen for signals and for other programs' writes."""
        loop = asyncio.get_running_loop()
        for number in SIGNALS:
            loop.add_signal_handler(number, self._leave_on_signal, number)
        self.set_interval(POLL_SECONDS, self._look_for_writes)
        self.call_after_refresh(self._after_first_paint)

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """The palette offers the colours; everything else in it comes from the keys."""
        del screen
        yield SystemCommand("colours", "Choose the colours of the screen", self.action_change_theme)

    def action_help(self) -> None:
        """Every key of the screen that is open."""
        from bench.dashboard.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())

    @on(Written)
    def _written(self) -> None:
        self._seen_version = self.desk.store.data_version()
        self._tell_screens()

    def _look_for_writes(self) -> None:
        version = self.desk.store.data_version()
        if version != self._seen_version:
            self._seen_version = version
            self._tell_screens()

    def _tell_screens(self) -> None:
        for screen in self.screen_stack:
            screen.post_message(DataChanged())

    def _leave_on_signal(self, number: int) -> None:
        if self.end_at_once is not None:
            self.end_at_once(128 + number)
        self.exit(return_code=128 + number)

    def _show_to_screen(self, key: events.Key) -> None:
        screen: object = self.top_screen
        if isinstance(screen, SeesKeysFirst):
            screen.before_key(key)

    def _after_first_paint(self) -> None:
        self.second_hand.start()
        threading.Thread(target=import_what_writes, name="warm-up", daemon=True).start()


def import_what_writes() -> None:
    """Load what the first write needs, so that it is as quick as any other."""
    import bench.work.moves
    import bench.work.safety
    import bench.work.stock
    import bench.work.take_back
    import bench.work.timers
    import bench.work.units  # noqa: F401


def run_dashboard(desk: Desk, *, keys: Mapping[str, str] | None = None, mouse: bool = True) -> int:
    """Run the dashboard until the person leaves; answers the exit code. BadInput for keys it cannot use."""
    check_keys(keys or {})
    app = BenchApp(desk, keys=keys)
    app.end_at_once = _end_at_once_later
    app.run(mouse=mouse)
    return app.return_code or 0


def _end_at_once_later(code: int) -> None:
    """End the process in a few seconds if an orderly end has not come by then.

    Where the terminal itself is gone, what is still to be drawn can hold up an orderly end for ever.
    Every change was committed when it was made: ending at once loses nothing.
    """
    at_once = threading.Timer(_PATIENCE_SECONDS, os._exit, (code,))
    at_once.daemon = True
    at_once.start()
