"""A bought part fitted, or the particulars of a part set right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.doing import say
from bench.dashboard.presenters.drive_choices import shelf_drives
from bench.dashboard.presenters.part_rows import moved_words, part_values
from bench.dashboard.screens.dialogs.ask_twice import AsksTwice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.choose_drive import ask_which_drive
from bench.dashboard.screens.dialogs.field import MONEY, SERIAL, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.errors import BenchError, WhichDrive
from bench.views.drives import DriveSheet
from bench.views.parts import PartLine

DRIVE = "drive"
TYPED = ("name", "cost_text", "supplier", "serial", "note")


def part_fields() -> tuple[Field, ...]:
    """What is kept of every part."""
    return (
        TextField("name", "Part", hint="such as fan, battery, memory 8 GB"),
        NumberField("cost_text", "Cost", like=MONEY, hint="what goes along with it; 0 for none"),
        TextField("serial", "Serial number", takes=SERIAL),
        TextField("note", "Note"),
    )


class FitPart(AsksTwice[bool]):
    """Fits a part that was bought for the unit."""

    send_label = "Fit it"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"Part bought for {tag}", draft=f"fit part {unit_id}")
        self.unit_id = unit_id
        self._drives: dict[str, int] = {}

    def fields(self) -> Sequence[Field]:
        """The part, where it was bought, and the drive it is, if it is one."""
        return (
            *part_fields(),
            TextField("supplier", "Supplier"),
            ChoiceField(DRIVE, "It is the drive", none="no drive from the shelf"),
        )

    def read(self) -> DriveSheet:
        """The drives on the shelf."""
        from bench.views.drives import read_drives

        return read_drives(self.desk, None)

    def begin(self, facts: DriveSheet) -> None:
        """Offer them."""
        drive = self.field(DRIVE)
        assert isinstance(drive, ChoiceField)
        drive.offer(shelf_drives(facts))

    def work(self) -> Callable[[], Any]:
        """Fit it."""
        desk, unit_id, drive = self.desk, self.unit_id, self.value(DRIVE)
        typed = {name: self.value(name) for name in TYPED}
        again = self.again
        said = int(drive) if drive else self._drives.pop("drive_id", None)

        def fit() -> str:
            from bench.work.parts import fit_part

            return moved_words(fit_part(desk, unit_id, drive_id=said, again=again, **typed))

        return fit

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
        """Say what it cost."""
        say(self.app, result)
        super().sent(result)


class EditPart(Form[bool]):
    """Sets a part right."""

    def __init__(self, part: PartLine, currency: str) -> None:
        super().__init__(f"Part: {part.name}", draft=f"part {part.part_id}")
        self.part = part
        self.currency = currency

    def fields(self) -> Sequence[Field]:
        """All that is kept of it."""
        return (*part_fields(), TextField("supplier", "Supplier"))

    def begin(self, facts: None) -> None:
        """Show it as it is."""
        del facts
        for name, value in part_values(self.part, self.currency).items():
            self.field(name).start(value)

    def work(self) -> Callable[[], Any]:
        """Set it right."""
        desk, part_id = self.desk, self.part.part_id
        typed = {name: self.value(name) for name in TYPED}

        def edit() -> None:
            from bench.work.parts import edit_part

            edit_part(desk, part_id, **typed)

        return edit
