"""Setting a unit aside where it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form


class HoldDialog(Form[bool]):
    """Asks why the unit is held; its hands-on timers stop, unattended ones run on."""

    send_label = "Hold"
    send_action = "enter"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"Hold {tag}", draft=f"hold {unit_id}")
        self.unit_id = unit_id

    def fields(self) -> Sequence[Field]:
        """The reason."""
        return (TextField("reason", "Reason", hint="such as: waits for a part"),)

    def work(self) -> Callable[[], Any]:
        """Hold the unit."""
        desk, unit_id, reason = self.desk, self.unit_id, self.value("reason")

        def hold() -> None:
            from bench.work.moves import hold_unit

            hold_unit(desk, unit_id, reason)

        return hold
