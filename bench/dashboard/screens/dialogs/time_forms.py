"""The forms of time: added where it was not timed, corrected, and asked about where a timer was forgotten."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.widgets import Button

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.entry_lines import (
    correction_words,
    entry_words,
    still_running_words,
    typed_time,
)
from bench.dashboard.screens.dialogs.described import Begun, FormOf
from bench.dashboard.screens.dialogs.form import Form, form
from bench.dashboard.screens.dialogs.text_fields import MOMENT, NumberField, TextField
from bench.desk import Desk
from bench.domain.text import for_display
from bench.views.entries import CorrectionLine, EntryLine, read_entry
from bench.views.kinds import Context, on_screen
from bench.views.shop import read_shop
from bench.views.timers import Running, read_forgotten

ENDS_AT = "14:30, or +90 for that long after the start"


@form
def add_entry_form(task_id: int, task: str) -> FormOf[bool]:
    """Time on one task for the person who acts: from when to when, and why it was not timed."""
    return FormOf(
        heading=f"Add time to {task}",
        draft=f"add_entry {task_id}",
        fields=(
            NumberField("start_text", "Start", like=MOMENT, hint="9:15, yesterday 18:05 or 2026-11-24 18:05"),
            NumberField("stop_text", "Stop", like=MOMENT, hint=ENDS_AT),
            TextField("reason", "Reason"),
        ),
        does=lambda filled: use_cases.corrections.add_entry(filled.desk, task_id, **filled.typed),
    )


EntryFacts = tuple[EntryLine, tuple[CorrectionLine, ...], Context]


class CorrectEntry(Form[bool]):
    """A time entry corrected or removed, with a reason; its earlier values stay to be seen."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("correct_entry")

    def __init__(self, entry_id: int) -> None:
        def read(desk: Desk) -> EntryFacts:
            return (*read_entry(desk, entry_id), on_screen(read_shop(desk), desk.clock.now_us()))

        self.entry_id = entry_id
        super().__init__(
            FormOf(
                heading="Correct a time entry",
                draft=f"correct_entry {entry_id}",
                fields=(
                    NumberField("start_text", "Start", like=MOMENT, hint="empty: as it is"),
                    NumberField("stop_text", "Stop", like=MOMENT, hint=ENDS_AT),
                    TextField("reason", "Reason"),
                ),
                above="",
                known="",
                reads=read,
                begins=_begin_correcting,
                does=lambda filled: use_cases.corrections.correct_entry(
                    filled.desk, entry_id, **filled.typed
                ),
            )
        )

    def begin(self, facts: tuple[EntryLine, tuple[CorrectionLine, ...], str]) -> None:
        """Begin with the stop of one that has ended: that is what is mostly wrong."""
        super().begin(facts)
        if facts[0].stopped_us is not None:
            self.field("stop_text").take_focus()

    def buttons(self) -> Iterable[Button]:
        """A wrong entry can be removed too."""
        yield self.button("Remove", "remove", variant="warning")
        yield from super().buttons()

    def action_remove(self) -> None:
        """Remove the entry, for the reason typed."""
        desk, entry_id, reason = self.desk, self.entry_id, self.value("reason")
        self.send(lambda: use_cases.corrections.remove_entry(desk, entry_id, reason))


def _begin_correcting(facts: EntryFacts) -> Begun:
    entry, corrections, context = facts
    shown = [for_display(line) for line in entry_words(entry, context).split("\n")]
    return Begun(
        above="\n".join(shown),
        values={
            "start_text": typed_time(entry.started_us, context.zone),
            "stop_text": typed_time(entry.stopped_us, context.zone),
        },
        known="\n".join(for_display(correction_words(line, context)) for line in corrections),
    )


class ForgottenDialog(Form[bool]):
    """Timers that have run past the shop's limit, one after the other: keep, stop at a typed time, or drop.

    Leaving asks again later.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("forgotten")
    cancel_label = "Later"

    def __init__(self) -> None:
        super().__init__(
            FormOf(
                heading="Is this still running?",
                draft="forgotten",
                above="",
                fields=(
                    NumberField(
                        "time_text", "Stopped at", like=MOMENT, hint="14:30, yesterday 18:05 or 90 min"
                    ),
                ),
                send="Stop then",
                enter=True,
                reads=_read_forgotten,
                does=lambda filled: use_cases.forgotten.stop_at(
                    filled.desk, filled.facts[0][0].entry_id, **filled.typed
                ),
            )
        )
        self._written = False

    def buttons(self) -> Iterable[Button]:
        """The three ways, and later."""
        yield self.button("Keep", "keep")
        yield self.button("Drop", "drop", variant="warning")
        yield from super().buttons()

    @property
    def timers(self) -> tuple[Running, ...]:
        """Those that are still to be asked about."""
        return self.facts[0] if self.facts is not None else ()

    def typed_before(self, facts: tuple[tuple[Running, ...], str]) -> dict[str, str]:
        """What was typed for the first of them."""
        if facts[0]:
            self.draft = f"forgotten {facts[0][0].entry_id}"
        return super().typed_before(facts)

    def begin(self, facts: tuple[tuple[Running, ...], str]) -> None:
        """Ask about the first; leave when there is none."""
        self._sending = False
        timers, zone = facts
        if not timers:
            self.dismiss(self._written or None)
            return
        more = f"  (1 of {len(timers)})" if len(timers) > 1 else ""
        self.tell("heading", f"Is this still running?{more}")
        context = Context(zone=zone, now_us=self.desk.clock.now_us(), screen=True)
        self.tell("above", still_running_words(timers[0], context))
        self.field("time_text").put("")

    def work(self) -> Callable[[], Any] | None:
        """Stop the timer at the time typed."""
        return super().work() if self.timers else None

    def action_keep(self) -> None:
        """Let it run on; the limit counts again from now."""
        self._deal(lambda desk, entry_id: use_cases.forgotten.keep_running(desk, entry_id))

    def action_drop(self) -> None:
        """Drop it as if it had not been started."""
        self._deal(lambda desk, entry_id: use_cases.forgotten.drop_entry(desk, entry_id))

    def action_cancel(self) -> None:
        """Leave the rest for later."""
        self.keep_or_drop()
        self.dismiss(self._written or None)

    def sent(self, result: Any) -> None:
        """Go on to the next timer."""
        del result
        self._written = True
        self.drop()
        self.begin_anew()

    def _deal(self, use_case: Callable[[Desk, int], object]) -> None:
        if self.timers:
            desk, entry_id = self.desk, self.timers[0].entry_id
            self.send(lambda: use_case(desk, entry_id))


def _read_forgotten(desk: Desk) -> tuple[tuple[Running, ...], str]:
    return read_forgotten(desk), read_shop(desk).zone
