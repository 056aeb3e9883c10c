"""Copies of the data file: what each is called and for, and which of them to keep as time goes on."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime

from bench.domain.amounts import Instant
from bench.domain.localtime import instant_of, local_datetime
from bench.domain.weeks import IsoWeek, local_day

DAILY, BY_HAND = "daily", "by-hand"
BEFORE_UPGRADE, BEFORE_ERASING, BEFORE_RESTORE = "before-upgrade", "before-erasing", "before-restore"
WHY = {
    DAILY: "of the day",
    BY_HAND: "made by hand",
    BEFORE_UPGRADE: "before an upgrade",
    BEFORE_ERASING: "before an erasing",
    BEFORE_RESTORE: "before a restore",
}

DAYS, WEEKS, MONTHS = 7, 5, 12

_NAME = re.compile(r"(\d{4}-\d\d-\d\dT\d\d-\d\d-\d\d)Z\.([a-z-]+)(?:\.\d+)?\.bench")
_STAMP = "%Y-%m-%dT%H-%M-%S"


@dataclass(frozen=True, slots=True)
class FileCopy:
    """A verified copy: its file's name, when it was taken (to the second) and why, as in `WHY`."""

    name: str
    at_us: Instant
    why: str
    size_bytes: int = 0


@dataclass(frozen=True, slots=True)
class Copies:
    """The copies of one data file, the newest first. `zone`: in which their days are told.

    `left_out`: the folder of photographs that no copy holds; empty where there is none.
    """

    folder: str
    copies: tuple[FileCopy, ...]
    zone: str
    left_out: str = ""

    @property
    def last(self) -> FileCopy | None:
        """The newest."""
        return self.copies[0] if self.copies else None


def name_of(at_us: int, why: str, number: int = 1) -> str:
    """What a copy's file is called: the time in UTC, what for, and a number where the name is taken."""
    stamp = stamp_of(at_us)
    return f"{stamp}.{why}{f'.{number}' if number > 1 else ''}.bench"


def stamp_of(at_us: int) -> str:
    """The time in UTC to the second, such as 2026-11-26T12-37-00Z: no colon, which some disks refuse."""
    return f"{local_datetime(at_us, 'UTC').strftime(_STAMP)}Z"


def copy_named(name: str, size_bytes: int = 0) -> FileCopy | None:
    """What a file's name says of a copy; None for a file that is none of ours."""
    found = _NAME.fullmatch(name)
    if found is None or found[2] not in WHY:
        return None
    try:
        taken = datetime.strptime(found[1], _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None
    return FileCopy(name, instant_of(taken), found[2], size_bytes)


def of_day(copies: Iterable[FileCopy], day: date, zone: str) -> bool:
    """Whether one of them is the daily copy of that day."""
    return any(one.why == DAILY and local_day(one.at_us, zone) == day for one in copies)


def to_drop(copies: Iterable[FileCopy], zone: str) -> tuple[FileCopy, ...]:
    """Those that need not be kept any longer; days, weeks (ISO 8601) and months are cut in that zone.

    Kept of the daily ones: the last of each of the seven newest days that have one, of the five newest such
    weeks and of the twelve newest such months. Days on which nobody worked cost no copy. What was taken
    before something risky is kept as long as the daily ones of seven days. What was made by hand stays.
    """
    every = sorted(copies, key=lambda one: (one.at_us, one.name), reverse=True)
    daily = [one for one in every if one.why == DAILY]
    newest = _newest_of_each(daily, lambda one: local_day(one.at_us, zone), DAYS)
    kept = {
        *newest,
        *_newest_of_each(daily, lambda one: IsoWeek.at(one.at_us, zone), WEEKS),
        *_newest_of_each(daily, lambda one: _month(one.at_us, zone), MONTHS),
    }
    first_kept = local_day(newest[-1].at_us, zone) if len(newest) == DAYS else date.min
    return tuple(
        one
        for one in every
        if one not in kept
        and one.why != BY_HAND
        and (one.why == DAILY or local_day(one.at_us, zone) < first_kept)
    )


def _newest_of_each(
    newest_first: Sequence[FileCopy], span: Callable[[FileCopy], Hashable], most: int
) -> list[FileCopy]:
    found: dict[Hashable, FileCopy] = {}
    for one in newest_first:
        found.setdefault(span(one), one)
    return list(found.values())[:most]


def _month(at_us: int, zone: str) -> tuple[int, int]:
    local = local_datetime(at_us, zone)
    return local.year, local.month
