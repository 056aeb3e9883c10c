"""Which data files this machine has opened, so that one that is missing is never taken for a first start.

And which copies of a missing one lie beside the place where it was.
"""

from __future__ import annotations

import contextlib
import json
import os
from pathlib import Path

from bench.store.files import is_own_header

_MOST_KEPT = 200
_HEADER_BYTES = 100


class KnownFiles:
    """A short list of paths in a file of its own. Where it cannot be read or kept, the work goes on."""

    def __init__(self, kept_in: Path) -> None:
        self._kept_in = kept_in

    def __contains__(self, path: Path) -> bool:
        return _name(path) in self._read()

    def remember(self, path: Path) -> None:
        """Keep that this file was opened here."""
        known = self._read()
        if _name(path) in known:
            return
        scratch = self._kept_in.with_name(f".{self._kept_in.name}.{os.getpid()}")
        with contextlib.suppress(OSError):
            self._kept_in.parent.mkdir(parents=True, exist_ok=True)
            scratch.write_text(json.dumps([*known, _name(path)][-_MOST_KEPT:], indent=1), encoding="utf-8")
            scratch.replace(self._kept_in)

    def _read(self) -> list[str]:
        try:
            known = json.loads(self._kept_in.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return []
        return [name for name in known if isinstance(name, str)] if isinstance(known, list) else []


def copies_of(path: Path) -> tuple[Path, ...]:
    """The data files that lie where `path` was, and in its folder of copies, the newest first."""
    found = {}
    for pattern in (f"{_literal(path.name)}*", "*.backup", "*.bench", f"{_literal(path.name)}.copies/*"):
        with contextlib.suppress(OSError):
            for one in path.parent.glob(pattern):
                if one != path and _is_data_file(one):
                    found[one] = one.stat().st_mtime_ns
    return tuple(sorted(found, key=lambda one: found[one], reverse=True))


def _is_data_file(path: Path) -> bool:
    with contextlib.suppress(OSError):
        if path.is_file():
            with path.open("rb") as file:
                return is_own_header(file.read(_HEADER_BYTES))
    return False


def _literal(name: str) -> str:
    return "".join(f"[{one}]" if one in "*?[" else one for one in name)


def _name(path: Path) -> str:
    return os.fsdecode(os.path.realpath(path))
