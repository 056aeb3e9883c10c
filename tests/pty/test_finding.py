"""Finding in the real terminal: from any screen by a word, over a form, and back to where one was."""

from __future__ import annotations

from pathlib import Path
from time import sleep

import pytest

from tests.pty.at_the_bench import ENTER, ESCAPE, FIRST, SECOND
from tests.pty.program import did, make_shop
from tests.pty.terminal import Terminal, screen_environment

FIND, WHERE_I_WAS = "\x06", "\x0f"
A_GLANCE_SECONDS = 0.3
FIND_HINT = "tag or part of it"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop.bench")


def find(terminal: Terminal, typed: str, found: str) -> None:
    """Open the field, type, wait until the line is there, and take it: at once, it would be a scan."""
    terminal.send(FIND)
    terminal.wait_for(FIND_HINT)
    terminal.send(typed)
    terminal.wait_for(found)
    sleep(A_GLANCE_SECONDS)
    terminal.send(ENTER)
    terminal.wait_gone("Cancel  Esc")


@pytest.mark.parametrize("size", ["80x24", "120x36"])
def test_a_unit_is_found_by_first_letters_and_left_by_where_i_was(shop: Path, size: str) -> None:
    env = screen_environment(shop.parent)
    for model in ("Oxlip 12", "Burr 17"):
        did(env, "--data", str(shop), "add", model, "--maker", "Fenn")
    with Terminal(["--data", str(shop)], env, size=size) as terminal:
        terminal.wait_for("Burr 17")
        find(terminal, "fb17", "unit           10022")
        terminal.wait_for("No tasks yet", f"{SECOND}  Fenn Burr 17")
        find(terminal, "shelf", "Shelf of parts")
        terminal.wait_for("The shelf is empty.")
        find(terminal, FIRST, "unit           10014")
        terminal.wait_for("No tasks yet", f"{FIRST}  Fenn Oxlip 12")
        terminal.send(WHERE_I_WAS)
        terminal.wait_for("The shelf is empty.")
        terminal.send(WHERE_I_WAS)
        terminal.wait_for("No tasks yet", f"{SECOND}  Fenn Burr 17")


def test_over_a_form_what_was_typed_stays(shop: Path) -> None:
    env = screen_environment(shop.parent)
    did(env, "--data", str(shop), "add", "Oxlip 12", "--maker", "Fenn")
    with Terminal(["--data", str(shop)], env, size="120x36") as terminal:
        terminal.wait_for("Oxlip 12")
        terminal.send("n")
        terminal.wait_for("Maker")
        terminal.send("Tarnish")
        terminal.wait_for("Tarnish")
        terminal.send(FIND)
        terminal.wait_for(FIND_HINT)
        terminal.send(ESCAPE)
        terminal.wait_gone(FIND_HINT)
        assert "Tarnish" in terminal.text()
