"""The forms of a unit's condition: readings typed or taken from a file, the battery weighed, parts graded."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from textual.widget import Widget
from textual.widgets import Button

from bench.dashboard import use_cases
from bench.dashboard.presenters.condition_rows import choice_lines, step_choices
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.screens.dialogs.choice_fields import YES, ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.form import Form, form
from bench.dashboard.screens.dialogs.text_fields import FIGURE, MONEY, NoteField, NumberField, TextField
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.desk import Desk
from bench.domain.calculators.shape import Given
from bench.domain.condition.fields import AFTER, BEFORE, FITTED, MOMENTS, SUBJECTS
from bench.domain.condition.reading_files import HOW, KINDS
from bench.domain.condition.verdicts import Verdict
from bench.domain.grading import FUNCTION, LOOKS, Step
from bench.errors import BadInput, NotFound
from bench.views.condition import weigh_battery
from bench.views.drives import DriveSheet, read_drives
from bench.views.grades import GradeLine

MOMENT_CHOICES = [(BEFORE, "before the work"), (AFTER, "after the work")]
NOTE = "note_on_it"


class ReadingForm(Form[bool]):
    """What was measured, typed in: made from the descriptions of the subject's fields.

    Answers True where it stopped the work on the unit.
    """

    label_cells = 28

    def __init__(self, unit_id: int, subject: str, tag: str) -> None:
        self.subject = about = SUBJECTS[subject]

        def add(filled: Filled) -> tuple[str, bool]:
            typed = filled.typed
            added = use_cases.readings.add_reading(
                filled.desk,
                unit_id,
                subject=subject,
                moment=typed.pop("moment"),
                note=typed.pop(NOTE),
                drive_id=typed.pop("drive", None),
                fields=typed,
            )
            return added_words((added.verdicts,), added.told), added.cell_finding is not None

        of_a_drive = subject == "drive"
        drive = [ChoiceField("drive", "Which drive", none="the only one", ids=True)] if of_a_drive else []
        super().__init__(
            FormOf(
                heading=f"{about.label} of {tag}",
                draft=f"reading {unit_id} {subject}",
                wide=True,
                above="\n".join(("If a cell is swollen, punctured or wet:", *about.cautions))
                if about.cautions
                else None,
                fields=(
                    ChoiceField("moment", "Measured", MOMENT_CHOICES, none=None, value=MOMENTS[0]),
                    *drive,
                    *(_reading_field(one.given) for one in about.fields),
                    NoteField(NOTE, "Note"),
                ),
                reads=lambda desk: read_drives(desk, unit_id),
                begins=lambda drives: _offer_drives(drives) if of_a_drive else Begun(),
                does=add,
                says=lambda added: str(added[0]),
                answers=lambda added: bool(added[1]),
            )
        )

    def begin(self, facts: DriveSheet) -> None:
        """Begin with the first figure."""
        super().begin(facts)
        self.field(self.subject.fields[0].given.name).take_focus()


def _reading_field(given: Given) -> Field:
    if given.choices:
        choices = [(choice, choice) for choice in given.choices]
        return ChoiceField(given.name, given.label, choices, none="not noted")
    return NumberField(given.name, given.label, like=FIGURE, hint=given.limits())


def _offer_drives(drives: DriveSheet) -> Begun:
    return Begun(choices={"drive": tuple((str(one.drive_id), one.name) for one in drives.drives)})


def added_words(verdicts: Iterable[Sequence[Verdict]], told: Iterable[str]) -> str:
    """The verdicts in a line, and what else must be known, the gravest first."""
    found = "; ".join(f"{one.words}: {one.standing}" for given in verdicts for one in given)
    return " ".join((*told, f"{found}." if found else "Kept."))


@form
def reading_file_form(unit_id: int, tag: str) -> FormOf[bool]:
    """The readings of a file that was made on the unit; answers True where one stopped the work on it."""

    def take(filled: Filled) -> tuple[str, bool]:
        typed = filled.typed
        path = typed["path"].strip()
        if not path:
            raise BadInput("The file is not named.", "Type where it lies.", field="path")
        added = use_cases.readings.read_reading_file(
            filled.desk,
            unit_id,
            moment=typed["moment"],
            path=Path(path).expanduser(),
            kind=typed["kind"] or None,
            drive_id=typed["drive"],
        )
        told = tuple(line for one in added for line in one.told)
        return added_words((one.verdicts for one in added), told), any(one.cell_finding for one in added)

    return FormOf(
        heading=f"Read a file made on {tag}",
        draft=f"reading file {unit_id}",
        fields=(
            TextField("path", "File", hint="such as ~/readings/BAT0.txt"),
            ChoiceField("moment", "Made", MOMENT_CHOICES, none=None, value=MOMENTS[0]),
            ChoiceField("kind", "It is", list(KINDS.items()), none="told by its content"),
            ChoiceField("drive", "Which drive", none="told by the file, or the only one", ids=True),
        ),
        send="Read it",
        enter=True,
        known=HOW,
        reads=lambda desk: read_drives(desk, unit_id),
        begins=_offer_drives,
        does=take,
        says=lambda taken: str(taken[0]),
        answers=lambda taken: bool(taken[1]),
    )


class WeighBattery(Form[bool]):
    """The battery weighed for each pack as the figures are typed. Nothing is kept but the typing."""

    cancel_label = "Close"

    def __init__(self, unit_id: int, currency: str) -> None:
        def weigh(desk: Desk, values: Mapping[str, str]) -> Begun:
            try:
                weighed = weigh_battery(desk, unit_id, **values)
            except (BadInput, NotFound) as error:  # half a number while it is being typed
                told = ((Part(str(error), "muted"),),)
                return Begun(panel=lambda _: told)
            return Begun(
                panel=lambda width: [line for one in weighed for line in choice_lines(one, currency, width)]
            )

        super().__init__(
            FormOf(
                heading="The battery: keep, sell as it is, or replace",
                draft=f"weigh battery {unit_id}",
                wide=True,
                fields=(
                    NumberField("pack_text", "A new pack costs", like=MONEY, hint="such as 35"),
                    NumberField(
                        "gain_text",
                        "It adds to sale",
                        like=MONEY,
                        hint="how much higher its expected price is with it",
                    ),
                    ChoiceField(
                        "fitted", "The pack is", [(way, way) for way in FITTED], none="as a reading noted it"
                    ),
                ),
                watches=("pack_text", "gain_text", "fitted"),
                looks_up=weigh,
            )
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then the choice."""
        yield from super().body()
        yield LinesPanel(id="choice")

    def buttons(self) -> Iterable[Button]:
        """There is nothing to send."""
        yield self.button(self.cancel_label, "cancel")

    def begin(self, facts: Any) -> None:
        """Weigh with what is known."""
        super().begin(facts)
        self.follow()

    def work(self) -> None:
        """Nothing is written but the draft."""
        self.action_cancel()


