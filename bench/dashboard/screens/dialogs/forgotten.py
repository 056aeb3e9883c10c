"""Timers that have run past the shop's limit, one after the other: keep, stop at a typed time, or drop."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.entry_lines import still_running_words
from bench.dashboard.screens.dialogs.field import MOMENT, Field, NumberField
from bench.dashboard.screens.dialogs.form import Form
from bench.views.timers import Running


class ForgottenDialog(Form[bool]):
    """Asks about each forgotten timer; leaving asks again later."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("forgotten")
    send_label = "Stop then"
    send_action = "enter"
    cancel_label = "Later"

    def __init__(self) -> None:
        super().__init__("Is this still running?", draft="forgotten")
        self.timers: tuple[Running, ...] = ()
        self.zone = "UTC"
        self._written = False

    def body(self) -> Iterable[Widget]:
        """The timer asked about, and when it should have stopped."""
        yield Static(id="timer", markup=False)
        yield from super().body()

    def fields(self) -> Sequence[Field]:
        """The time of the stop."""
        return (NumberField("time_text", "Stopped at", like=MOMENT, hint="14:30, yesterday 18:05 or 90 min"),)

    def buttons(self) -> Iterable[Button]:
        """The three ways, and later."""
        yield self.button("Keep", "keep")
        yield self.button("Drop", "drop", variant="warning")
        yield from super().buttons()

    def read(self) -> tuple[tuple[Running, ...], str]:
        """The forgotten timers, and the shop's zone."""
        from bench.views.shop import read_shop
        from bench.views.timers import read_forgotten

        return read_forgotten(self.desk), read_shop(self.desk).zone

    def typed_before(self, facts: tuple[tuple[Running, ...], str]) -> dict[str, str]:
        """What was typed for the first of them."""
        if facts[0]:
            self.draft = f"forgotten {facts[0][0].entry_id}"
        return super().typed_before(facts)

    def begin(self, facts: tuple[tuple[Running, ...], str]) -> None:
        """Ask about the first; leave when there is none."""
        self._sending = False
        self.timers, self.zone = facts
        if not self.timers:
            self.dismiss(self._written or None)
            return
        more = f"  (1 of {len(self.timers)})" if len(self.timers) > 1 else ""
        self.query_one("#heading", Static).update(Content(f"Is this still running?{more}"))
        words = still_running_words(self.timers[0], self.desk.clock.now_us(), self.zone)
        self.query_one("#timer", Static).update(Content(words))
        self.field("time_text").put("")

    def work(self) -> Callable[[], Any] | None:
        """Stop the timer at the time typed."""
        if not self.timers:
            return None
        desk, entry_id, time_text = self.desk, self.timers[0].entry_id, self.value("time_text")

        def stop() -> object:
            from bench.work.forgotten import stop_at

            return stop_at(desk, entry_id, time_text)

        return stop

    def action_keep(self) -> None:
        """Let it run on; the limit counts anew from now."""
        from bench.work.forgotten import keep_running

        self._deal(keep_running)

    def action_drop(self) -> None:
        """Drop it as if it had not been started."""
        from bench.work.forgotten import drop_entry

        self._deal(drop_entry)

    def action_cancel(self) -> None:
        """Leave the rest for later."""
        self.keep_or_drop()
        self.dismiss(self._written or None)

    def sent(self, _result: Any) -> None:
        """Go on to the next timer."""
        self._written = True
        self.drop()
        self.begin_anew()

    def _deal(self, use_case: Callable[..., Any]) -> None:
        if self._sending or not self.timers:
            return
        self._sending = True
        desk, entry_id = self.desk, self.timers[0].entry_id
        self.change(lambda: use_case(desk, entry_id), self.sent, failed=self._refused)
