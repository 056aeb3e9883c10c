"""The app: whose desk it is, which screens are open, and news that the file has changed."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import os
import signal
import threading
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events, on
from textual.app import App
from textual.binding import BindingType
from textual.screen import Screen

from bench.dashboard.acts.act import call
from bench.dashboard.clipboard import Copies, drop_copied
from bench.dashboard.crash_log import write_crash_log
from bench.dashboard.daily_copy import DailyCopy
from bench.dashboard.doing import say, show_error
from bench.dashboard.file_watch import FileWatch
from bench.dashboard.keys import act_on, bindings_for
from bench.dashboard.keys_in_order import KeyLine
from bench.dashboard.messages import CopyFailed, DataChanged, Written
from bench.dashboard.places_visited import Visits
from bench.dashboard.repeating import Repeating
from bench.dashboard.scan_taking import TakesScans
from bench.dashboard.scanning import Ear, SeesKeysFirst
from bench.dashboard.table_choices import TableChoices
from bench.dashboard.terminal_drawing import Shown
from bench.dashboard.terminal_driver import BenchDriver, OnTerminal
from bench.dashboard.themes import DARK, LIGHT, own_theme
from bench.dashboard.ticking import SecondHand
from bench.dashboard.widgets.looks import LOOK_CLASSES
from bench.dashboard.widgets.too_small import LEAST_HEIGHT, LEAST_WIDTH, TooSmall
from bench.desk import Desk
from bench.errors import Crashed
from bench.went_wrong import note
from bench.work.check import check_newest
from bench.work.replay import Difference

if TYPE_CHECKING:
    from rich.console import RenderableType

    from bench.dashboard.folder_watch import FolderWatch
    from bench.views.finding import NamesKept

HERE = Path(__file__).parent
SIGNALS = (signal.SIGTERM, signal.SIGHUP, signal.SIGINT)
UNSEEN = (events.Key, events.Paste, events.MouseEvent)  # what acts on something that has to be seen
_PATIENCE_SECONDS = 1.5
NEW_OBJECTS = 2_000  # before memory in cycles is looked for; as from Python 3.13 on

OPENS_DEMO = 256  # no exit code: the demo is opened, and this file again after it
FIRST_PAINT_SECONDS = 0.5  # the longest that what comes after the first paint waits for it


class BenchApp(TakesScans, Copies, OnTerminal, App[int]):
    """The dashboard. `desk` belongs to the person who acts now; `writing` puts writes one after the other."""

    TITLE = "bench"
    # The first screen's sheet is here because the framework loads none for an app's default screen.
    CSS_PATH: ClassVar[list[str | PurePath]] = [
        HERE / "widgets" / "looks.tcss",
        HERE / "widgets" / "too_small.tcss",
        HERE / "screens" / "first.tcss",
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = set(LOOK_CLASSES)
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("app")
    ENABLE_COMMAND_PALETTE = False

    def __init__(self, desk: Desk, *, keys: Mapping[str, str] | None = None) -> None:
        # A browser or a test brings a driver of its own.
        super().__init__(driver_class=None if "TEXTUAL_DRIVER" in os.environ else BenchDriver)
        self._desk = desk
        self.ear = Ear(self, KeyLine(self, self._hand_on), self.take_scan, self._input_waits)
        self.writing = asyncio.Lock()
        self.own_keys = dict(keys or {})
        self.set_keymap(self.own_keys)
        leaving = self.own_keys.get("app.quit") or act_on("app", "quit").keys
        self._leaving_keys = frozenset(leaving.split(","))
        self.crashed: BaseException | None = None
        self.asks_to_begin = False
        self.end_at_once: Callable[[int], None] | None = None
        self.once_loaded: Callable[[], None] | None = None
        self._loop_here: asyncio.AbstractEventLoop | None = None
        self.file_watch = FileWatch(self)
        self.second_hand = SecondHand(self)
        self.visits = Visits(self)
        self.names_kept: NamesKept | None = None  # once something was looked for
        self.daily_copy: DailyCopy | None = None
        self.folder_watch: FolderWatch | None = None
        self.notices = False
        self._began = False
        self.shown = Shown()
        self.repeating = Repeating()
        self.table_choices = TableChoices()
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

    def open_demo(self) -> None:
        """Leave for the made-up workshop; whoever started the program comes back to this file after it."""
        self.exit(return_code=OPENS_DEMO)

    def act_as(self, person_id: int) -> None:
        """Have someone else act from now on."""
        self._desk = self._desk.as_person(person_id)
        self.tell_screens()

    def get_default_screen(self) -> Screen[Any]:
        """The first screen is the first thing shown: no empty one before it."""
        from bench.dashboard.screens.first import FirstScreen

        return FirstScreen(self.size)

    async def on_event(self, event: events.Event) -> None:
        """Let the open screen see a key before the widget with the focus; below the least size none acts."""
        if self.is_too_small and isinstance(event, UNSEEN) and not self._leaves(event):
            return
        if isinstance(event, (events.Key, events.Paste)) and not event.is_forwarded:
            await self.ear.take(event)
        else:
            await super().on_event(event)
        if isinstance(event, events.Resize):
            self.shown.forget()
            self.call_later(self._cover_what_is_too_small)

    def on_mount(self) -> None:
        """Keep an eye on the file."""
        self._loop_here = asyncio.get_running_loop()
        self.file_watch.start()
        self.call_after_refresh(self._after_first_paint)
        self.set_timer(
            FIRST_PAINT_SECONDS, self._after_first_paint
        )  # where something was opened over it at once

    @property
    def is_too_small(self) -> bool:
        """Whether the window is below the size at which everything that matters is seen."""
        return self.size.width < LEAST_WIDTH or self.size.height < LEAST_HEIGHT

    def action_set_aside(self) -> None:
        """Stop the program where it is, as a shell's Ctrl+Z does; `fg` brings it back."""
        if os.getsid(0) == os.getpid():
            say(self, "No shell started this program: there is nothing to come back from.")
        else:
            self.action_suspend_process()

    def terminal_begins(self) -> None:
        """The terminal shows nothing of ours yet, or no more: after being set aside all is drawn again."""
        self.shown.forget()

    def hang_up(self) -> None:
        """The terminal is gone: leave as on a hang-up."""
        self.leave_soon(128 + signal.SIGHUP)

    def leave_soon(self, code: int) -> None:
        """Leave with this exit code in good order, or in a few seconds all the same; from any thread.

        Where the terminal is not read any more, what is still to be drawn can hold up an orderly end for
        ever. Every change was committed when it was made: ending at once loses nothing.
        """
        if self.end_at_once is not None:
            self.end_at_once(code)
        if self._loop_here is not None:
            with contextlib.suppress(RuntimeError):  # the loop has ended: the program is on its way out
                self._loop_here.call_soon_threadsafe(lambda: self.exit(return_code=code))

    def action_help(self) -> None:
        """Every key of the screen that is open."""
        from bench.dashboard.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())

    def action_manual(self) -> None:
        """The page of the manual for where one stands."""
        from bench.dashboard.manual_places import place_of
        from bench.dashboard.screens.manual import ManualScreen

        if not isinstance(self.screen, ManualScreen):
            self.push_screen(ManualScreen(place_of(self.screen)))

    def action_find(self) -> None:
        """Find anything by its name, from wherever one is."""
        call("bench.dashboard.finding:open_find", self)

    def action_go_back(self) -> None:
        """Open again what was open before."""
        self.visits.go_back()

    def action_stop_mine(self) -> None:
        """Stop the task that the person is at."""
        call("bench.dashboard.screens.starting:stop_mine", self)

    def action_resume(self) -> None:
        """Go on with what the person was at before."""
        call("bench.dashboard.screens.starting:resume", self)

    def action_bench_view(self) -> None:
        """Show the unit on the bench in large letters."""
        call("bench.dashboard.screens.bench_view:open_bench_view", self)

    @on(Written)
    def _written(self) -> None:
        self.file_watch.written()
        self.tell_screens()
        if self.daily_copy is not None:
            self.daily_copy.look()

    @on(CopyFailed)
    def _copy_failed(self, failed: CopyFailed) -> None:
        show_error(self, failed.error)

    def tell_screens(self) -> None:
        """Have every open screen read again."""
        if self.names_kept is not None:
            self.names_kept.forget_people()
        for screen in self.screen_stack:
            screen.post_message(DataChanged())

    def _cover_what_is_too_small(self) -> None:
        for screen in self.screen_stack:
            covers = screen.query(TooSmall)
            if self.is_too_small and not covers:
                screen.mount(TooSmall())
            elif not self.is_too_small:
                covers.remove()

    def _leaves(self, event: events.Event) -> bool:
        return isinstance(event, events.Key) and event.key in self._leaving_keys

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        """Send of a drawing only what the terminal does not show yet (the framework's one place for all)."""
        super()._display(screen, self.shown.take(screen, renderable))

    def _handle_exception(self, error: Exception) -> None:
        """Remember a mistake of the program for its log (the framework's one place for all of them)."""
        self.crashed = self.crashed or error
        super()._handle_exception(error)

    def _input_waits(self) -> bool:
        return self.terminal is not None and self.terminal.input_waits

    async def _hand_on(self, key: events.Key | events.Paste) -> None:
        if isinstance(key, events.Key):
            self._show_to_screen(key)
        await super().on_event(key)

    def _show_to_screen(self, key: events.Key) -> None:
        screen: object = self.top_screen
        if isinstance(screen, SeesKeysFirst):
            screen.before_key(key)

    def _after_first_paint(self) -> None:
        if self._began:
            return
        self._began = True
        self.second_hand.start()
        if self.folder_watch is not None:
            self.folder_watch.start()
        threading.Thread(target=self._warm_up, name="warm-up", daemon=True).start()
        store = self.desk.store
        self.do(lambda: check_newest(store), self._tell_differences)
        if self.asks_to_begin:
            call("bench.dashboard.screens.first_minutes:begin_if_new", self)

    def _warm_up(self) -> None:
        import_what_writes()
        drop_copied(self.desk.store.path)
        if self.once_loaded is not None:
            self.once_loaded()
        if self.daily_copy is not None:
            self.daily_copy.look()

    def _tell_differences(self, found: tuple[Difference, ...]) -> None:
        """Say it loudly where the rows that the newest lines touched are not what these say."""
        if found:
            self.notify(
                f"The record does not agree with its journal. {found[0].sentence()}. Run bench check.",
                title="The data file was changed behind bench",
                severity="error",
                timeout=3600,
                markup=False,
            )


