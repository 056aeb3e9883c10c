"""The register saved; the ending of its name says the format."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from bench.dashboard.doing import say
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.register import Register
from bench.domain.weeks import local_day

ENDINGS = (".csv", ".html", ".txt", ".json")


class SaveRegister(Form[bool]):
    """Asks for a file."""

    send_action = "enter"

    def __init__(self, register: Register) -> None:
        super().__init__(f"Save the register ({', '.join(ENDINGS)})")
        self.register = register

    def fields(self) -> Sequence[Field]:
        """The file."""
        day = local_day(self.register.read_us, self.register.zone)
        return (TextField("path", "File", value=f"register-{day}.csv"),)

    def work(self) -> Callable[[], Any]:
        """Write the file."""
        typed, register = self.value("path"), self.register

        def save() -> Path:
            from bench.reports.register import register_csv, register_html, register_json, register_text
            from bench.reports.saving import new_path, save_new

            path = new_path(typed, ENDINGS)
            documents = {
                ".csv": register_csv,
                ".html": register_html,
                ".txt": register_text,
                ".json": register_json,
            }
            return save_new(documents[path.suffix.lower()](register), path)

        return save

    def sent(self, result: Path) -> None:
        """Say where it is."""
        say(self.app, f"Saved {result}")
        super().sent(result)
