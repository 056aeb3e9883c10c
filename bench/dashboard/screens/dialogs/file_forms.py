"""The forms that save a file: a document, and a copy of the data where its own file is lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from bench.dashboard.screens.dialogs.described import Filled, FormOf
from bench.dashboard.screens.dialogs.form import Form, form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.domain.text import for_display
from bench.errors import FileLost
from bench.reports.forms import Forms


@form
def save_document_form(title: str, view: Any, forms: Forms, name: str) -> FormOf[bool]:
    """A document saved; the ending of its name says the form.

    `view`: what the document is made from; `name`: the file that is proposed.
    """

    def save(filled: Filled) -> Path:
        from bench.reports.saving import save_as

        return save_as(view, forms, filled.typed["path"])

    return FormOf(
        heading=f"Save: {title} ({', '.join(forms)})",
        draft=f"save {name}",
        fields=(TextField("path", "File", value=name),),
        enter=True,
        does=save,
        says=lambda path: f"Saved {path}",
    )


class FileLostDialog(Form[bool]):
    """The data file is not there any more, or is another: says what became of it, and saves what is known."""

    cancel_label = "Close"

    def __init__(self, error: FileLost, proposed: str) -> None:
        super().__init__(
            FormOf(
                heading="The data file is lost: nothing is written any more",
                draft="file lost",
                above=for_display(str(error)),
                fields=(TextField("path", "Save a copy as", value=proposed),),
                send="Save a copy",
                enter=True,
                does=_save_what_is_open,
                says=lambda path: (
                    f"Saved {path}. Leave, and open it with --data, or put it where the file was."
                ),
            )
        )

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


def _save_what_is_open(filled: Filled) -> Path:
    from bench.work.files import save_what_is_open

    return save_what_is_open(filled.desk.store, filled.typed["path"])
