"""Where one reads and acts from: the open file, the clock, and the person who acts."""

from __future__ import annotations

import time
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from bench.store.engine import Store

if TYPE_CHECKING:
    from sqlmodel import Session

BOOT_NAME = Path("/proc/sys/kernel/random/boot_id")


class Clock(Protocol):
    """Two clocks: the wall's, which people read and may set, and a steady one, which only ever runs on."""

    def now_us(self) -> int:
        """The instant now, in microseconds UTC."""
        ...

    def steady_us(self) -> int:
        """Microseconds of a clock that nobody sets and that runs while the machine sleeps."""
        ...

    def boot(self) -> str:
        """Names the run of the machine within which steady readings compare; empty where it has no name."""
        ...


class SystemClock:
    """The machine's own clocks."""

    def now_us(self) -> int:
        """The machine's wall clock."""
        return time.time_ns() // 1000

    def steady_us(self) -> int:
        """The clock since boot where there is one (it counts sleep), else the monotonic clock."""
        boot_clock = getattr(time, "CLOCK_BOOTTIME", None)
        if boot_clock is None:
            return time.monotonic_ns() // 1000
        return time.clock_gettime_ns(boot_clock) // 1000

    def boot(self) -> str:
        """The kernel's name for this run, where it gives one."""
        try:
            return BOOT_NAME.read_text(encoding="ascii").strip()
        except OSError:
            return ""


@dataclass
class Booking:
    """One command's account of itself.

    `key`: the script's own, empty for none. `asked`: the command and its arguments as typed.
    `summaries`: what the journal says of it, once that is in the file. `begun`: the same while it is not yet.
    """

    key: str = ""
    asked: tuple[str, ...] = ()
    summaries: list[str] = field(default_factory=list)
    begun: list[str] = field(default_factory=list)

    def settle(self) -> None:
        """The transaction is in the file."""
        self.summaries += self.begun
        self.begun.clear()


@dataclass(frozen=True)
class Desk:
    """What every use case and every reader is handed. `via`: dashboard, command or demo, kept in the journal.

    `joint`: the transaction that several use cases share, see `change.together`; None: each has its own.
    `booking`: where a command keeps account of what it booked.
    """

    store: Store
    clock: Clock
    person_id: int
    via: str = "dashboard"
    joint: Session | None = None
    booking: Booking | None = None

    def as_person(self, person_id: int) -> Desk:
        """The same desk with someone else acting."""
        return replace(self, person_id=person_id)
