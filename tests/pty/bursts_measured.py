"""Real bursts through a pseudo-terminal: the gaps that the program's reader sees, and what it takes them for.

`python -m tests.pty.bursts_measured` prints the table that BURSTS.md keeps; takes about three minutes.
"""

from __future__ import annotations

import json
import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pexpect

from tests.pty.listening import READ, READY, SCAN, TYPED
from tests.pty.program import environment

TEXTS = ("1001400", "SNxq19ma", "4006381333931", "https://x/?s=1", "smd paste")
SCANNER_PACES_MS = (1, 2, 5, 10, 20)
TYPISTS_PACES_MS = (40, 60)
BURSTS_EACH = 20
PAUSE_SECONDS = 0.4  # between bursts: longer than the program waits for another character
PATIENCE_SECONDS = 20.0
FIRST_IN_LINE = -15  # the priority of the sender
F10 = b"\x1b[21~"
LISTENER = "tests.pty.listening"
COLUMNS = "| sent every | machine | bursts | sent, most | read, 50 % | 95 % | most | scans | typed | torn |"


Line = tuple[str, str, float, bool]  # what the listener notes


class Told(NamedTuple):
    """A part of a burst, and what it was taken for; `keys`: how many keys it was, an Enter among them."""

    what: str
    text: str
    keys: int


