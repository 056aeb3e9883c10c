"""Short questions: why, whether to empty a form, what an unknown scan is, what is wanting before listing."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.choice_fields import MarkField
from bench.dashboard.screens.dialogs.described import Filled, FormOf
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.dashboard.widgets.steady import Words
from bench.domain.holding import NO_DRIVE
from bench.domain.text import clean_line, for_display, quoted
from bench.errors import BadInput, ListingFirst
from bench.views.scans import Found


class ReasonDialog(Form[str]):
    """Asks one question and answers what was typed; whoever asked does what follows."""

    def __init__(self, title: str, question: str, *, draft: str) -> None:
        fields = (TextField("reason", question),)
        super().__init__(FormOf(heading=title, draft=draft, fields=fields, send="Go on", enter=True))

    def work(self) -> None:
        """Nothing is written here; an empty reason is not taken."""
        reason = clean_line(self.value("reason"), "The reason")
        self.tell_what_was_typed()
        self.drop()
        self.dismiss(reason)


class AskEmpty(Dialog[bool]):
    """Asked before a form is emptied: answers True where what was typed may be gone."""

    AUTO_FOCUS = "#do-cancel"
    send_label = "Empty it"

    def __init__(self, form: str) -> None:
        super().__init__("Empty the form?")
        self.form = form

    def body(self) -> Iterable[Widget]:
        """What would be gone."""
        yield Words(Content(f"What you typed into {quoted(self.form)} would be gone."), id="known")

    def work(self) -> None:
        """Nothing is written here."""
        self.dismiss(result=True)


class BeforeListing(Form[bool]):
    """What is wanting before listing or selling: that no drive is in it, why it goes on without the rest.

    Answers True once it was answered for; whoever asked tries again.
    """

    def __init__(self, error: ListingFirst) -> None:
        self.unit_id = unit_id = error.unit_id
        self.asks_drive = NO_DRIVE in error.matters
        looked = [MarkField("looked", "", "I looked: no drive is in it")] if self.asks_drive else []
        asks_reason = any(one != NO_DRIVE for one in error.matters)
        reason = [TextField("reason", "Reason", hint="why it goes on without")] if asks_reason else []

        def go_on(filled: Filled) -> None:
            if not asks_reason:
                use_cases.waivers.no_drive_in_it(filled.desk, unit_id)
            else:
                use_cases.waivers.list_without(filled.desk, unit_id, **filled.typed)

        super().__init__(
            FormOf(
                heading=error.title,
                draft=f"before listing {unit_id}",
                above=str(error),
                fields=(*looked, *reason),
                send="Go on",
                enter=True,
                does=go_on,
            )
        )

    def buttons(self) -> Iterable[Button]:
        """Going on; recording the drive where that is asked; leaving it."""
        yield self.button(self.send_label, self.send_action, variant="primary")
        if self.asks_drive:
            yield self.button("Record the drive", "record_drive")
        yield self.button(self.cancel_label, "cancel")

    def action_send(self) -> None:
        """Somebody must have looked, where that is asked."""
        if self.asks_drive and not self.field("looked").given:
            what = "Nobody said yet whether a drive is in it."
            self.refused(BadInput(what, "Look, and mark that none is, or record the drive.", field="looked"))
        else:
            super().action_send()

    def action_record_drive(self) -> None:
        """Record the drive that is in it; then whoever asked tries again."""
        from bench.dashboard.screens.dialogs.drive_forms import drive_form

        def recorded(done: bool | None) -> None:
            if done:
                self.dismiss(done)

        self.app.push_screen(drive_form(self.unit_id), recorded)


class UnknownScan(Dialog[None]):
    """A scan that nothing here bears: says what was not known and offers to take it in as what it may be.

    Another scan takes this one's place.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("unknown_scan")
    AUTO_FOCUS = "#do-cancel"

    def __init__(self, found: Found) -> None:
        super().__init__(f"Scanned {for_display(found.text)}")
        self.found = found

    def body(self) -> Iterable[Widget]:
        """What was not known."""
        yield Words(Content(self.found.says), id="known", markup=False)

    def buttons(self) -> Iterable[Button]:
        """What it may be."""
        if self.found.new_serial:
            yield self.button("Take in a unit", "take_in")
        yield self.button("New consumable", "new_consumable")
        yield self.button(self.cancel_label, "cancel")

    def work(self) -> None:
        """Nothing is written here."""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What cannot be a serial number is not taken in as a unit."""
        if action == "take_in":
            return self.found.new_serial
        return super().check_action(action, parameters)

    def scanned(self, found: Found) -> bool:
        """Let go of this one: the app goes to the next."""
        del found
        self.dismiss(None)
        return False

    def action_take_in(self) -> None:
        """A new unit with this serial number."""
        from bench.dashboard.screens.dialogs.unit_forms import unit_form

        bench, serial = self.bench, self.found.text

        def taken_in(unit_id: int | None) -> None:
            if unit_id is not None:
                bench.go_to_scanned(serial)

        self.dismiss(None)
        bench.push_screen(unit_form(serial=serial), taken_in)

    def action_new_consumable(self) -> None:
        """A new consumable with this code."""
        from bench.dashboard.screens.dialogs.stock_forms import consumable_form

        bench, code = self.bench, self.found.text
        self.dismiss(None)
        bench.push_screen(consumable_form(code=code))
