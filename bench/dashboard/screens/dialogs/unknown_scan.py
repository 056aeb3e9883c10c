"""A scan that nothing here bears: what was not known, and the unit or consumable it may be taken in as."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.domain.text import for_display
from bench.views.scans import Found


class UnknownScan(Dialog[None]):
    """Says what was not known and offers to take it in. Another scan takes this one's place."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("unknown_scan")
    AUTO_FOCUS = "#do-cancel"

    def __init__(self, found: Found) -> None:
        super().__init__(f"Scanned {for_display(found.text)}")
        self.found = found

    def body(self) -> Iterable[Widget]:
        """What was not known."""
        yield Static(Content(self.found.says), id="known", markup=False)

    def buttons(self) -> Iterable[Button]:
        """What it may be."""
        if self.found.new_serial:
            yield self.button("Take in a unit", "take_in")
        yield self.button("New consumable", "new_consumable")
        yield self.button(self.cancel_label, "cancel")

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written here."""
        return None

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
        from bench.dashboard.screens.dialogs.unit_form import UnitForm

        bench, serial = self.bench, self.found.text

        def taken_in(unit_id: int | None) -> None:
            if unit_id is not None:
                bench.go_to_scanned(serial)

        self.dismiss(None)
        bench.push_screen(UnitForm(serial=serial), taken_in)

    def action_new_consumable(self) -> None:
        """A new consumable with this code."""
        from bench.dashboard.screens.dialogs.consumable_form import ConsumableForm

        bench, code = self.bench, self.found.text
        self.dismiss(None)
        bench.push_screen(ConsumableForm(code=code))
