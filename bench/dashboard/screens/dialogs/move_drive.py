"""A drive put into another unit, or on the shelf; its wipes go along."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.field import MONEY, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.field import TAG as TAG_SCAN
from bench.dashboard.screens.dialogs.form import Form
from bench.views.drives import DriveLine

TAG, COST = "tag_text", "cost_text"


class MoveDrive(Form[bool]):
    """Asks for the other unit's tag, nothing typed is the shelf, and for the cost that goes along."""

    send_label = "Move it"

    def __init__(self, drive: DriveLine) -> None:
        super().__init__(f"Move {drive.name}", draft=f"move drive {drive.drive_id}")
        self.drive_id = drive.drive_id

    def fields(self) -> Sequence[Field]:
        """Where it goes, and what it carries."""
        return (
            TextField(TAG, "Into unit", takes=TAG_SCAN, hint="its tag; empty: on the shelf"),
            NumberField(COST, "Cost", like=MONEY, hint="what goes along; 0 for none; from the shelf: empty"),
        )

    def work(self) -> Callable[[], Any]:
        """Move it."""
        desk, drive_id, tag = self.desk, self.drive_id, self.value(TAG).strip()
        cost = self.value(COST)

        def move() -> bool:
            from bench.views.particulars import unit_by_tag
            from bench.work.drive_moves import move_drive

            move_drive(desk, drive_id, unit_by_tag(desk, tag) if tag else None, cost_text=cost)
            return True

        return move
