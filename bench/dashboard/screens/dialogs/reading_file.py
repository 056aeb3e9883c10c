"""A file that was made on the unit: a battery's uevent text, an NVMe health log, smartctl's JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.reading_words import added_words, drive_choices
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.reading_form import DRIVE, MOMENT, MOMENT_CHOICES
from bench.domain.condition.fields import MOMENTS
from bench.domain.condition.files import HOW, KINDS
from bench.errors import BadInput
from bench.views.drives import DriveSheet

KIND, PATH = "kind", "path"


class ReadingFile(Form[bool]):
    """Takes the readings of a file; answers True where one stopped the work on the unit."""

    send_label = "Read it"
    send_action = "enter"

    def __init__(self, unit_id: int, tag: str) -> None:
        super().__init__(f"Read a file made on {tag}", draft=f"reading file {unit_id}")
        self.unit_id = unit_id

    def fields(self) -> Sequence[Field]:
        """When it was made, what it is, where it lies."""
        return (
            TextField(PATH, "File", hint="such as ~/readings/BAT0.txt"),
            ChoiceField(MOMENT, "Made", MOMENT_CHOICES, none=None, value=MOMENTS[0]),
            ChoiceField(KIND, "It is", list(KINDS.items()), none="told by its content"),
            ChoiceField(DRIVE, "Which drive", none="told by the file, or the only one"),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then which files can be read."""
        yield from super().body()
        yield Static(Content(HOW), id="known", markup=False)

    def read(self) -> DriveSheet:
        """The drives in the unit."""
        from bench.views.drives import read_drives

        return read_drives(self.desk, self.unit_id)

    def begin(self, facts: DriveSheet) -> None:
        """Offer the drives."""
        drive = self.field(DRIVE)
        assert isinstance(drive, ChoiceField)
        drive.offer(drive_choices(facts))

    def work(self) -> Callable[[], Any]:
        """Read the file and keep what it holds."""
        desk, unit_id = self.desk, self.unit_id
        moment, kind, drive = self.value(MOMENT), self.value(KIND), self.value(DRIVE)
        typed = self.value(PATH).strip()
        if not typed:
            raise BadInput("The file is not named.", "Type where it lies.", field="path")

        def take() -> tuple[str, bool]:
            from bench.work.readings import read_reading_file

            added = read_reading_file(
                desk,
                unit_id,
                moment=moment,
                path=Path(typed).expanduser(),
                kind=kind or None,
                drive_id=int(drive) if drive else None,
            )
            told = tuple(line for one in added for line in one.told)
            return added_words((one.verdicts for one in added), told), any(one.cell_finding for one in added)

        return take

    def answer(self, taken: tuple[str, bool]) -> bool:
        """Whether it stopped the work."""
        return taken[1]

    def sent(self, result: tuple[str, bool]) -> None:
        """Say what it shows."""
        say(self.app, result[0])
        super().sent(result)
