"""A document saved under a name that a person typed: whole or not at all, never over another file."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from bench.domain.text import quoted
from bench.errors import BadInput
from bench.reports.forms import Forms


def new_path(typed: str, endings: tuple[str, ...]) -> Path:
    """The path meant; BadInput where nothing is named, something is there, or the ending says no format."""
    if not typed.strip():
        raise BadInput("The file is not named.", f"Type a name that ends in {_named(endings)}.")
    path = Path(typed.strip()).expanduser()
    if path.suffix.lower() not in endings:
        raise BadInput(f"{quoted(typed)} does not say which format.", f"End it in {_named(endings)}.")
    if path.exists():
        raise BadInput(f"There is a {path} already.", "Name a file that is not there yet.")
    return path


def save_new(text: str | bytes, path: Path) -> Path:
    """Write to a file that is not there yet, for its owner alone to read; answer its full path."""
    try:
        handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    except FileExistsError:
        raise BadInput(f"There is a {path} already.", "Name a file that is not there yet.") from None
    except OSError as error:
        raise _unwritable(path, error) from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode() if isinstance(text, str) else text)
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        path.unlink(missing_ok=True)
        raise _unwritable(path, error) from error
    return path.absolute()


def save_as(view: Any, forms: Forms, typed: str) -> Path:
    """A document saved in the form that the ending of the typed name asks for; answer its full path."""
    path = new_path(typed, tuple(forms))
    return save_new(forms[path.suffix.lower()](view), path)


def _unwritable(path: Path, error: OSError) -> BadInput:
    return BadInput(
        f"{path} cannot be written ({error.strerror}).", "Name another place, or free some space."
    )


def _named(endings: tuple[str, ...]) -> str:
    return f"{', '.join(endings[:-1])} or {endings[-1]}" if len(endings) > 1 else endings[0]
