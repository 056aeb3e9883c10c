"""A time entry set right: other times, with a reason; earlier values stay to be seen."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.entry_lines import correction_words, entry_words, typed_time
from bench.dashboard.screens.dialogs.field import MOMENT, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.text import for_display
from bench.views.entries import CorrectionLine, EntryLine

Facts = tuple[EntryLine, tuple[CorrectionLine, ...], str]


class CorrectEntry(Form[bool]):
    """Shows one time entry and what was corrected in it before."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("correct_entry")

    def __init__(self, entry_id: int) -> None:
        super().__init__("Correct a time entry", draft=f"correct_entry {entry_id}")
        self.entry_id = entry_id

    def body(self) -> Iterable[Widget]:
        """What it is about, the fields, the earlier values."""
        yield Static(id="entry", markup=False)
        yield from super().body()
        yield Static(id="known", markup=False)

    def fields(self) -> Sequence[Field]:
        """The two ends and the reason."""
        return (
            NumberField("start_text", "Start", like=MOMENT, hint="empty: as it is"),
            NumberField("stop_text", "Stop", like=MOMENT, hint="14:30, or +90 for that long after the start"),
            TextField("reason", "Reason"),
        )

    def buttons(self) -> Iterable[Button]:
        """A wrong entry can be removed too."""
        yield self.button("Remove", "remove", variant="warning")
        yield from super().buttons()

    def read(self) -> Facts:
        """The entry, its corrections, the shop's zone."""
        from bench.views.entries import read_entry
        from bench.views.shop import read_shop

        return (*read_entry(self.desk, self.entry_id), read_shop(self.desk).zone)

    def begin(self, facts: Facts) -> None:
        """Show the entry as it is."""
        entry, corrections, zone = facts
        self.query_one("#entry", Static).update(Content(_shown(entry_words(entry, zone))))
        self.field("start_text").start(typed_time(entry.started_us, zone))
        self.field("stop_text").start(typed_time(entry.stopped_us, zone))
        lines = [for_display(correction_words(line, zone)) for line in corrections]
        self.query_one("#known", Static).update(Content("\n".join(lines)))

    def work(self) -> Callable[[], Any]:
        """Correct the entry."""
        desk, entry_id = self.desk, self.entry_id
        start_text, stop_text, reason = (self.value(one) for one in ("start_text", "stop_text", "reason"))

        def correct() -> object:
            from bench.work.corrections import correct_entry

            return correct_entry(desk, entry_id, start_text=start_text, stop_text=stop_text, reason=reason)

        return correct

    def action_remove(self) -> None:
        """Remove the entry, for the reason typed."""
        if self._sending:
            return
        self._sending = True
        desk, entry_id, reason = self.desk, self.entry_id, self.value("reason")

        def work() -> None:
            from bench.work.corrections import remove_entry

            remove_entry(desk, entry_id, reason)

        self.change(work, self.sent, failed=self._refused)


def _shown(lines: str) -> str:
    return "\n".join(for_display(line) for line in lines.split("\n"))
