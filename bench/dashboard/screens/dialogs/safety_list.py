"""The opening list before the lid comes off, the close-up list before it goes on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import PurePath
from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.parts import Part
from bench.dashboard.presenters.tick_list import (
    SCREWS_BACK,
    passed,
    screws_known,
    shown_ticks,
    still_open,
)
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.field import TextField
from bench.dashboard.screens.dialogs.tick_line import TickLine
from bench.domain.safety import (
    CAUTION_BATTERY_FIRST,
    CAUTION_CLOSE_UP,
    CLOSE_UP,
    LIST_NAMES,
    LISTS,
    OPENING,
    SafetyView,
)
from bench.domain.whole_numbers import read_whole
from bench.errors import BenchError

LOCAL_RULES = "Local codes and licensed practice come first; a tick says only that it was done."


class SafetyListDialog(Dialog[bool]):
    """Answers True only when the list is ticked through, or gone on without for a typed reason.

    `items`: those that are asked for now, such as those before the cover comes off; else all.
    """

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "safety_list.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("safety_list")
    AUTO_FOCUS = "TickLine"
    send_label = "Done"
    cancel_label = "Leave"

    def __init__(self, unit_id: int, which: str, items: Sequence[str] = ()) -> None:
        super().__init__(LIST_NAMES[which].capitalize())
        self.unit_id = unit_id
        self.which = which
        self.items = tuple(items) or tuple(LISTS[which])
        self.view: SafetyView | None = None
        label = "Screws out" if which == OPENING else "Screws back"
        self._screws = TextField("screws", label, hint="how many, counted")
        self._note = TextField("note", "Note", hint="why, where the counts differ")

    def body(self) -> Iterable[Widget]:
        """Cautions, the list, the screws."""
        caution = CAUTION_BATTERY_FIRST if self.which == OPENING else CAUTION_CLOSE_UP
        yield Static(Content(caution), id="caution")
        yield Static(Content(LOCAL_RULES), id="local")
        for number in range(1, len(LISTS[self.which]) + 1):
            yield TickLine(number)
        yield self._screws
        if self.which == CLOSE_UP:
            yield self._note
        with Horizontal(id="more"):
            yield self.button("Go on without…", "without")
            yield self.button("Bad cell…", "bad_cell", variant="error")

    def on_mount(self) -> None:
        """Read what is ticked."""
        from bench.work.unit_sheet import read_safety

        desk, unit_id = self.desk, self.unit_id
        self.do(lambda: read_safety(desk, unit_id), self._show, failed=self._unreadable)

    def work(self) -> Callable[[], Any] | None:
        """Keep the count of screws where it is new; then the list is either through or not."""
        if self.view is None:
            return None
        typed = self._screws.value.strip()
        if typed and typed != screws_known(self.view, self.which):
            items = (SCREWS_BACK,) if self.which == CLOSE_UP else ()
            return self._ticking(items)
        if passed(self.view, self.which, self.items):
            self.dismiss(result=True)
        else:
            self.say(still_open(self.view, self.which, self.items))
        return None

    def sent(self, result: SafetyView) -> None:
        """Show what is ticked now; leave when that was the last of it."""
        self._sending = False
        self._show(result)
        if passed(result, self.which, self.items):
            self.dismiss(result=True)

    def action_tick_here(self) -> None:
        """Tick the line under the cursor, or take the tick off."""
        if isinstance(self.focused, TickLine):
            self._toggle(self.focused.number)

    def action_without(self) -> None:
        """Go on without the list, with a typed reason."""
        from bench.dashboard.screens.dialogs.reason import ReasonDialog

        title = f"Go on without the {LIST_NAMES[self.which]}"
        self.app.push_screen(ReasonDialog(title, "Why"), self._go_on_without)

    def action_bad_cell(self) -> None:
        """Report a swollen, punctured or wet cell: the list is closed then."""
        from bench.dashboard.screens.dialogs.cell import CellDialog

        def reported(bad: bool | None) -> None:
            if bad:
                self.dismiss(None)

        self.app.push_screen(CellDialog(self.unit_id), reported)

    @on(TickLine.Clicked)
    def _clicked(self, event: TickLine.Clicked) -> None:
        self._toggle(event.number)

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_send()

    def _toggle(self, number: int) -> None:
        if self.view is None:
            return
        line = shown_ticks(self.view, self.which)[number - 1]
        if not line.ticked:
            self._tick([line.item])
            return
        desk, unit_id, which = self.desk, self.unit_id, self.which

        def work() -> SafetyView:
            from bench.work.safety import untick

            return untick(desk, unit_id, which, line.item)

        self.change(work, self._show, failed=self.refused)

    def _tick(self, items: Sequence[str]) -> None:
        if SCREWS_BACK in items and not self._screws.value.strip():
            self.say("Type how many screws went back in, then Enter.")
            self._screws.take_focus()
            return
        self.say("")
        self.change(self._ticking(items), self._show, failed=self.refused)

    def _ticking(self, items: Sequence[str]) -> Callable[[], SafetyView]:
        desk, unit_id, which = self.desk, self.unit_id, self.which
        typed, note = self._screws.value.strip(), self._note.value if which == CLOSE_UP else ""
        known = screws_known(self.view, which) if self.view is not None else ""

        def work() -> SafetyView:
            from bench.work.safety import tick

            counted = typed if which == CLOSE_UP or typed != known else ""
            screws = read_whole(counted, "The number of screws", 0, 999) if counted else None
            return tick(desk, unit_id, which, items, screws=screws, note=note)

        return work

    def _go_on_without(self, reason: str | None) -> None:
        if reason is None:
            return
        desk, unit_id, which = self.desk, self.unit_id, self.which

        def work() -> SafetyView:
            from bench.work.safety import go_on_without

            return go_on_without(desk, unit_id, which, reason)

        self.change(work, self.sent, failed=self.refused)

    def _show(self, view: SafetyView) -> None:
        self.view = view
        for line, tick in zip(self.query(TickLine), shown_ticks(view, self.which), strict=True):
            line.show(tick)
        known = screws_known(view, self.which)
        if known and not self._screws.changed:
            self._screws.start(known)
        self.query_one("#heading", Static).update(
            Content(f"{LIST_NAMES[self.which].capitalize()} of {view.tag}")
        )
        if self.which == CLOSE_UP and view.screws_out is not None:
            self._screws.tell(Part(f"{view.screws_out} came out", "muted"))

    def _unreadable(self, _error: BenchError) -> bool:
        self.dismiss(None)
        return False