@form
def grade_form(unit_id: int, line: GradeLine, scale: tuple[Step, ...]) -> FormOf[bool]:
    """How one part works, how it looks, a sentence a buyer can check: in place of what was said before."""

    def grade(filled: Filled) -> object:
        typed: Mapping[str, Any] = filled.typed
        return use_cases.grades.set_grade(
            filled.desk,
            unit_id,
            line.part,
            function_step_id=typed[FUNCTION],
            looks_step_id=typed[LOOKS],
            sentence=typed["sentence"],
            tested=not typed["not_tested"],
        )

    untested = line.grade_id is not None and not line.tested
    return FormOf(
        heading=f"Grade: {line.label}",
        draft=f"grade {unit_id} {line.part}",
        fields=(
            _side(FUNCTION, "Works", scale, line.function),
            _side(LOOKS, "Looks", scale, line.looks),
            TextField("sentence", "In a sentence", value=line.sentence),
            MarkField("not_tested", "", "was not tested", value=YES if untested else ""),
        ),
        does=grade,
    )


@form
def grade_rest_form(
    unit_id: int, scale: tuple[Step, ...], rest: tuple[GradeLine, ...], *, marked: bool = False
) -> FormOf[bool]:
    """One grade for every part that has none, or for those that are `marked`.

    The best step of function stands there, looks are chosen.
    """

    def grade(filled: Filled) -> object:
        typed: Mapping[str, Any] = filled.typed
        return use_cases.grades.grade_the_rest(
            filled.desk,
            unit_id,
            function_step_id=typed[FUNCTION],
            looks_step_id=typed[LOOKS],
            sentence=typed["sentence"],
            parts=[one.part for one in rest] if marked else (),
        )

    best = next((step for step in scale if step.side == FUNCTION), None)
    return FormOf(
        heading=f"{len(rest)} parts marked" if marked else f"All {len(rest)} parts not graded yet",
        draft=f"grade {unit_id} {'marked' if marked else 'rest'}",
        fields=(
            _side(FUNCTION, "Work", scale, best),
            _side(LOOKS, "Look", scale, None),
            TextField("sentence", "In a sentence"),
        ),
        above=f"{', '.join(one.label for one in rest)}.\nOnly what was tested; then grade the exceptions.",
        does=grade,
        says=lambda named: f"Graded alike: {', '.join(named)}.",
    )


def _side(name: str, label: str, scale: tuple[Step, ...], step: Step | None) -> ChoiceField:
    value = str(step.step_id) if step is not None else ""
    return ChoiceField(name, label, step_choices(scale, name, step), none="not said", value=value, ids=True)
