"""How a person has each table: by which column it is sorted, which columns are shown. Kept on this machine.

In a file of its own beside what else the program remembers, in no journal and no data file.
"""

from __future__ import annotations

import contextlib
import json
import os
from pathlib import Path
from typing import Any

from bench.dashboard.presenters.arranged_rows import Arrangement

LONGEST = 1_000_000  # bytes; what is larger is some other file


class TableChoices:
    """The choices by the tables' names. Without a file, or where it cannot be kept, the work goes on."""

    def __init__(self, kept_in: Path | None = None) -> None:
        self._kept_in = kept_in
        self._by_table: dict[str, Arrangement] | None = None

    def of(self, table: str) -> Arrangement:
        """How the table of that name is had."""
        return self._all().get(table, Arrangement())

    def keep(self, table: str, arrangement: Arrangement) -> None:
        """Have it so from now on."""
        choices = self._all()
        choices[table] = arrangement
        if self._kept_in is None:
            return
        told = {name: _told(one) for name, one in sorted(choices.items()) if one != Arrangement()}
        scratch = self._kept_in.with_name(f".{self._kept_in.name}.{os.getpid()}")
        with contextlib.suppress(OSError):
            self._kept_in.parent.mkdir(parents=True, exist_ok=True)
            scratch.write_text(json.dumps(told, indent=1, ensure_ascii=False), encoding="utf-8")
            scratch.replace(self._kept_in)

    def _all(self) -> dict[str, Arrangement]:
        if self._by_table is None:
            self._by_table = {name: _read(one) for name, one in self._found().items()}
        return self._by_table

    def _found(self) -> dict[str, Any]:
        if self._kept_in is None:
            return {}
        try:
            with self._kept_in.open("rb") as file:
                found = json.loads(file.read(LONGEST))
        except (OSError, ValueError):
            return {}
        return found if isinstance(found, dict) else {}


def _told(one: Arrangement) -> dict[str, object]:
    return {
        "sorted_by": one.by,
        "falling": one.falling,
        "shown": sorted(one.shown),
        "hidden": sorted(one.hidden),
    }


def _read(found: object) -> Arrangement:
    """What is there of it; whatever is not as this program writes it counts as not there."""
    told = found if isinstance(found, dict) else {}
    by = told.get("sorted_by")
    return Arrangement(
        by if isinstance(by, str) else "",
        told.get("falling") is True,
        _names(told.get("shown")),
        _names(told.get("hidden")),
    )


def _names(found: object) -> frozenset[str]:
    return frozenset(one for one in found if isinstance(one, str)) if isinstance(found, list) else frozenset()
