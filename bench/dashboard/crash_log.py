"""What a program that met a mistake of its own leaves behind: a log beside the data file."""

from __future__ import annotations

import os
import platform
import sys
import tempfile
import traceback
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path

from bench import __version__


def write_crash_log(data_path: Path, error: BaseException) -> Path | None:
    """Keep where the program stopped, beside the data file or, where that cannot be, among temporary files.

    Answers the log's path, None where neither place takes it. No values are kept, only lines of the program:
    what people typed stays in the data file.
    """
    stamp = datetime.now(UTC).strftime("%Y%m%dT%H%M%S%fZ")
    text = "\n".join(_lines(error))
    for folder in (data_path.parent, Path(tempfile.gettempdir())):
        path = folder / f"{data_path.name}.crash-{stamp}.log"
        try:
            handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        except OSError:
            continue
        with os.fdopen(handle, "w", encoding="utf-8", errors="replace") as file:
            file.write(text)
        return path
    return None


def _lines(error: BaseException) -> list[str]:
    return [
        f"bench {__version__}, {platform.platform()}, Python {platform.python_version()}",
        f"textual {version('textual')}, terminal {os.environ.get('TERM', 'not named')}",
        " ".join(Path(part).name for part in sys.argv[:1]),
        "",
        *("".join(traceback.format_exception(error)).splitlines()),
        "",
    ]
