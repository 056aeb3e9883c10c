"""A drive recorded, or its particulars set right: what stands on its label."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.drive_rows import drive_values
from bench.dashboard.screens.dialogs.field import AMOUNT, SERIAL, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.views.drives import DriveLine

TYPED = ("maker", "model", "serial", "media_type", "media_number", "size_text", "came_from")


class DriveForm(Form[bool]):
    """Asks for a drive's particulars; without `drive` it is new."""

    def __init__(self, unit_id: int, drive: DriveLine | None = None) -> None:
        super().__init__(
            "New drive" if drive is None else f"Drive {drive.name}",
            draft=f"drive new {unit_id}" if drive is None else f"drive {drive.drive_id}",
        )
        self.unit_id = unit_id
        self.drive = drive

    def fields(self) -> Sequence[Field]:
        """All that is kept of a drive."""
        return (
            TextField("maker", "Maker"),
            TextField("model", "Model"),
            TextField("serial", "Serial number", takes=SERIAL),
            TextField("media_type", "Media type", hint="such as NVMe drive, SATA drive, hard disk"),
            NumberField("size_text", "Size", like=AMOUNT, hint="in GB, such as 256"),
            TextField("media_number", "Media number", hint="the shop's own, if it has one"),
            TextField("came_from", "Came from", hint="empty: this unit"),
        )

    def begin(self, facts: None) -> None:
        """Show the drive as it is."""
        del facts
        if self.drive is not None:
            for name, value in drive_values(self.drive).items():
                self.field(name).start(value)

    def work(self) -> Callable[[], Any]:
        """Record the drive, or set it right."""
        desk, unit_id, drive = self.desk, self.unit_id, self.drive
        typed = {name: self.value(name) for name in TYPED}

        def keep() -> object:
            from bench.work.drives import add_drive, edit_drive

            if drive is None:
                return add_drive(desk, unit_id, **typed)
            edit_drive(desk, drive.drive_id, **typed)
            return drive.drive_id

        return keep
