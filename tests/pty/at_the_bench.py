"""A person at the dashboard: what they do, each step waited for until the screen shows it."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from itertools import takewhile
from pathlib import Path
from time import sleep

from bench.dashboard.screens.dialogs.safety_list import A_LOOK_SECONDS
from tests.pty.terminal import Terminal

ENTER, ESCAPE, TAB, SAVE = "\r", "\x1b", "\t", "\x13"
UP, DOWN, HOME = "\x1b[A", "\x1b[B", "\x1b[H"
FIRST, SECOND, THIRD = "10014", "10022", "10039"  # running numbers 1001 to 1003 with their check digits


def set_up_later(terminal: Terminal) -> None:
    """Leave the form that a new file begins with."""
    terminal.wait_for("Set up the shop")
    terminal.send(ESCAPE)
    terminal.wait_gone("Set up the shop")
    terminal.wait_for("The bench is empty")


def zone_where_it_is_noon() -> str:
    """So that a job of an hour lies within one day and one week, whenever the test runs."""
    ahead = 12 - datetime.now(UTC).hour
    return f"Etc/GMT{-ahead:+d}" if ahead else "Etc/GMT"


class Bench:
    """A person at the dashboard: each method is one thing they do, and waits until the screen shows it."""

    def __init__(self, terminal: Terminal, folder: Path) -> None:
        self.terminal = terminal
        self.folder = folder
        self._taken = 0

    def keep_screen(self, name: str) -> str:
        """Keep the screen as text under a number and this name."""
        self._taken += 1
        self.terminal.mark(name)
        text = self.terminal.text()
        (self.folder / f"{self._taken:02}-{name}.txt").write_text(text + "\n", encoding="utf-8")
        return text

    def type_into_field(self, text: str, then: str) -> None:
        """Type into the field that has the focus and go on to the next, whose label is `then`."""
        self.terminal.send(text)
        self.terminal.wait_for(text)
        # Not by Tab: where a busy machine read the text late, a Tab behind it is the end of a scan.
        self.terminal.wait_focus(DOWN, then)

    def choose(self, text: str, opened: str, then: str) -> None:
        """Open the list that has the focus and take the entry that begins so: the focus goes on to `then`."""
        self.terminal.send(ENTER)
        self.terminal.wait_for(opened)
        before = self.terminal.looks_of(then)
        self.terminal.send(text + ENTER)
        self.terminal.wait_until(
            lambda _: bool(self.terminal.looks_of(then) - before), f"the focus at {then}"
        )

    def add_unit(self, maker: str, model: str, tag: str) -> None:
        self.terminal.send("n")
        self.terminal.wait_for("New unit")
        self.type_into_field(maker, then="Model")
        self.type_into_field(model, then="Serial")
        self.terminal.wait_focus(TAB, "Route")
        self.choose("clean", opened="donor strip", then="Due")
        self.terminal.wait_for("clean and re-paste only")
        self.terminal.send(SAVE)
        self.terminal.wait_gone("New unit")
        self.terminal.wait_for(tag, model)

    def scan(self, tag: str) -> None:
        """Put the cursor on this unit of the queue, where it is not there already."""
        if f"▌{tag}" not in self.terminal.text():
            self.terminal.send(f"{tag}{ENTER}")
            self.terminal.wait_for(f"▌{tag}")

    def start(self, task: str) -> None:
        self.terminal.send("s")
        self.terminal.wait_until(lambda text: "► 0 min 0" in text and task in text, f"{task} runs")

    def finish(self, task: str) -> None:
        self.terminal.send("d")
        self.terminal.wait_for(f'Finish "{task}')
        self.terminal.send(SAVE)
        self.terminal.wait_gone(f'Finish "{task}', "►")

    def move_on(self, stage: str) -> None:
        self.terminal.send("m")
        self.terminal.wait_until(lambda text: stands_at(text, stage), f"the heading {stage}")

    def move_on_marking_done(self, stage: str) -> None:
        self.terminal.send("m")
        self.terminal.wait_for("unfinished task")
        self.terminal.send("d")
        self.terminal.wait_until(lambda text: stands_at(text, stage), f"the heading {stage}")

    def tick_lines(self) -> None:
        """Tick the four lines of a checklist, each after a look at it."""
        for number in range(1, 5):
            sleep(A_LOOK_SECONDS)
            self.terminal.send(" ")
            if number < 4:
                self.terminal.wait_for(f"[✓] {number}")

    def tick_opening_list(self, screws: str) -> None:
        self.terminal.send("o")
        self.terminal.wait_for("Opening checklist of", "[ ] 4")
        self.tick_lines()
        self.terminal.wait_for("[✓] 4")
        self.terminal.send(screws)
        self.terminal.send(SAVE)
        self.terminal.wait_gone("Opening checklist of")


def recording_is_whole(folder: Path, name: str) -> None:
    """The recording reads as asciinema v2, with every kept screen marked in it."""
    header, *events = [json.loads(line) for line in (folder / name).read_text().splitlines()]
    assert (header["version"], header["width"], header["height"]) == (2, 120, 36)
    times = [event[0] for event in events]
    assert times == sorted(times)
    marked = [label for _, kind, label in events if kind == "m"]
    assert [path.stem.partition("-")[2] for path in sorted(folder.glob("*.txt"))] == marked
    assert "".join(text for _, kind, text in events if kind == "o").startswith("\x1b[?1049h")


def stands_at(text: str, stage: str, tag: str = "") -> bool:
    """Whether the queue shows a unit at this stage; with a tag, that unit."""
    lines = iter(text.splitlines())
    found = any(line.startswith(f" {stage} ") and "──" in line for line in lines)
    below = takewhile(lambda line: "──" not in line.partition("╭")[0], lines)
    return found and (not tag or any(line[1:].startswith(f"{tag} ") for line in below))
