"""The forms of a drive: recorded or corrected, moved to another unit, wiped, and its wipe verified."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from textual.widget import Widget

from bench.dashboard import use_cases
from bench.dashboard.presenters.drive_rows import drive_values, method_lines
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.field import SERIAL, TAG
from bench.dashboard.screens.dialogs.form import Form, form
from bench.dashboard.screens.dialogs.text_fields import (
    AMOUNT,
    MOMENT,
    MONEY,
    NoteField,
    NumberField,
    TextField,
)
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.domain.wipe import FAILED, METHODS, PASSED
from bench.views.drives import DriveLine, WipeLine
from bench.views.particulars import unit_by_tag


@form
def drive_form(unit_id: int, drive: DriveLine | None = None) -> FormOf[bool]:
    """What stands on a drive's label; without `drive` it is new."""

    def keep(filled: Filled) -> object:
        if drive is None:
            return use_cases.drives.add_drive(filled.desk, unit_id, **filled.typed)
        use_cases.drives.edit_drive(filled.desk, drive.drive_id, **filled.typed)
        return drive.drive_id

    return FormOf(
        heading="New drive" if drive is None else f"Drive {drive.name}",
        draft=f"drive new {unit_id}" if drive is None else f"drive {drive.drive_id}",
        fields=(
            TextField("maker", "Maker"),
            TextField("model", "Model"),
            TextField("serial", "Serial number", takes=SERIAL),
            TextField("media_type", "Media type", hint="such as NVMe drive, SATA drive, hard disk"),
            NumberField("size_text", "Size", like=AMOUNT, hint="in GB, such as 256"),
            TextField("media_number", "Media number", hint="the shop's own, if it has one"),
            TextField("came_from", "Came from", hint="empty: this unit"),
        ),
        begins=lambda _: Begun(values=drive_values(drive) if drive is not None else {}),
        does=keep,
    )


@form
def move_drive_form(drive: DriveLine) -> FormOf[bool]:
    """A drive put into another unit, or on the shelf where nothing is typed; its wipes go along."""

    def move(filled: Filled) -> None:
        tag = filled.typed["tag_text"].strip()
        unit_id = unit_by_tag(filled.desk, tag) if tag else None
        cost = filled.typed["cost_text"]
        use_cases.drive_moves.move_drive(filled.desk, drive.drive_id, unit_id, cost_text=cost)

    return FormOf(
        heading=f"Move {drive.name}",
        draft=f"move drive {drive.drive_id}",
        fields=(
            TextField("tag_text", "Into unit", takes=TAG, hint="its tag; empty: on the shelf"),
            NumberField(
                "cost_text", "Cost", like=MONEY, hint="what goes along; 0 for none; from the shelf: empty"
            ),
        ),
        send="Move it",
        does=move,
    )


class WipeForm(Form[bool]):
    """Records that the acting person wiped the drive: the method first, above it what it means.

    What only the certificate asks stands last.
    """

    def __init__(self, drive: DriveLine) -> None:
        def explain(_facts: None, values: Mapping[str, str]) -> Begun:
            return Begun(panel=lambda width: method_lines(values["method"], drive.media_type, width))

        methods = [(method, method) for method in METHODS]
        super().__init__(
            FormOf(
                heading=f"Wiped {drive.name}",
                draft=f"wipe {drive.drive_id}",
                wide=True,
                fields=(
                    ChoiceField("method", "Method", methods, none="choose"),
                    TextField("technique", "Technique", hint="such as NVMe sanitize, block erase"),
                    TextField("tool", "Tool"),
                    TextField("tool_version", "Its version"),
                    NumberField(
                        "at_text", "Ended", like=MOMENT, hint="empty: now; or 14:30, yesterday 18:05"
                    ),
                    TextField("destination", "Destination", hint="such as sold in the unit"),
                    TextField("location", "Location"),
                    TextField("title", "Your title"),
                    TextField("contact", "Your contact"),
                    TextField("confidentiality_before", "Confid. before"),
                    TextField("confidentiality_after", "Confid. after"),
                    NoteField("note", "Note"),
                ),
                watches=("method",),
                follows=explain,
                does=lambda filled: use_cases.wipes.record_wipe(filled.desk, drive.drive_id, **filled.typed),
            )
        )

    def body(self) -> Iterable[Widget]:
        """What the method means, then the fields."""
        yield LinesPanel(id="method")
        yield from super().body()


@form
def verify_form(drive: DriveLine, wipe: WipeLine) -> FormOf[bool]:
    """How the acting person verified a wipe, and its result."""

    def verify(filled: Filled) -> str:
        kept = use_cases.wipes.verify_wipe(filled.desk, wipe.wipe_id, **filled.typed)
        counts = "counts" if kept.counts else "does not count"
        return f"{kept.drive} {counts} as wiped: {kept.method}, {kept.result}."

    results = [(PASSED, PASSED), (FAILED, FAILED)]
    return FormOf(
        heading=f"Verify: {drive.name}, {wipe.method}, {wipe.technique}",
        draft=f"verify {wipe.wipe_id}",
        fields=(
            TextField("verification", "How", hint="such as full read-back"),
            ChoiceField("result", "Result", results, none="choose"),
            NumberField("at_text", "When", like=MOMENT, hint="empty: now; or 14:30, yesterday 18:05"),
            TextField("title", "Your title"),
            TextField("location", "Location"),
            TextField("contact", "Your contact"),
        ),
        does=verify,
        says=str,
    )
