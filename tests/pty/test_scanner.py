"""A scanner types a burst and Enter, on every screen and in every dialog: no key fires."""

from __future__ import annotations

import re
import shutil
import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

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


PLACES = {
    "the first screen": "",
    "the help": "\x1bOP",
    "the unit": "\r",
    "the stock": "t",
    "a consumable": "t\r",
    "the week": "w",
    "the journal": "j",
    "the routes": "v",
    "the settings": ",",
    "the calculators": "l",
    "more": "f",
    "buying": "\x1bOR",
    "lots": "\x1bOS",
    "the register": "\x1b[15~",
    "the month": "\x1b[17~",
    "what next": "\x1bOQ",
    "the condition": "fc",
    "the drives": "fd",
    "the parts": "fp",
    "the grades": "fg",
    "the money": "fm",
    "the papers": "fh",
    "trading": "ft",
    "a new unit": "n",
    "the opening list": "o",
    "the close-up list": "c",
    "a bad cell": "x",
    "finishing": "d",
    "restocking": "r",
    "counting": "k",
    "holding": "h",
    "choosing a stage": "g",
    "a new offer": "\x1bORn",
    "a new lot": "\x1bOSn",
    "a reading": "fcn",
    "a new drive": "fdn",
    "a part taken": "fpt",
    "a swap": "fpw",
    "a grade": "fg\r",
    "selling": "fs",
}
PACES = (0.001, 0.005, 0.020)
BURSTS = ("SNxqndsm19 akrh", "1234", "4006381333931", "dxms")
STUMBLE_SECONDS = 0.030  # a pause above this is no scanner's, but a busy machine's
MOST_TRIES = 30


class StumbledError(Exception):
    """The machine was too busy to send as a scanner does: nothing is shown by that."""


def person_presses(terminal: Terminal, keys: str) -> None:
    """Press keys one after the other, each once the screen shows what the one before did."""
    for key in re.findall(r"\x1b(?:\[[0-9]*.|O.)|.|\r", keys):
        before = terminal.text()
        terminal.send(key)
        terminal.wait_until(lambda text, before=before: text != before, f"what {key!r} does")


def scans(terminal: Terminal, text: str, pace: float) -> None:
    """Send a text and Enter as a scanner does, a character each `pace` seconds."""
    before = time.perf_counter()
    for character in f"{text}\r":
        terminal.send(character)
        now = time.perf_counter()
        if now - before > STUMBLE_SECONDS:
            raise StumbledError
        before = now
        time.sleep(pace)


def scan_everywhere(folder: Path, shop: Path, places: list[str], pace: float) -> None:
    """Scan in each place, one after the other, and take those off the list in which no key was pressed."""
    with Terminal(["--data", str(shop)], screen_environment(folder)) as terminal:
        terminal.wait_for("Model 0")
        while places:
            person_presses(terminal, PLACES[places[0]])
            for burst in (BURSTS[0], BURSTS[1 + len(places) % 3]):
                scans(terminal, burst, pace)
            for _ in range(8):
                if is_first(terminal.text()):
                    break
                before = terminal.text()
                terminal.send("\x1b")
                terminal.wait_until(
                    lambda text, before=before: text != before, f"Escape leads out of {places[0]}"
                )
            assert is_first(terminal.text()), f"{places[0]}: {terminal.text()}"
            assert actions(shop) == {"add unit"}, places[0]
            del places[0]


@pytest.mark.parametrize("pace", PACES)
def test_a_scanner_presses_no_key_on_any_screen_or_dialog(
    tags: list[str], tmp_path: Path, pace: float
) -> None:
    """Only the keys of a person open something; whatever is scanned there, the file stays as it is."""
    assert tags
    places = list(PLACES)
    for number in range(MOST_TRIES):
        shop = Path(shutil.copy(tmp_path / "shop.bench", tmp_path / f"try {number}.bench"))
        try:
            scan_everywhere(tmp_path, shop, places, pace)
        except StumbledError:
            continue
        return
    pytest.skip(f"this machine was too busy to be a scanner in {places}")


def actions(shop: Path) -> set[str]:
    """What the file's journal tells of."""
    connection = sqlite3.connect(f"file:{quote(str(shop))}?mode=ro", uri=True)
    try:
        return {action for (action,) in connection.execute("SELECT DISTINCT action FROM journal")}
    finally:
        connection.close()


def is_first(text: str) -> bool:
    """Whether the first screen is all that is seen."""
    return "n new unit" in text and "╭─ Safe" in text and text.count("╭") <= 2
