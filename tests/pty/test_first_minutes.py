"""From an empty file to a running timer by keys alone, each counted; the form left and taken up; the demo."""

from __future__ import annotations

import time
from pathlib import Path

from tests.pty.at_the_bench import DOWN, ESCAPE, SAVE
from tests.pty.program import PROGRAM, did
from tests.pty.terminal import Terminal, screen_environment

F1, F2 = "\x1bOP", "\x1bOQ"
MOST_KEYS = 20
TWO_MINUTES = 120.0  # seconds, the promise of the first ten minutes
READING_SECONDS = 1.5  # a person's, for each key: `common practice, no source`


class Counted:
    """A person's keys, one a call, counted."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal = terminal
        self.pressed: list[str] = []

    def press(self, *keys: str) -> None:
        """Type each and wait until the program has read it: a person is slower than a scanner."""
        for key in keys:
            self.terminal.send(key)
            self.terminal.wait_taken()
            time.sleep(0.06)
        self.pressed += keys


def test_from_an_empty_file_to_a_running_timer(tmp_path: Path) -> None:
    """The whole way with the real program, started afresh, with no page read."""
    env = screen_environment(tmp_path)
    begun = time.monotonic()
    with Terminal([], env, program=PROGRAM) as terminal:
        keys = Counted(terminal)
        terminal.wait_for("Set up the shop", "My workshop", "EUR", "Europe/Berlin", "thermal paste")
        keys.press(SAVE)
        terminal.wait_for("New unit", "must be filled", "full refurbish")
        keys.press(DOWN, *"Hollin 12", SAVE)
        terminal.wait_gone("New unit")
        terminal.wait_for("It is on the bench", "Hollin 12")
        keys.press("s")
        terminal.wait_for("► 0 min 0")
        took = time.monotonic() - begun
        terminal.send("q")
        assert terminal.wait_end() == 0
    assert len(keys.pressed) <= MOST_KEYS, keys.pressed
    assert took + len(keys.pressed) * READING_SECONDS < TWO_MINUTES
    [unit] = [row for stage in did(env, "queue", "--json").json()["stages"] for row in stage["rows"]]
    assert unit["model"] == "Hollin 12"
    assert [entry["task"] for entry in unit["running"]] == ["look over and note faults"]


def test_the_form_is_left_and_taken_up_where_it_was(tmp_path: Path) -> None:
    env = screen_environment(tmp_path)
    with Terminal([], env) as terminal:
        terminal.wait_for("Set up the shop", "battery adhesive strips")
        terminal.wait_focus(DOWN, "Currency")
        terminal.send(DOWN + DOWN + DOWN)
        terminal.send("Bo")
        terminal.wait_for("Bo")
        terminal.wait_focus(DOWN, "[ ] isopropyl")
        terminal.send(" ")
        terminal.wait_for("[✓] isopropyl 99 %", "1000 ml")
        terminal.send(ESCAPE)
        terminal.wait_for("The bench is empty", "Kept as a draft")
        terminal.send("q")
        assert terminal.wait_end() == 0
    with Terminal([], env) as terminal:
        terminal.wait_for("Set up the shop", "restored what you had typed", "[✓] isopropyl 99 %", "Bo")
        terminal.send(SAVE)
        terminal.wait_for("New unit")
        terminal.send(ESCAPE)
        terminal.wait_gone("New unit")
        terminal.send("q")
        assert terminal.wait_end() == 0
    assert [one["name"] for one in did(env, "people", "--json").json()["people"]] == ["ada", "Bo"]
    with Terminal([], env) as terminal:
        terminal.wait_for("The bench is empty")
        terminal.wait_quiet(0.5, patience=3)
        assert "Set up the shop" not in terminal.text()


def test_the_demo_is_one_key_away_says_that_it_is_one_and_leads_back(tmp_path: Path) -> None:
    env = screen_environment(tmp_path, TMPDIR=str(tmp_path))
    with Terminal([], env, size="120x36") as terminal:
        terminal.wait_for("Set up the shop", "F2")
        terminal.send(F2)
        terminal.wait_for("DEMO", "Tollgate", "cleaned")
        assert terminal.text().split()[0] == "DEMO"
        terminal.send("q")
        terminal.wait_for("Set up the shop", "My workshop")
        assert "DEMO" not in terminal.text()
        terminal.send(F1)
        terminal.wait_for("Manual", "A new file asks for the shop's name")
        terminal.send(ESCAPE)
        terminal.wait_gone("A new file asks")
        terminal.send(ESCAPE)
        terminal.wait_gone("Set up the shop")
        terminal.wait_for("The bench is empty")
        terminal.send("q")
        assert terminal.wait_end() == 0
    assert list(tmp_path.glob("bench-demo-*")) == []


def test_a_kept_demo_says_that_it_is_one(tmp_path: Path) -> None:
    env = screen_environment(tmp_path)
    kept = tmp_path / "tour.bench"
    did(env, "demo", "--keep", str(kept), "--no-open")
    with Terminal(["--data", str(kept), "--person", "Ines"], env) as terminal:
        terminal.wait_for("DEMO", "cleaned")
        assert terminal.text().split()[:2] == ["DEMO", "Tollgate"]
