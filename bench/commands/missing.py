"""The data file that was known and is missing: who sits at a terminal is asked what to do about it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bench.commands.opening import Start, desk_on
from bench.commands.printing import complain, say
from bench.domain.text import for_display
from bench.errors import MissingFile

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.settings import Settings

RESTORE, NEW = "restore", "new"


def ask_and_open(missing: MissingFile, start: Start, settings: Settings) -> Desk | None:
    """The desk on the copy put back or on a new file, as was asked; None: it was left as it is.

    Raises `missing` where the file was never known, or nobody is there to be asked.
    """
    if not (missing.known and sys.stdin.isatty() and sys.stderr.isatty()):
        raise missing
    asked = _ask(missing)
    if not asked:
        say("Nothing was made or changed.")
        return None
    if asked == RESTORE:
        _put_back(settings.data_path, missing.copies[0].path)
    return desk_on(settings, start.person, via="dashboard", acts=False, new=asked == NEW)


def _ask(missing: MissingFile) -> str:
    """RESTORE, NEW, or nothing to leave all as it is."""
    complain(missing.what)
    ways = {}
    if missing.copies:
        newest = missing.copies[0]
        ways[RESTORE] = f"put back the newest copy, of {newest.when}: {newest.path}"
    ways[NEW] = "make a new, empty workshop in its place"
    for word, does in {**ways, "Enter": "leave, and look for it"}.items():
        _show(f"  {word:<9}{does}", end="\n")
    while True:
        _show(f"Type {' or '.join(ways)}, or just Enter: ")
        typed = sys.stdin.readline()
        if not typed.endswith("\n"):  # the end of input is no answer: leave
            _show("", end="\n")
            return ""
        answer = typed.strip().casefold()
        if answer in ("", *ways):
            return answer


def _put_back(path: Path, copy: Path) -> None:
    from bench.commands.copies import say_restored
    from bench.desk import SystemClock
    from bench.work.copies import restore

    say_restored(restore(path, str(copy), SystemClock()))


def _show(text: str, *, end: str = "") -> None:
    sys.stderr.write(for_display(text) + end)
    sys.stderr.flush()
