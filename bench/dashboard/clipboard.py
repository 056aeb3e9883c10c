"""What is copied: to the terminal's clipboard by OSC 52, and into a file, for not every terminal takes it."""

from __future__ import annotations

import os
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.widgets import Input

from bench.dashboard.doing import Doing, say
from bench.errors import StoreError

if TYPE_CHECKING:
    from textual.app import App

    _App = App[int]
else:
    _App = object

LONG = 70_000  # bytes; some terminals take no more in one sequence (common practice, no source)
NOTHING = "There is nothing there to copy: what was copied before stays."
HIDDEN = "What is typed here is not shown, and not copied either."


class Copies(Doing, _App):
    """Mixed into the app."""

    def copy_to_clipboard(self, text: str) -> None:
        """Copy what was selected."""
        focused = self.app.focused
        if isinstance(focused, Input) and focused.password:
            say(self.app, HIDDEN)
        else:
            self.copy_out(text, "what was selected")

    def copy_out(self, text: str, what: str) -> None:
        """Copy a text, named in the sentence that says so; an empty one leaves everything as it is."""
        if not text.strip():
            say(self.app, NOTHING)
            return
        super().copy_to_clipboard(text)
        path = copied_file(self.desk.store.path)

        def kept(_answer: Any) -> None:
            less = (
                " It is long: where the terminal took less, that file has all of it."
                if _is_long(text)
                else ""
            )
            say(self.app, f"Copied {what}. It is in {path} too.{less}")

        self.do(partial(keep_copied, path, text), kept)


def copied_file(data: Path) -> Path:
    """Where the last copy lies, beside the data file."""
    return data.with_name(f"{data.name}.copied.txt")


def keep_copied(path: Path, text: str) -> None:
    """Write the copy over the one before, readable by its owner alone. StoreError where that cannot be."""
    try:
        path.unlink(missing_ok=True)
        opened = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY | os.O_NOFOLLOW, 0o600)
        with os.fdopen(opened, "w", encoding="utf-8", newline="") as file:
            file.write(text)
    except OSError as error:
        raise StoreError(
            f"The copy went to the terminal alone: {path} cannot be written ({error.strerror}).",
            "Where the terminal takes no copies, select the text by the mouse with Shift down.",
        ) from error


def drop_copied(data: Path) -> None:
    """Take away what was copied in an earlier run: it may tell of people."""
    try:
        copied_file(data).unlink(missing_ok=True)
    except OSError:  # a folder that may not be written holds no copy of ours
        return


def _is_long(text: str) -> bool:
    return len(text.encode()) > LONG
