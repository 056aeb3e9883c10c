"""The opening checklist before the cover comes off, the closing checklist before it goes on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar

from textual import events, on
from textual.binding import BindingType
from textual.content import Content
from textual.message import Message
from textual.widget import Widget

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.model_page_rows import opening_lines
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.safety_lines import (
    SCREWS_BACK,
    TickShown,
    passed,
    screws_known,
    shown_ticks,
    still_open,
)
from bench.dashboard.screens.dialogs.asking import ask_why
from bench.dashboard.screens.dialogs.choice_fields import OPEN, TICKED
from bench.dashboard.screens.dialogs.described import FormOf
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.text_fields import WHOLE, NumberField, TextField
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.steady import SideBySide, Words
from bench.domain.model_page import ModelPageSheet
from bench.domain.safety import CAUTION_BATTERY_FIRST, CAUTION_CLOSING, CLOSING, LIST_NAMES, LISTS, OPENING
from bench.domain.text import for_display
from bench.domain.typed import read_field, read_whole
from bench.views.model_page import read_written_page
from bench.views.safety import SafetyView, read_safety

LOCAL_RULES = "Local codes and licensed practice come first; a tick says only that it was done."


class TickLine(Words, can_focus=True):
    """A tick and its words."""

    class Clicked(Message):
        """Someone clicked the line."""

        def __init__(self, number: int) -> None:
            self.number = number
            super().__init__()

    def __init__(self, number: int) -> None:
        super().__init__(markup=False)
        self.number = number

    def show(self, tick: TickShown) -> None:
        """Show the line as it is now."""
        mark = TICKED if tick.ticked else OPEN
        self.update(Content(f"{mark} {for_display(tick.words)}"))
        self.set_class(tick.ticked, "ticked")

    def on_click(self, event: events.Click) -> None:
        """Tick it, or take the tick off."""
        event.stop()
        self.post_message(self.Clicked(self.number))


class SafetyListDialog(Form[bool]):
    """Answers True only when the list is ticked through, or gone on without for a typed reason.

    `items`: those that are asked for now, such as those before the cover comes off; else all.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("safety_list")
    AUTO_FOCUS = "TickLine"
    cancel_label = "Leave"

    def __init__(self, unit_id: int, which: str, items: Sequence[str] = ()) -> None:
        screws = NumberField(
            "screws",
            "Screws out" if which == OPENING else "Screws back",
            like=WHOLE,
            hint="how many, counted",
        )
        note = TextField("note", "Note", hint="why, where the counts differ")
        super().__init__(
            FormOf(
                heading=LIST_NAMES[which].capitalize(),
                draft=f"{which} list {unit_id}",
                fields=(screws,) if which == OPENING else (screws, note),
                send="Done",
                reads=lambda desk: (read_safety(desk, unit_id), read_written_page(desk, unit_id)),
            )
        )
        self.unit_id = unit_id
        self.which = which
        self.items = tuple(items) or tuple(LISTS[which])
        self.view: SafetyView | None = None

    def body(self) -> Iterable[Widget]:
        """Cautions, the list, the screws."""
        caution = CAUTION_BATTERY_FIRST if self.which == OPENING else CAUTION_CLOSING
        yield Words(Content(caution), id="caution")
        yield Words(Content(LOCAL_RULES), id="local")
        yield LinesPanel(id="page")
        for number in range(1, len(LISTS[self.which]) + 1):
            yield TickLine(number)
        yield from super().body()
        with SideBySide(id="more"):
            yield self.button("Go on without…", "without")
            yield self.button("Bad cell…", "bad_cell", variant="error")

    def begin(self, facts: tuple[SafetyView, ModelPageSheet | None]) -> None:
        """Show what is ticked now, the screws that are counted already, and those of its model."""
        view, page = facts
        self._show_ticks(view)
        panel = self.query_one("#page", LinesPanel)
        panel.display = page is not None and bool(page.screws or page.traps)
        panel.show(lambda width: opening_lines(page, width))

    def _show_ticks(self, facts: SafetyView) -> None:
        self.view = facts
        for line, tick in zip(self.query(TickLine), shown_ticks(facts, self.which), strict=True):
            line.show(tick)
        self.field("screws").start(screws_known(facts, self.which))
        self.tell("heading", f"{LIST_NAMES[self.which].capitalize()} of {facts.tag}")
        if self.which == CLOSING and facts.screws_out is not None:
            self.field("screws").tell(Part(f"{facts.screws_out} came out", "muted"))

    def work(self) -> Callable[[], Any] | None:
        """Keep the count of screws where it is new; then the list is either through or not."""
        if self.view is None:
            return None
        typed = self.value("screws").strip()
        if typed and typed != screws_known(self.view, self.which):
            items = (SCREWS_BACK,) if self.which == CLOSING else ()
            return self._ticking(items)
        if passed(self.view, self.which, self.items):
            self._leave()
        else:
            self.say(still_open(self.view, self.which, self.items))
        return None

    def action_enter(self) -> None:
        """One Enter says done, wherever the cursor is."""
        self.action_send()

    def sent(self, result: SafetyView) -> None:
        """Show what is ticked now; leave when that was the last of it."""
        self._sending = False
        self._ticked(result)
        if passed(result, self.which, self.items):
            self._leave()

    def action_tick_here(self) -> None:
        """Tick the line under the cursor, or take the tick off."""
        if isinstance(self.focused, TickLine):
            self._toggle(self.focused.number)

    def action_without(self) -> None:
        """Go on without the list, with a typed reason."""
        title = f"Go on without the {LIST_NAMES[self.which]}"
        ask_why(self, title, "Why", f"without {self.draft}", self._go_on_without)

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

    def _leave(self) -> None:
        self.drop()
        self.dismiss(result=True)

    def _toggle(self, number: int) -> None:
        if self.view is None:
            return
        line = shown_ticks(self.view, self.which)[number - 1]
        if not line.ticked:
            self._tick([line.item])
            return
        desk, unit_id, which = self.desk, self.unit_id, self.which
        self.change(
            lambda: use_cases.safety.untick(desk, unit_id, which, line.item),
            self._show_ticks,
            failed=self.refused,
        )

    def _tick(self, items: Sequence[str]) -> None:
        if SCREWS_BACK in items and not self.value("screws").strip():
            self.say("Type how many screws went back in, then Enter.")
            self.field("screws").take_focus()
            return
        self.say("")
        self.change(self._ticking(items), self._ticked, failed=self.refused)

    def _ticking(self, items: Sequence[str]) -> Callable[[], SafetyView]:
        desk, unit_id, which = self.desk, self.unit_id, self.which
        typed, note = self.value("screws").strip(), self.value("note") if which == CLOSING else ""
        known = screws_known(self.view, which) if self.view is not None else ""

        def count_and_tick() -> SafetyView:
            counted = typed if which == CLOSING or typed != known else ""
            screws = None
            if counted:
                screws = read_field("screws", read_whole, counted, "The number of screws", 0, 999)
            return use_cases.safety.tick(desk, unit_id, which, items, screws=screws, note=note)

        return count_and_tick

    def _go_on_without(self, reason: str) -> None:
        desk, unit_id, which = self.desk, self.unit_id, self.which
        self.change(
            lambda: use_cases.safety.go_on_without(desk, unit_id, which, reason),
            self.sent,
            failed=self.refused,
        )

    def _ticked(self, view: SafetyView) -> None:
        if self.which == CLOSING:  # every tick carries the note that stood there
            self.field("note").started_as = self.value("note")
        self._show_ticks(view)
        self._keep()
