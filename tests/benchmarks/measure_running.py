"""What the program takes while it runs in a terminal of 120x36: processor, bytes sent, memory."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path
from statistics import median

from pyte.screens import Char

from bench.desk import Desk, SystemClock
from bench.views.timers import running
from bench.work.timers import stop_entry
from tests.benchmarks import floors
from tests.benchmarks.big_files import file_with
from tests.benchmarks.grown_demo import grown_demo
from tests.benchmarks.measuring import Ratio
from tests.pty.at_the_bench import DOWN, UP
from tests.pty.program import PROGRAM
from tests.pty.terminal import Terminal, screen_environment

ROUNDS = 7
TICKS = 4  # seconds that a round lasts
LOADED_SECONDS = 4  # by then all is loaded that is loaded behind the first screen
QUIET_SECONDS = 0.2  # nothing sent for so long: all that a key set off has been sent
TIMERS = 20
READ_SECONDS = 0.02
LAST_OF_DEMO = "10549"
Cells = list[list[Char]]


def test_cpu_while_twenty_timers_run(tmp_path: Path) -> None:
    with (
        ours_on(with_timers(tmp_path / "shop.bench"), mark="0 min 0") as ours,
        bare(tmp_path, floors.LABEL, mark=floors.LABEL_SHOWN) as label,
    ):
        programs = ours, label
        rounds = []
        for _ in range(ROUNDS):
            before = [cpu_seconds(one) for one in programs]
            read_on(programs, TICKS)
            rounds.append([cpu_seconds(one) - was for one, was in zip(programs, before, strict=True)])
    own, floor = (median(one) / TICKS for one in zip(*rounds, strict=True))
    Ratio("processor time a second, twenty timers", own, floor).must_be_below(2.8)


def test_bytes_of_a_cursor_key(tmp_path: Path) -> None:
    path = tmp_path / "demo.bench"
    with grown_demo(path, days=0, clock=SystemClock()) as desk:
        stop_all(desk)  # so that no tick comes between
    sent, least = [], []
    with ours_on(path, mark=LAST_OF_DEMO) as terminal:
        terminal.wait_quiet(1)
        for key in (DOWN, UP) * ROUNDS:
            was, before = terminal.cells(), len(terminal.raw)
            terminal.send(key)
            terminal.wait_quiet(QUIET_SECONDS)
            sent.append(len(terminal.raw) - before)
            least.append(len(cells_alone(was, terminal.cells())))
    bytes_against("bytes of a cursor key", sent, least, at_most=1500)


def test_bytes_of_a_tick(tmp_path: Path) -> None:
    path = tmp_path / "demo.bench"
    with grown_demo(path, days=0, clock=SystemClock()):
        pass
    ticks_of("the demo", path, LAST_OF_DEMO, at_most=300)
    ticks_of("twenty timers", with_timers(tmp_path / "shop.bench"), "00:0", at_most=1500)


def ticks_of(name: str, path: Path, mark: str, *, at_most: int) -> None:
    sent, least = [], []
    with ours_on(path, mark=mark) as terminal:
        terminal.wait_quiet(QUIET_SECONDS)
        for _ in range(ROUNDS):
            was, before = terminal.cells(), len(terminal.raw)
            terminal.wait_until(lambda _, before=before: len(terminal.raw) > before, "a tick")  # type: ignore[misc]
            terminal.wait_quiet(QUIET_SECONDS)
            sent.append(len(terminal.raw) - before)
            least.append(len(cells_alone(was, terminal.cells())))
    bytes_against(f"bytes of a tick, {name}", sent, least, at_most=at_most)


def bytes_against(name: str, sent: Sequence[int], least: Sequence[int], *, at_most: int) -> None:
    """Print the medians; AssertionError where more than so many bytes are sent."""
    own, floor = median(sent), median(least)
    print(f"\n{name}: {own:g} sent (at most {at_most}), the changed cells alone {floor:g}")
    assert 0 < floor <= own <= at_most


def test_memory_at_100x(tmp_path: Path) -> None:
    path = tmp_path / "grown.bench"
    with grown_demo(path, clock=SystemClock()):
        pass
    with (
        ours_on(path, mark=LAST_OF_DEMO) as ours,
        bare(tmp_path, floors.TABLE, mark=floors.LAST_OF_TABLE) as table,
    ):
        read_on((ours, table), LOADED_SECONDS)
        own, floor = (rss_mib(one) for one in (ours, table))
    Ratio("memory at 100x", own, floor, "MiB", 1).must_be_below(2.6)


@contextmanager
def ours_on(path: Path, *, mark: str) -> Iterator[Terminal]:
    """The dashboard on this file, started afresh, all loaded."""
    arguments = "--data", str(path), "--person", "Ines" if path.stem != "shop" else "Ada"
    env = screen_environment(path.parent)
    with Terminal(arguments, env, size="120x36", program=PROGRAM) as terminal:
        terminal.wait_for(mark)
        read_on((terminal,), LOADED_SECONDS)
        yield terminal


@contextmanager
def bare(home: Path, text: str, *, mark: str) -> Iterator[Terminal]:
    """A bare app beside it."""
    first, *arguments = floors.python(text)
    with Terminal(arguments, screen_environment(home), size="120x36", program=[first]) as terminal:
        terminal.wait_for(mark)
        yield terminal


def read_on(terminals: Sequence[Terminal], seconds: float) -> None:
    """Let the programs run for so long."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        for terminal in terminals:
            terminal.wait_quiet(READ_SECONDS)


