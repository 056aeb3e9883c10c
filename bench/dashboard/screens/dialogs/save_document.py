"""A document saved; the ending of its name says the form."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from bench.dashboard.doing import say
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.reports.forms import Forms


class SaveDocument(Form[bool]):
    """Asks for a file. `view`: what the document is made from; `name`: the file that is proposed."""

    send_action = "enter"

    def __init__(self, title: str, view: Any, forms: Forms, name: str) -> None:
        super().__init__(f"Save: {title} ({', '.join(forms)})", draft=f"save {name}")
        self.view, self.forms, self.proposed = view, forms, name

    def fields(self) -> Sequence[Field]:
        """The file."""
        return (TextField("path", "File", value=self.proposed),)

    def work(self) -> Callable[[], Any]:
        """Write the file."""
        typed, view, forms = self.value("path"), self.view, self.forms

        def save() -> Path:
            from bench.reports.saving import save_as

            return save_as(view, forms, typed)

        return save

    def sent(self, result: Path) -> None:
        """Say where it is."""
        say(self.app, f"Saved {result}")
        super().sent(result)
