"""How a screen does something: one use case off the interface thread, then its answer or what went wrong."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from functools import partial
from typing import TYPE_CHECKING, Any, TypeVar, cast

from textual.app import App

from bench.dashboard.acts.act import call
from bench.dashboard.acts.places import Place
from bench.dashboard.messages import Written
from bench.errors import BenchError, FileLost
from bench.views.kinds import Context, on_screen
from bench.went_wrong import note

if TYPE_CHECKING:
    from textual.dom import DOMNode as _Mixed

    from bench.dashboard.app import BenchApp
    from bench.desk import Desk
else:
    _Mixed = object

T = TypeVar("T")
Running = Callable[[], Awaitable[None]]


class Doing(_Mixed):
    """Mix in first (`class UnitScreen(Doing, Screen[None])`): reads and writes that hold up no key.

    The work runs in a thread; `then` and `failed` run on the interface thread, and not at all when the
    screen was closed meanwhile. Only a BenchError is expected; anything else is a mistake and stops the app.
    """

    @property
    def bench(self) -> BenchApp:
        """The app, by its own type."""
        return cast("BenchApp", self.app)

    @property
    def desk(self) -> Desk:
        """The desk of whoever acts now."""
        return self.bench.desk

    def context_for(self, facts: Any) -> Context:
        """What the words of these facts are told by, now."""
        return on_screen(facts, self.desk.clock.now_us())

    def do(
        self,
        work: Callable[[], T],
        then: Callable[[T], None] | None = None,
        *,
        failed: Callable[[BenchError], bool] | None = None,
    ) -> None:
        """Run one use case and hand its answer to `then`; `failed` says True when it dealt with the error."""
        run: Running = partial(self._run, work, then, failed, writes=False)
        self.app.run_worker(run, group="do")

    def change(
        self,
        work: Callable[[], T],
        then: Callable[[T], None] | None = None,
        *,
        failed: Callable[[BenchError], bool] | None = None,
    ) -> None:
        """As `do`, for a use case that writes: one after the other, then every screen reads again."""
        run: Running = partial(self._run, work, then, failed, writes=True)
        self.app.run_worker(run, group="change")

    def run_use_case(
        self,
        use_case: str,
        *given: object,
        then: Callable[[Any], None] | None = None,
        failed: Callable[[BenchError], bool] | None = None,
        **also: object,
    ) -> None:
        """As `change`, for a use case of (desk, *given) by its reference; it is loaded in the thread."""

        def done(answer: Any) -> None:
            self.bench.repeating.wrote()
            if then is not None:
                then(answer)

        self.change(partial(call, use_case, self.desk, *given, **also), done, failed=failed)

    def open_screen(
        self, screen: str, *given: object, then: Callable[[Any], None] | None = None, **also: object
    ) -> None:
        """Open a screen or dialog by its reference, with what it is given.

        `then` is handed what it answers, unless that is None.
        """

        def answered(answer: object) -> None:
            if then is not None and answer is not None:
                then(answer)

        opened = call(screen, *given, **also)
        self.bench.visits.note(opened, Place(screen, given, also))
        if not opened.is_modal:
            self.bench.repeating.begin(None)  # what is done there is no part of the act that led there
        self.app.push_screen(opened, answered)

    async def _run(
        self,
        work: Callable[[], T],
        then: Callable[[T], None] | None,
        failed: Callable[[BenchError], bool] | None,
        *,
        writes: bool,
    ) -> None:
        app = self.bench
        try:
            if writes:
                async with app.writing:
                    answer = await asyncio.to_thread(work)
                app.post_message(Written())
            else:
                answer = await asyncio.to_thread(work)
        except BenchError as error:
            if isinstance(error, FileLost):
                app.file_watch.met(error, again=writes)
            if not self.call_later(_deal_with, app, error, failed):
                show_error(app, error)
            await asyncio.to_thread(note, error, "dashboard")
        else:
            if then is not None:
                self.call_later(then, answer)


def show_error(app: App[Any], error: BenchError) -> None:
    """Show what went wrong and what to do about it, in the error's own words, never as markup.

    A lost file has a dialog of its own.
    """
    if not isinstance(error, FileLost):
        app.notify(str(error), title=error.title, severity="error", timeout=10, markup=False)


def say(app: App[Any], sentence: str) -> None:
    """Tell what was done, shortly and never as markup."""
    app.notify(sentence, timeout=4, markup=False)


def _deal_with(app: App[Any], error: BenchError, failed: Callable[[BenchError], bool] | None) -> None:
    if failed is None or not failed(error):
        show_error(app, error)
