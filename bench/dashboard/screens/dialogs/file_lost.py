"""The data file is not there any more, or is another: nothing is written; a copy can be saved."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path, PurePath
from typing import Any, ClassVar

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard.doing import say
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.text import for_display
from bench.errors import FileLost


class FileLostDialog(Form[bool]):
    """Says what became of the file, and asks where to save all that is known from the open handle."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "file_lost.tcss"]
    send_label = "Save a copy"
    send_action = "enter"
    cancel_label = "Close"

    def __init__(self, error: FileLost, proposed: str) -> None:
        super().__init__("The data file is lost: nothing is written any more", draft="file lost")
        self.error, self.proposed = error, proposed

    def body(self) -> Iterable[Widget]:
        """What happened, above the file to save to."""
        yield Static(Content(for_display(str(self.error))), id="lost")
        yield from super().body()

    def fields(self) -> Sequence[Field]:
        """The new file."""
        return (TextField("path", "Save a copy as", value=self.proposed),)

    def typed_before(self, facts: Any) -> dict[str, str]:
        """What was typed when it was last asked: nothing can be kept in the file."""
        del facts
        return self.bench.file_watch.typed

    def keep_typed(self, values: dict[str, str], then: Callable[[], object]) -> None:
        """Keep it as long as the program runs."""
        self.bench.file_watch.typed = values
        then()

    def drop_typed(self) -> None:
        """Keep it no longer."""
        self.bench.file_watch.typed = {}

    def work(self) -> Callable[[], Any]:
        """Copy what the open handle still holds."""
        store, typed = self.desk.store, self.value("path")

        def save() -> Path:
            from bench.work.files import save_what_is_open

            return save_what_is_open(store, typed)

        return save

    def sent(self, result: Path) -> None:
        """Say where it is."""
        say(self.app, f"Saved {result}. Leave, and open it with --data, or put it where the file was.")
        super().sent(result)
