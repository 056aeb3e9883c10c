"""A wipe recorded: method in the standard's words, technique, tool, and what the certificate asks besides."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import PurePath
from typing import Any, ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.presenters.drive_rows import method_lines
from bench.dashboard.screens.dialogs.choice import Choice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import MOMENT, Field, NoteField, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.domain.wipe import METHODS
from bench.views.drives import DriveLine

METHOD = "method"
TYPED = (
    "technique",
    "tool",
    "tool_version",
    "at_text",
    "destination",
    "location",
    "title",
    "contact",
    "confidentiality_before",
    "confidentiality_after",
    "note",
)


class WipeForm(Form[bool]):
    """Records that the acting person wiped the drive."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "wipe_form.tcss"]

    def __init__(self, drive: DriveLine) -> None:
        super().__init__(f"Wiped {drive.name}", draft=f"wipe {drive.drive_id}")
        self.drive_id = drive.drive_id
        self.media_type = drive.media_type

    def fields(self) -> Sequence[Field]:
        """The method first; what only the certificate asks last."""
        methods = [(method, method) for method in METHODS]
        return (
            ChoiceField(METHOD, "Method", methods, none="choose"),
            TextField("technique", "Technique", hint="such as NVMe sanitize, block erase"),
            TextField("tool", "Tool"),
            TextField("tool_version", "Its version"),
            NumberField("at_text", "Ended", like=MOMENT, hint="empty: now; or 14:30, yesterday 18:05"),
            TextField("destination", "Destination", hint="such as sold in the unit"),
            TextField("location", "Location"),
            TextField("title", "Your title"),
            TextField("contact", "Your contact"),
            TextField("confidentiality_before", "Confid. before"),
            TextField("confidentiality_after", "Confid. after"),
            NoteField("note", "Note"),
        )

    def body(self) -> Iterable[Widget]:
        """The fields, then what the method means."""
        yield LinesPanel(id="method")
        yield from super().body()

    @on(Choice.Changed)
    def _explain(self) -> None:
        method, media_type = self.value(METHOD), self.media_type
        self.query_one("#method", LinesPanel).show(lambda width: method_lines(method, media_type, width))

    def work(self) -> Callable[[], Any]:
        """Record it."""
        desk, drive_id, method = self.desk, self.drive_id, self.value(METHOD)
        typed = {name: self.value(name) for name in TYPED}

        def record() -> object:
            from bench.work.wipes import record_wipe

            return record_wipe(desk, drive_id, method=method, **typed)

        return record
