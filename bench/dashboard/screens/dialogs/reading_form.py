"""What was measured, typed in: one form for every subject, made from the descriptions of its fields."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import PurePath
from typing import Any, ClassVar

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.reading_words import added_words, drive_choices
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import FIGURE, Field, NoteField, NumberField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.calculators.shape import Given
from bench.domain.condition.fields import AFTER, BEFORE, MOMENTS, SUBJECTS
from bench.views.drives import DriveSheet

MOMENT, DRIVE, NOTE = "moment", "drive", "note_on_it"
MOMENT_CHOICES = [(BEFORE, "before the work"), (AFTER, "after the work")]


class ReadingForm(Form[bool]):
    """Takes a reading; answers True where it stopped the work on the unit."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "reading_form.tcss"]
    label_cells = 28

    def __init__(self, unit_id: int, subject: str, tag: str) -> None:
        self.subject = SUBJECTS[subject]
        super().__init__(f"{self.subject.label} of {tag}", draft=f"reading {unit_id} {subject}")
        self.unit_id = unit_id

    def fields(self) -> Sequence[Field]:
        """When it was measured, the subject's own fields, and a note."""
        drive = [ChoiceField(DRIVE, "Which drive", none="the only one")] if self._of_a_drive else []
        return (
            ChoiceField(MOMENT, "Measured", MOMENT_CHOICES, none=None, value=MOMENTS[0]),
            *drive,
            *(_field(field.given) for field in self.subject.fields),
            NoteField(NOTE, "Note"),
        )

    def body(self) -> Iterable[Widget]:
        """The cautions, then the fields."""
        if self.subject.cautions:
            words = "\n".join(("If a cell is swollen, punctured or wet:", *self.subject.cautions))
            yield Static(Content(words), id="cautions", markup=False)
        yield from super().body()

    def read(self) -> DriveSheet:
        """The drives in the unit."""
        from bench.views.drives import read_drives

        return read_drives(self.desk, self.unit_id)

    def begin(self, facts: DriveSheet) -> None:
        """Offer the drives, where it is a drive that was measured."""
        if self._of_a_drive:
            drive = self.field(DRIVE)
            assert isinstance(drive, ChoiceField)
            drive.offer(drive_choices(facts))
        self.call_after_refresh(self.field(self.subject.fields[0].given.name).take_focus)

    def work(self) -> Callable[[], Any]:
        """Take the reading."""
        desk, unit_id, subject = self.desk, self.unit_id, self.subject.name
        moment, note = self.value(MOMENT), self.value(NOTE)
        typed = {field.given.name: self.value(field.given.name) for field in self.subject.fields}
        drive = self.value(DRIVE) if self._of_a_drive else ""

        def add() -> tuple[str, bool]:
            from bench.work.readings import add_reading

            added = add_reading(
                desk,
                unit_id,
                moment=moment,
                subject=subject,
                fields=typed,
                note=note,
                drive_id=int(drive) if drive else None,
            )
            return added_words((added.verdicts,), added.told), added.cell_finding is not None

        return add

    def answer(self, added: tuple[str, bool]) -> bool:
        """Whether it stopped the work."""
        return added[1]

    def sent(self, result: tuple[str, bool]) -> None:
        """Say what it shows."""
        say(self.app, result[0])
        super().sent(result)

    @property
    def _of_a_drive(self) -> bool:
        return self.subject.name == "drive"


def _field(given: Given) -> Field:
    if given.choices:
        choices = [(choice, choice) for choice in given.choices]
        return ChoiceField(given.name, given.label, choices, none="not noted")
    return NumberField(given.name, given.label, like=FIGURE, hint=given.limits())