def import_what_writes() -> None:
    """Load what the first write needs, so that it is as quick as any other."""
    import bench.work.moves
    import bench.work.safety
    import bench.work.stock
    import bench.work.timers
    import bench.work.undo
    import bench.work.units  # noqa: F401


def run_dashboard(
    desk: Desk,
    *,
    keys: Mapping[str, str] | None = None,
    mouse: bool = True,
    copies: bool = True,
    scanner: bool = True,
    watched_folder: Path | None = None,
    notices: bool = False,
    choices: Path | None = None,
) -> int:
    """Run the dashboard until the person leaves; answers the exit code, or OPENS_DEMO where that is wanted.

    BadInput for keys it cannot use.

    What comes into the `watched_folder` is offered as photographs. With `notices` the terminal is
    asked to tell on the desktop what rings. With `copies` the file is copied once a day; without `scanner`
    every character is a key, however fast. How the person has each table is kept in the file `choices`.
    Raises Crashed, with the place of the log it left, where the program met a mistake of its own.
    """
    if keys:
        call("bench.dashboard.key_check:check_keys", keys)
    app = BenchApp(desk, keys=keys)
    app.ear.hears = scanner
    app.asks_to_begin = True
    app.table_choices = TableChoices(choices)
    app.notices = notices
    app.end_at_once = partial(_end_at_once_later, app)
    for number in SIGNALS:
        # Not the loop's own handlers: those wait for a loop that may itself wait for the terminal.
        signal.signal(number, lambda number, _frame: app.leave_soon(128 + number))
    app.once_loaded = look_for_cycles
    app.daily_copy = DailyCopy(app) if copies else None
    if watched_folder is not None:
        app.folder_watch = call("bench.dashboard.folder_watch:FolderWatch", app, watched_folder)
    try:
        app.run(mouse=mouse)
    finally:
        if app.daily_copy is not None:
            app.daily_copy.finish()
    if app.crashed is not None:
        note(app.crashed, "dashboard")
        raise Crashed(write_crash_log(desk.store.path, app.crashed))
    return app.return_code or 0


def look_for_cycles() -> None:
    """From here on memory in cycles is freed as it comes up; what has been loaded is passed over."""
    gc.freeze()
    gc.set_threshold(NEW_OBJECTS)


def _end_at_once_later(app: BenchApp, code: int) -> None:
    end = threading.Timer(_PATIENCE_SECONDS, _end_at_once, (app, code))
    end.daemon = True
    end.start()


def _end_at_once(app: BenchApp, code: int) -> None:
    if app.terminal is not None:
        app.terminal.restore_at_once()
    os._exit(code)