def cpu_seconds(terminal: Terminal) -> float:
    """Processor time that the program has taken, all its threads together (clock_getcpuclockid(3))."""
    return time.clock_gettime(~terminal.child.pid << 3 | 2)


def rss_mib(terminal: Terminal) -> float:
    """Memory of the program that is in use now, in MiB: its own and its libraries' (proc_pid_status(5))."""
    status = Path(f"/proc/{terminal.child.pid}/status").read_text("ascii")
    return int(status.partition("VmRSS:")[2].split()[0]) / 1024


def with_timers(path: Path) -> Path:
    """A file with so many units in its queue, on each of them a timer that began just now."""
    with file_with(path, units=TIMERS), closing(sqlite3.connect(path)) as connection, connection:
        connection.executemany(
            "INSERT INTO time_entry (task_id, person_id, started_us, attended, note, boot)"
            " VALUES (?, 1, ?, 0, '', '')",
            ((2 * number - 1, SystemClock().now_us()) for number in range(1, TIMERS + 1)),
        )
    return path


def stop_all(desk: Desk) -> None:
    """Stop every timer."""
    with desk.store.read() as connection:
        entries = running(connection)
    for entry in entries:
        stop_entry(desk, entry.entry_id)


def cells_alone(before: Cells, after: Cells) -> bytes:
    """The floor: of each run of changed cells its place, its looks where they change, and its text."""
    sent = ""
    for y, (was, now) in enumerate(zip(before, after, strict=True)):
        changed = [x for x, (one, other) in enumerate(zip(was, now, strict=True)) if one != other]
        for x, x_before in zip(changed, [-2, *changed], strict=False):
            if x != x_before + 1:
                sent += f"\x1b[{y + 1};{x + 1}H"
            if x != x_before + 1 or looks(now[x]) != looks(now[x_before]):
                sent += f"\x1b[{looks(now[x])}m"
            sent += now[x].data
    return sent.encode()


def looks(cell: Char) -> str:
    """A cell's looks as one sequence for a terminal of 2^24 colours."""
    numbers = [str(number) for number, has in ((1, cell.bold), (3, cell.italics), (7, cell.reverse)) if has]
    for number, colour in ((38, cell.fg), (48, cell.bg)):
        if colour != "default":
            numbers.append(f"{number};2;" + ";".join(str(part) for part in bytes.fromhex(colour)))
    return ";".join(["0", *numbers])
