"""What is wanting before a unit is listed or sold: say why it goes on without, or that no drive is in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.doing import Doing
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.domain.holding import NO_DRIVE
from bench.errors import BadInput, ListingFirst

LOOKED, REASON = "looked", "reason"


class BeforeListing(Form[bool]):
    """Answers True once it was answered for; whoever asked tries again."""

    send_label = "Go on"
    send_action = "enter"

    def __init__(self, error: ListingFirst) -> None:
        super().__init__(error.title, draft=f"before listing {error.unit_id}")
        self.error = error
        self.unit_id = error.unit_id

    def fields(self) -> Sequence[Field]:
        """That no drive is in it, and the reason for going on without the rest: as far as they are asked."""
        looked = [MarkField(LOOKED, "", "I looked: no drive is in it")] if self._asks_drive else []
        reason = [TextField(REASON, "Reason", hint="why it goes on without")] if self._asks_reason else []
        return (*looked, *reason)

    def body(self) -> Iterable[Widget]:
        """The sentence of what is wanting, then the fields."""
        yield Static(Content(str(self.error)), markup=False)
        yield from super().body()

    def buttons(self) -> Iterable[Button]:
        """Going on; recording the drive where that is asked; leaving it."""
        yield self.button(self.send_label, self.send_action, variant="primary")
        if self._asks_drive:
            yield self.button("Record the drive", "record_drive")
        yield self.button(self.cancel_label, "cancel")

    def action_record_drive(self) -> None:
        """Record the drive that is in it; then whoever asked tries again."""
        from bench.dashboard.screens.dialogs.drive_form import DriveForm

        def recorded(done: bool | None) -> None:
            if done:
                self.dismiss(done)

        self.app.push_screen(DriveForm(self.unit_id), recorded)

    def work(self) -> Callable[[], Any]:
        """Keep what was said."""
        desk, unit_id = self.desk, self.unit_id
        looked = self._asks_drive and self.value(LOOKED) == YES
        reason = self.value(REASON) if self._asks_reason else ""
        if self._asks_drive and not looked:
            raise BadInput(
                "Nobody said yet whether a drive is in it.",
                "Look, and mark that none is, or record the drive.",
                field=LOOKED,
            )

        asks_reason = self._asks_reason

        def go_on() -> tuple[str, ...]:
            from bench.work.waivers import list_without, no_drive_in_it

            if not asks_reason:
                no_drive_in_it(desk, unit_id)
                return ()
            return list_without(desk, unit_id, reason, looked=looked)

        return go_on

    @property
    def _asks_drive(self) -> bool:
        return NO_DRIVE in self.error.matters

    @property
    def _asks_reason(self) -> bool:
        return any(one != NO_DRIVE for one in self.error.matters)


def ask_before_listing(screen: Doing, error: ListingFirst, again: Callable[[], None]) -> None:
    """Ask over the screen; once it is answered for, try again."""

    def answered(done: bool | None) -> None:
        if done:
            again()

    screen.app.push_screen(BeforeListing(error), answered)