@dataclass(frozen=True)
class Seen:
    """What came of the bursts of one pace. `gaps_ms`: as read; `sent_ms`: the longest gap that was sent.

    The rest: how many bursts were taken for what.
    """

    pace_ms: int
    sent_ms: float
    gaps_ms: tuple[float, ...]
    scans: int
    typed: int
    torn: int

    def row(self, machine: str) -> str:
        """Its line of the table."""
        gaps = sorted(self.gaps_ms)
        most_of = gaps[min(len(gaps) - 1, len(gaps) * 95 // 100)]
        bursts = self.scans + self.typed + self.torn
        told = (self.sent_ms, median(gaps), most_of, gaps[-1])
        lengths = " | ".join(f"{one:.1f} ms" for one in told)
        kinds = f"{self.scans} | {self.typed} | {self.torn}"
        return f"| {self.pace_ms} ms | {machine} | {bursts} | {lengths} | {kinds} |"


def measure(paces_ms: Sequence[int], bursts: int) -> Iterator[Seen]:
    """Send so many bursts at each pace to one listener; each text ends with Enter."""
    with TemporaryDirectory() as folder:
        notes = Path(folder) / "notes"
        with _listener(Path(folder), notes) as terminal, _punctual():
            _wait_until(terminal, lambda: READY in _whole(notes))
            for pace_ms in paces_ms:
                before = len(_lines(notes))
                texts = [TEXTS[number % len(TEXTS)] for number in range(bursts)]
                sent_ms = 0.0
                for text in texts:
                    sent_ms = max(sent_ms, _send(terminal, f"{text}\r", pace_ms / 1000) * 1000)
                    _rest(terminal, PAUSE_SECONDS)
                keys = sum(len(text) + 1 for text in texts)
                _wait_until(terminal, lambda: sum(one.keys for one in _told(_lines(notes)[before:])) >= keys)  # noqa: B023 - at once
                yield _seen(pace_ms, sent_ms, texts, _lines(notes)[before:])
            terminal.send(F10)
            _wait_until(terminal, lambda: not terminal.isalive())


def _send(terminal: pexpect.spawn, text: str, gap: float) -> float:
    """Write each character at its own instant; answers the longest gap there was, in seconds."""
    begun = time.perf_counter()
    sent: list[float] = []
    for place, character in enumerate(text):
        wait = begun + place * gap - time.perf_counter()
        if wait > 0:
            time.sleep(wait)
        sent.append(time.perf_counter())
        os.write(terminal.fileno(), character.encode())
    return max(after - before for before, after in pairwise(sent))


@contextmanager
def _punctual() -> Iterator[None]:
    """A scanner is a device of its own: where it is allowed, no busy program holds up what stands for it."""
    before = os.getpriority(os.PRIO_PROCESS, 0)
    with suppress(PermissionError):
        os.setpriority(os.PRIO_PROCESS, 0, FIRST_IN_LINE)
    try:
        yield
    finally:
        os.setpriority(os.PRIO_PROCESS, 0, before)


def _seen(pace_ms: int, sent_ms: float, texts: Sequence[str], lines: Sequence[Line]) -> Seen:
    read = iter([at for what, _, at, _ in lines if what == READ])
    gaps = []
    for text in texts:
        times = [next(read) for _ in f"{text}\r"]
        gaps += [(after - before) * 1000 for before, after in pairwise(times)]
    told = iter(_told(lines))
    kinds = [_taken_for(text, told) for text in texts]
    return Seen(pace_ms, sent_ms, tuple(gaps), *(kinds.count(kind) for kind in (SCAN, TYPED, "torn")))


def _taken_for(text: str, told: Iterator[Told]) -> str:
    """What one burst was taken for, from what is told of its characters and its Enter."""
    first = next(told)
    if (first.what, first.text) == (SCAN, text):
        return SCAN
    kinds, left = {first.what}, len(text) + 1 - first.keys
    while left > 0:
        more = next(told)
        kinds.add(more.what)
        left -= more.keys
    return TYPED if kinds == {TYPED} else "torn"


def _told(lines: Iterable[Line]) -> list[Told]:
    return [Told(what, text, len(text) + ended) for what, text, _, ended in lines if what in (SCAN, TYPED)]


@contextmanager
def _listener(home: Path, notes: Path) -> Iterator[pexpect.spawn]:
    env = environment(home, TERM="xterm-256color", TEXTUAL_ANIMATIONS="none")
    terminal = pexpect.spawn(sys.executable, ["-m", LISTENER, str(notes)], env=env, timeout=None)
    try:
        yield terminal
    finally:
        terminal.close(force=True)


def _rest(terminal: pexpect.spawn, seconds: float) -> None:
    """Let time pass, and take what the program draws."""
    until = time.monotonic() + seconds
    while (left := until - time.monotonic()) > 0:
        try:
            terminal.read_nonblocking(65536, timeout=left)
        except (pexpect.TIMEOUT, pexpect.EOF):
            time.sleep(min(left, 0.01))


def _wait_until(terminal: pexpect.spawn, holds: Callable[[], bool]) -> None:
    until = time.monotonic() + PATIENCE_SECONDS
    while not holds():
        assert time.monotonic() < until, "the listener never answered"
        _rest(terminal, 0.05)


def _whole(notes: Path) -> str:
    return notes.read_text(encoding="utf-8") if notes.exists() else ""


def _lines(notes: Path) -> list[Line]:
    return [json.loads(line) for line in _whole(notes).splitlines(keepends=True) if line.endswith("\n")]


@contextmanager
def _busy() -> Iterator[None]:
    """Keep every core at work meanwhile."""
    spin = [sys.executable, "-c", "while True: pass"]
    burners = [subprocess.Popen(spin) for _ in range(os.cpu_count() or 1)]
    try:
        yield
    finally:
        for one in burners:
            one.kill()
            one.wait()


def machine_facts() -> str:
    """This machine in a sentence."""
    load = ", ".join(f"{one:.1f}" for one in os.getloadavg())
    return (
        f"{datetime.now(UTC).date()}; {platform.system()} {platform.release()} on {platform.machine()}, "
        f"{os.cpu_count()} cores, load before {load}; Python {platform.python_version()}."
    )


def main() -> None:
    """Measure and print."""
    print(machine_facts(), COLUMNS, "|---" * (COLUMNS.count("|") - 1) + "|", sep="\n", flush=True)
    paces = (*SCANNER_PACES_MS, *TYPISTS_PACES_MS)
    for seen in measure(paces, BURSTS_EACH):
        print(seen.row("as it was"), flush=True)
    with _busy():
        for seen in measure(paces, BURSTS_EACH):
            print(seen.row("every core busy"), flush=True)


if __name__ == "__main__":
    main()
