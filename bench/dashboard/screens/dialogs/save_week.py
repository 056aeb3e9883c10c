"""The week's sheet saved as text, CSV or JSON."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from bench.dashboard.doing import say
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.week_sheet import WeekSheet

ENDINGS = (".txt", ".csv", ".json")


class SaveWeek(Form[bool]):
    """Asks for a file; its ending says the format."""

    send_action = "enter"

    def __init__(self, sheet: WeekSheet) -> None:
        super().__init__(f"Save week {sheet.week} as .txt, .csv or .json")
        self.sheet = sheet

    def fields(self) -> Sequence[Field]:
        """The file."""
        return (TextField("path", "File", value=f"week-{self.sheet.week}.txt"),)

    def work(self) -> Callable[[], Any]:
        """Write the file."""
        typed, sheet = self.value("path"), self.sheet

        def save() -> Path:
            from bench.reports.saving import new_path, save_new
            from bench.reports.week_paper import week_text
            from bench.reports.week_sheet import week_csv, week_json

            path = new_path(typed, ENDINGS)
            documents = {".txt": week_text, ".csv": week_csv, ".json": week_json}
            return save_new(documents[path.suffix.lower()](sheet), path)

        return save

    def sent(self, result: Path) -> None:
        """Say where it is."""
        say(self.app, f"Saved {result}")
        super().sent(result)
