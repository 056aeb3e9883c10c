"""The demo's data file about owners' repairs, general expenses and electricity."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable
from typing import Any


@dataclass(frozen=True, slots=True)
class DemoRepair:
    """A repair. `quoted`, `answered`: how many days ago; None: not yet, or at once if handed back."""

    unit: int
    complaint: str
    came_along: str
    arrival: str
    data: str
    diagnosis: str
    lines: tuple[Mapping[str, str], ...]
    quoted: int | None = None
    answered: int | None = None
    answer: str | None = None
    how: str = ""


@dataclass(frozen=True, slots=True)
class DemoExpense:
    """An expense or income of no unit, so many days ago."""

    days_ago: int
    side: str
    category: str
    amount: str
    party: str = ""
    note: str = ""
    tax: str = ""


@dataclass(frozen=True, slots=True)
class DemoRepairs:
    """All of it."""

    settings: Mapping[str, Any]
    jobs: tuple[DemoRepair, ...]
    expenses: tuple[DemoExpense, ...]


def read_repairs(folder: Traversable) -> DemoRepairs:
    """What repairs.toml says."""
    told = tomllib.loads(folder.joinpath("repairs.toml").read_text(encoding="utf-8"))
    return DemoRepairs(
        settings=told["settings"],
        jobs=tuple(DemoRepair(**{**row, "lines": tuple(row["lines"])}) for row in told["jobs"]),
        expenses=tuple(DemoExpense(**row) for row in told["expenses"]),
    )
