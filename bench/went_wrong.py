"""The program's log: what went wrong and where in the program, a line each, in this machine's state folder.

No words of people are in it: of an error its kind and the line that raised it, never its sentence. The first
error makes it, once there is a data file; it begins anew when it is full, the one before kept beside it.
"""

from __future__ import annotations

import traceback
from contextlib import suppress
from pathlib import Path

from bench import __version__
from bench.errors import BenchError, StoreError

FILE = "bench.log"
MOST_BYTES = 200_000
_ROOT = Path(__file__).parent


def log_path() -> Path:
    """Where it is, whether or not there is one."""
    from platformdirs import user_state_path

    return user_state_path("bench") / FILE


def note(error: BaseException, through: str) -> None:
    """Add a line; `through`: which part of the program met it. Where it cannot be written, nothing is."""
    from datetime import UTC, datetime
    from logging import INFO, FileHandler, LogRecord
    from logging.handlers import RotatingFileHandler

    when = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    line = f"{when} {__version__} {through} {_weight(error)} {type(error).__name__} {_raised_at(error)}"
    path = log_path()
    if not path.parent.is_dir():  # made with the first data file: an error alone makes no folder
        return
    try:
        handler = RotatingFileHandler(path, maxBytes=MOST_BYTES, backupCount=1, encoding="utf-8")
    except OSError:
        return
    with suppress(OSError):  # such as a full disk
        record = LogRecord("bench", INFO, "", 0, line, None, None)
        if handler.shouldRollover(record):
            handler.doRollover()
        FileHandler.emit(handler, record)
    handler.close()


def last_lines(most: int) -> list[str]:
    """The newest lines, the oldest of them first; none where there is no log."""
    try:
        return log_path().read_text(encoding="utf-8", errors="replace").splitlines()[-most:]
    except OSError:
        return []


def _weight(error: BaseException) -> str:
    """Whether the program broke, its file was in the way, or a person was refused something."""
    if not isinstance(error, BenchError):
        return "broke"
    return "file" if isinstance(error, StoreError) else "refused"


def _raised_at(error: BaseException) -> str:
    frames = [one for one in traceback.extract_tb(error.__traceback__) if _is_ours(one.filename)]
    return f"{Path(frames[-1].filename).relative_to(_ROOT)}:{frames[-1].lineno}" if frames else "elsewhere"


def _is_ours(filename: str) -> bool:
    return Path(filename).is_relative_to(_ROOT)
