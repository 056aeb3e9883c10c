"""A like part changed between two units: each with the cost that goes along, in one step."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.doing import say
from bench.dashboard.presenters.part_rows import swapped_words
from bench.dashboard.screens.dialogs.choose_drive import ask_which_drive
from bench.dashboard.screens.dialogs.field import MONEY, SERIAL, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.field import TAG as TAG_SCAN
from bench.dashboard.screens.dialogs.form import Form
from bench.errors import BenchError, WhichDrive

TAG = "tag_text"
TYPED = ("name", "cost_a_text", "cost_b_text", "serial_a", "serial_b", "note")


class SwapParts(Form[bool]):
    """This unit is A, the other one B. A drive moves along, its wipes with it; which one is asked."""

    send_label = "Swap"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"Swap a part of {tag} with another unit", draft=f"swap parts {unit_id}")
        self.unit_id = unit_id
        self.tag = tag
        self._drives: dict[str, int] = {}

    def fields(self) -> Sequence[Field]:
        """The other unit, the part, and what goes each way."""
        return (
            TextField(TAG, "With unit", takes=TAG_SCAN, hint="its tag"),
            TextField("name", "Part", hint="such as drive, memory"),
            NumberField("cost_a_text", "Cost it gives", like=MONEY, hint=f"out of {self.tag}"),
            TextField("serial_a", "Its serial", takes=SERIAL, hint="a drive moves by it"),
            NumberField("cost_b_text", "Cost it gets", like=MONEY, hint="out of the other unit"),
            TextField("serial_b", "The other's", takes=SERIAL, hint="serial number of the part that comes"),
            TextField("note", "Note"),
        )

    def work(self) -> Callable[[], Any]:
        """Swap."""
        desk, unit_id, tag = self.desk, self.unit_id, self.value(TAG).strip()
        typed = {name: self.value(name) for name in TYPED}
        drive_a, drive_b = self._drives.get("drive_a_id"), self._drives.get("drive_b_id")

        def swap() -> str:
            from bench.views.particulars import unit_by_tag
            from bench.work.parts import swap_parts

            other = unit_by_tag(desk, tag)
            swapped = swap_parts(desk, unit_id, other, drive_a_id=drive_a, drive_b_id=drive_b, **typed)
            return swapped_words(swapped)

        return swap

    def refused(self, error: BenchError) -> bool:
        """Which drive moves is asked over the form; then it is sent again."""
        if not isinstance(error, WhichDrive):
            return super().refused(error)

        def again(drive_id: int) -> None:
            self._drives[error.field] = drive_id
            self.action_send()

        ask_which_drive(self, error, again)
        return True

    def sent(self, result: str) -> None:
        """Say what went each way."""
        say(self.app, result)
        super().sent(result)
