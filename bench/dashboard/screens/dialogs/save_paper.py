"""A paper saved; the ending of its name says the format."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from bench.dashboard.doing import say
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.paper_making import Paper


class SavePaper(Form[bool]):
    """Asks for a file."""

    send_action = "enter"

    def __init__(self, paper: Paper) -> None:
        super().__init__(f"Save: {paper.title} ({', '.join(paper.endings)})")
        self.paper = paper

    def fields(self) -> Sequence[Field]:
        """The file."""
        return (TextField("path", "File", value=f"{self.paper.name}{self.paper.endings[0]}"),)

    def work(self) -> Callable[[], Any]:
        """Write the file."""
        typed, paper = self.value("path"), self.paper

        def save() -> Path:
            from bench.reports.saving import new_path, save_new

            path = new_path(typed, paper.endings)
            return save_new(paper.document(path.suffix.lower()), path)

        return save

    def sent(self, result: Path) -> None:
        """Say where it is."""
        say(self.app, f"Saved {result}")
        super().sent(result)
