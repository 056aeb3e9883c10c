"""A scanner types a burst of digits and Enter; the queue goes to that unit, and no letter key fires."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bench.domain.tags import tag_from_number
from bench.work.desk import Desk, SystemClock
from bench.work.files import open_or_new
from bench.work.units import add_unit
from tests.pty.program import did, environment, make_shop
from tests.pty.terminal import Terminal, screen_environment

UNITS = 30


@pytest.fixture
def tags(tmp_path: Path) -> list[str]:
    """Thirty units, more than the screen holds."""
    store = open_or_new(make_shop(tmp_path / "shop.bench"))
    desk = Desk(store, SystemClock(), 1)
    added = [add_unit(desk, maker="", model=f"Model {number}", route_id=1).tag for number in range(UNITS)]
    store.close()
    return added


@pytest.fixture
def terminal(tmp_path: Path, tags: list[str]) -> Iterator[Terminal]:
    with Terminal(["--data", str(tmp_path / "shop.bench")], screen_environment(tmp_path)) as opened:
        opened.wait_for(tags[0])
        yield opened


def wait_at(terminal: Terminal, tag: str) -> None:
    """Wait until the cursor's bar stands beside this tag."""
    terminal.wait_until(
        lambda text: any(line.startswith(f"▌{tag}") for line in text.splitlines()), f"the cursor at {tag}"
    )


def test_a_scan_in_one_write_goes_to_its_unit(terminal: Terminal, tags: list[str]) -> None:
    assert tags[-1] not in terminal.text(), "it is not on the first page"
    terminal.send(f"{tags[-1]}\r")
    wait_at(terminal, tags[-1])
    terminal.send(f"{tags[3]}\r")
    wait_at(terminal, tags[3])


def test_two_scans_back_to_back_are_two_scans(terminal: Terminal, tags: list[str]) -> None:
    terminal.send(f"{tags[20]}\r{tags[7]}\r")
    wait_at(terminal, tags[7])
    assert "not a tag" not in terminal.text()


def test_a_wrong_check_digit_is_said_and_nothing_moves(terminal: Terminal, tags: list[str]) -> None:
    wrong = tags[5][:-1] + str((int(tags[5][-1]) + 1) % 10)
    terminal.send(f"{wrong}\r")
    terminal.wait_for("does not fit")
    assert any(line.startswith(f"▌{tags[0]}") for line in terminal.text().splitlines())


def test_a_tag_that_no_unit_bears_is_said(terminal: Terminal) -> None:
    terminal.send(f"{tag_from_number(9999)}\r")
    terminal.wait_for("No unit")


def test_a_pasted_tag_is_like_a_typed_one(terminal: Terminal, tags: list[str]) -> None:
    """Bracketed paste into the jump box, which the first digit opens."""
    terminal.send(tags[12][0])
    terminal.send(f"\x1b[200~{tags[12][1:]}\x1b[201~")
    terminal.wait_for(tags[12])
    terminal.send("\r")
    wait_at(terminal, tags[12])


def test_a_scan_changes_nothing(terminal: Terminal, tags: list[str], tmp_path: Path) -> None:
    for tag in tags[:10]:
        terminal.send(f"{tag}\r")
    wait_at(terminal, tags[9])
    journal = did(environment(tmp_path), "--data", str(tmp_path / "shop.bench"), "journal", "--json").json()
    assert {line["action"] for line in journal["lines"]} == {"add unit"}
