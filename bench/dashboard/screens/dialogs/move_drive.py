"""A drive put into another unit, or on the shelf; its wipes go along."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.screens.dialogs.field import TAG as TAG_SCAN
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.wipe import DriveLine

TAG = "tag_text"


class MoveDrive(Form[bool]):
    """Asks for the other unit's tag; nothing typed is the shelf."""

    send_label = "Move it"
    send_action = "enter"

    def __init__(self, drive: DriveLine) -> None:
        super().__init__(f"Move {drive.name}")
        self.drive_id = drive.drive_id

    def fields(self) -> Sequence[Field]:
        """One field."""
        return (TextField(TAG, "Into unit", takes=TAG_SCAN, hint="its tag; empty: on the shelf"),)

    def work(self) -> Callable[[], Any]:
        """Move it."""
        desk, drive_id, tag = self.desk, self.drive_id, self.value(TAG).strip()

        def move() -> bool:
            from bench.work.drives import move_drive
            from bench.work.unit_sheet import unit_by_tag

            move_drive(desk, drive_id, unit_by_tag(desk, tag) if tag else None)
            return True

        return move
