"""A clock that tests set by hand."""

from __future__ import annotations

from dataclasses import dataclass

MINUTE_US = 60_000_000
WEDNESDAY_MORNING_US = 1_795_597_200_000_000  # 2026-11-25 09:00 UTC


@dataclass
class HandSetClock:
    """A clock that stands still until a test moves it."""

    wall_us: int = WEDNESDAY_MORNING_US
    steady: int = 1_000_000_000
    boot_name: str = "first"

    def now_us(self) -> int:
        return self.wall_us

    def steady_us(self) -> int:
        return self.steady

    def boot(self) -> str:
        return self.boot_name

    def advance(self, minutes: float = 0, *, us: int = 0) -> int:
        """Let time pass on both clocks; answer the instant it is then."""
        passed = round(minutes * MINUTE_US) + us
        self.wall_us += passed
        self.steady += passed
        return self.wall_us

    def set_wall(self, instant_us: int) -> None:
        """Set the wall clock alone, as a person or a time server would."""
        self.wall_us = instant_us

    def start_anew(self) -> None:
        """Switch the machine off and on: the steady clock begins again."""
        self.steady, self.boot_name = 0, f"after {self.boot_name}"
