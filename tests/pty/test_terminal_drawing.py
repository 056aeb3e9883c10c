"""Only the cells that differ are sent: after any key the terminal shows what a whole drawing shows."""

from __future__ import annotations

from pathlib import Path

from bench.desk import SystemClock
from tests.benchmarks.grown_demo import grown_demo
from tests.benchmarks.measure_running import stop_all
from tests.pty.at_the_bench import DOWN, ESCAPE, HOME, UP
from tests.pty.terminal import Terminal, screen_environment

QUIET_SECONDS = 0.3
MOST_SECONDS = 1.2  # where a field's cursor blinks it is never quiet for long
KEYS = (DOWN + DOWN + UP, "/wi", ESCAPE + HOME, "\t" + DOWN, "f", ESCAPE + "n", "wide 漢字")


def told(terminal: Terminal) -> list[str]:
    """Each cell below the line with the time of day, and how it looks."""
    return [f"{y},{x} {cell}" for y, row in enumerate(terminal.cells()) for x, cell in enumerate(row) if y]


def test_the_terminal_shows_what_a_whole_drawing_shows(tmp_path: Path) -> None:
    path = tmp_path / "demo.bench"
    with grown_demo(path, days=0, clock=SystemClock()) as desk:
        stop_all(desk)  # so that nothing changes by itself
    arguments = "--data", str(path), "--person", "Ines"
    with Terminal(arguments, screen_environment(tmp_path), size="120x36") as terminal:
        terminal.wait_for("10549")
        for key in KEYS:
            terminal.send(key)
            terminal.wait_taken()
            terminal.wait_quiet(QUIET_SECONDS, MOST_SECONDS)
            by_changes = told(terminal)
            terminal.resize("120x40")
            terminal.wait_quiet(QUIET_SECONDS, MOST_SECONDS)
            terminal.resize("120x36")
            # Not at once the same where a field's cursor blinks.
            terminal.wait_until(lambda _, told_before=by_changes: told(terminal) == told_before, repr(key))  # type: ignore[misc]
