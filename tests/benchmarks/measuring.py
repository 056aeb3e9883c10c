"""Two pieces of work timed in turn in the same run: what counts is their ratio, not the machine."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Ratio:
    """Medians of ours and of what it is measured against: seconds, or what makes so many of the `unit`."""

    name: str
    ours: float
    baseline: float
    unit: str = "ms"
    units_in_one: float = 1000

    @property
    def times(self) -> float:
        """How many times as much ours takes."""
        return self.ours / self.baseline

    def must_be_below(self, most: float) -> None:
        """Print the figures and fail when ours takes more than so many times as much."""
        ours, baseline = (f"{one * self.units_in_one:.2f} {self.unit}" for one in (self.ours, self.baseline))
        print(f"\n{self.name}: {ours}, baseline {baseline}, {self.times:.2f} times (at most {most:g})")
        assert self.times <= most, f"{self.name}: {self.times:.2f} times its baseline, more than {most:g}"


def compare(
    name: str,
    ours: Callable[[], object],
    baseline: Callable[[], object],
    *,
    rounds: int = 15,
    calls: int = 1,
    clock: Callable[[], float] = time.perf_counter,
) -> Ratio:
    """Time both in turn, after one call of each that does not count; `calls` of them in each round.

    `clock`: seconds. That of the processor's time (`time.thread_time`) leaves out what a busy machine makes
    wait, and what the disk does.
    """
    ours()
    baseline()
    own: list[float] = []
    other: list[float] = []
    for _ in range(rounds):
        own.append(_seconds(ours, calls, clock))
        other.append(_seconds(baseline, calls, clock))
    return Ratio(name, statistics.median(own), statistics.median(other))


def _seconds(work: Callable[[], object], calls: int, clock: Callable[[], float]) -> float:
    start = clock()
    for _ in range(calls):
        work()
    return (clock() - start) / calls
