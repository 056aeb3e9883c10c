"""A folder opened by the desktop's own program; where there is none, its path is told and copied."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from bench.dashboard.doing import Doing, say
from bench.domain.text import for_display

NOBODY_TO_SHOW_IT = "No desktop is there to open it. Its path was sent to the clipboard"


def open_folder(screen: Doing, folder: str) -> None:
    """Open the folder, and say so; or say where it is."""

    def told(sentence: str) -> None:
        if sentence.startswith(NOBODY_TO_SHOW_IT):
            screen.app.copy_to_clipboard(folder)
        say(screen.app, sentence)

    screen.do(lambda: _opened(folder), told)


def _opened(folder: str) -> str:
    """What was done, in a sentence."""
    shown = for_display(folder)
    if not Path(folder).is_dir():
        return f"No photograph is kept yet. The first one makes {shown}"
    program = _program()
    try:
        if program is None:
            return f"{NOBODY_TO_SHOW_IT}: {shown}"
        subprocess.Popen(
            [program, folder],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError:
        return f"{NOBODY_TO_SHOW_IT}: {shown}"
    return f"Opened {shown}"


def _program() -> str | None:
    if sys.platform == "darwin":
        return shutil.which("open")
    if sys.platform == "win32":
        return shutil.which("explorer")
    if "DISPLAY" in os.environ or "WAYLAND_DISPLAY" in os.environ:
        return shutil.which("xdg-open")
    return None
