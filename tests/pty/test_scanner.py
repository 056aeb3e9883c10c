"""A scanner types a burst and Enter, on every screen and in every dialog: no key fires."""

from __future__ import annotations

import re
import shutil
import sqlite3
import time
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from statistics import median
from urllib.parse import quote

import pytest

from bench.desk import Desk, SystemClock
from bench.domain.tags import tag_from_number
from bench.work.files import open_or_new
from bench.work.units import add_unit
from tests.pty.program import did, environment, make_shop
from tests.pty.terminal import Terminal, screen_environment

UNITS = 30
DONE_BEFORE = {"settings", "add unit"}  # making the shop and its units


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
    assert {line["action"] for line in journal["lines"]} == DONE_BEFORE


# Keys that lead to a place, and what it shows once it is there. On a screen a scan opens a dialog of its own;
# in a field of text it stays; elsewhere a notice says that nothing waits for it: those come last, as
# notices lie over what follows.
SCREENS = {
    "the first screen": ("", "n new unit"),
    "the help": ("\x1bOP", "Esc back"),
    "the unit": ("\r", "Esc back"),
    "the stock": ("t", "Esc back"),
    "the week": ("w", "Esc back"),
    "the journal": ("j", "Esc back"),
    "the routes": ("v", "Esc back"),
    "the settings": (",", "Esc back"),
    "the calculators": ("l", "Esc back"),
    "buying": ("\x1bOR", "Esc back"),
    "lots": ("\x1bOS", "Esc back"),
    "the register": ("\x1b[15~", "Esc back"),
    "the month": ("\x1b[17~", "Esc back"),
    "what next": ("\x1bOQ", "Esc back"),
    "the condition": ("fc", "Esc back"),
    "the drives": ("fd", "Esc back"),
    "the parts": ("fp", "Esc back"),
    "the grades": ("fg", "Esc back"),
    "the money": ("fm", "Esc back"),
    "the papers": ("fh", "Esc back"),
    "trading": ("ft", "Esc back"),
}
TEXTS = {
    "a new unit": ("n", "New unit"),
    "holding": ("h", "Hold 1"),
    "a new drive": ("fdn", "New drive"),
    "a part taken": ("fpt", "Part into"),
    "a swap": ("fpw", "Swap a part"),
    "a new offer": ("\x1bORn", "Look at a unit"),
    "a new lot": ("\x1bOSn", "Buy a lot"),
}
OTHERS = {
    "the opening checklist": ("o", "Opening checklist of"),
    "the closing checklist": ("c", "Closing checklist of"),
    "a bad cell": ("x", "What is wrong with the cell"),
    "finishing": ("d", 'Finish "look over'),
    "restocking": ("r", "Restock"),
    "counting": ("k", "Count"),
    "choosing a stage": ("g", "Cancel"),
    "selling": ("fs", "Sell 1"),
}
ON_THE_WAY = {
    "f": "Trading settings",
    "fd": "No drive recorded",
    "fp": "No part came",
    "\x1bOR": "Esc back",
    "\x1bOS": "Esc back",
}
PLACES = {**SCREENS, **TEXTS, **OTHERS}
UP = "\x1b[A"
ESCAPE = "\x1b[27u"  # as a terminal sends it that tells it from Alt: what follows at once is a key of its own
PACES = (0.001, 0.005, 0.020)
BURSTS = ("SNxqndsm19 akrh", "1234", "4006381333931", "dxms")
STUMBLE_SECONDS = 0.030  # a pause above this is no scanner's, but a busy machine's
LATE_SECONDS = 0.005  # the same of its pace
MOST_TRIES = 30


class StumbledError(Exception):
    """The machine was too busy to send as a scanner does: nothing is shown by that."""


def scans(terminal: Terminal, text: str, pace: float) -> None:
    """Send a text and Enter as a scanner does, a character each `pace` seconds."""
    sent = []
    for character in f"{text}\r":
        terminal.send(character)
        sent.append(time.perf_counter())
        time.sleep(pace)
    gaps = [after - before for before, after in pairwise(sent)]
    if max(gaps) > STUMBLE_SECONDS or median(gaps) > pace + LATE_SECONDS:
        raise StumbledError


def scan_at(terminal: Terminal, shop: Path, place: str, first: int) -> None:
    """Open a place by its keys, scan there at each pace, and leave it: no key was pressed."""
    keys, shown = PLACES[place]
    pressed = ""
    for key in re.findall(r"\x1b(?:\[[0-9]*.|O.)|.|\r", keys):
        before, pressed = terminal.text(), pressed + key
        terminal.send(key)
        terminal.wait_until(lambda text, before=before: text != before, f"what {key!r} does")
        terminal.wait_for(ON_THE_WAY.get(pressed, ""))
    terminal.wait_for(shown)
    for number, pace in enumerate(PACES, start=first):
        if place in TEXTS and pace != PACES[0]:
            terminal.send(UP)  # the scanner's Enter led to the next field
        burst = BURSTS[number % len(BURSTS)]
        scans(terminal, burst, pace)
        if place in SCREENS:
            terminal.wait_for(f"Scanned {burst}", "Cancel")
        else:
            terminal.wait_for(burst.partition(" ")[0][-4:])  # wherever it went
    while not is_first(terminal.text()):
        before = terminal.text()
        terminal.send(ESCAPE)
        terminal.wait_until(lambda text, before=before: text != before, f"the way out of {place}")
    assert actions(shop) == DONE_BEFORE, place


def scan_everywhere(folder: Path, shop: Path, places: list[str]) -> None:
    """Scan in each place, one after the other, and take those off the list in which no key was pressed."""
    with Terminal(["--data", str(shop)], screen_environment(folder)) as terminal:
        terminal.wait_for("Model 0")
        while places:
            scan_at(terminal, shop, places[0], len(places))
            del places[0]


def test_a_scanner_presses_no_key_on_any_screen_or_dialog(tags: list[str], tmp_path: Path) -> None:
    """Only the keys of a person open something; whatever is scanned there, the file stays as it is."""
    assert tags
    places = list(PLACES)
    for number in range(MOST_TRIES):
        shop = Path(shutil.copy(tmp_path / "shop.bench", tmp_path / f"try {number}.bench"))
        try:
            scan_everywhere(tmp_path, shop, places)
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
    return "n new unit" in text and "╭─ Safe" in text and text.count("╭") == 1
