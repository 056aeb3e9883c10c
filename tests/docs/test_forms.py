"""Every screen tells days, times, money and quantities in the one form of each.

Held by what the screens show, as it is written down. The forms: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

SNAPSHOTS = sorted((Path(__file__).parent / "snapshots").glob("*.txt"))
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in SNAPSHOTS}

# Papers keep the days of files, and what is copied goes into files.
PAPERS = ("certificate", "papers", "dialog-listing", "dialog-listing-words", "dialog-copy")
# What is typed stays exact: the label of a field, and what stands in it.
FIELD = re.compile(r"(Due|Start|Stop|Firmware date) +[0-9]{4}-[0-9]{2}-[0-9]{2}")
OF_THE_WEEK = ("week", "dialog-correct-entry")
TOP_LINE = re.compile(r"  (Mon|Tue|Wed|Thu|Fri|Sat|Sun) [0-9]{1,2} [A-Z][a-z]{2} [0-9]{2}:[0-9]{2}  ")

ISO_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
WEEKDAY = re.compile(r"\b(Mon|Tue|Wed|Thu|Fri|Sat|Sun) [0-9]{1,2} [A-Z][a-z]{2}\b")
MONTHS = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
DAY = re.compile(rf"(?<![0-9.])([0-9]{{1,2}}) ({MONTHS})\b(?: ([0-9]{{4}}))?")
CLOCK = re.compile(r"\b[0-9]+:[0-9]{2}:[0-9]{2}\b")
SECONDS = re.compile(r"\b([0-9]+) min [0-9]{2}\b(?![0-9./])")
FINE = re.compile(r"\b([0-9]{2,}\.[0-9]{2,}|[0-9]{3,}\.[0-9]+|[1-9]\.[0-9]{3,}) (ml|g|m|piece|pieces)\b")
HOURS = re.compile(r"\b[0-9]+\.[0-9]{2,} h\b")
LABOUR = re.compile(r"labour +[0-9]+\.[0-9]+ h")  # hours of a quote are a quantity that is typed
FRAME = re.compile(r"╭─ [^─╭╮]*, EUR ─+╮")
CELL = re.compile(r" {2,}[≥≤]? ?-?[0-9]+\.[0-9]{2} EUR")


def found(form: re.Pattern[str], text: str) -> list[str]:
    return [match[0] for match in form.finditer(text)]


def money_panels(text: str) -> Iterator[str]:
    """What stands in each frame whose title tells the currency."""
    for size in text.split("=== ")[1:]:
        lines = size.split("\n")
        for top, line in enumerate(lines):
            for frame in FRAME.finditer(line):
                inside = slice(frame.start() + 1, frame.end() - 1)
                for below in lines[top + 1 :]:
                    if below[frame.start() : frame.start() + 1] != "│":
                        break
                    yield below[inside]


@pytest.mark.parametrize("name", TEXTS)
def test_days_are_short(name: str) -> None:
    text = TEXTS[name]
    if name not in PAPERS:
        assert found(ISO_DAY, FIELD.sub("", text)) == []
    if name not in OF_THE_WEEK:
        assert found(WEEKDAY, TOP_LINE.sub("  ", text)) == []
    for number, month, year in DAY.findall(text):
        assert date(int(year or 2024), 1 + MONTHS.split("|").index(month), int(number))
        assert not number.startswith("0")


@pytest.mark.parametrize("name", TEXTS)
def test_times_are_short(name: str) -> None:
    text = TEXTS[name]
    assert found(CLOCK, text) == []
    assert [minutes for minutes in SECONDS.findall(text) if int(minutes) >= 10] == []
    assert found(HOURS, LABOUR.sub("", text)) == []


@pytest.mark.parametrize("name", TEXTS)
def test_quantities_have_three_places_at_most(name: str) -> None:
    assert found(FINE, TEXTS[name]) == []


@pytest.mark.parametrize("name", TEXTS)
def test_the_currency_of_a_table_stands_once(name: str) -> None:
    assert [line for line in money_panels(TEXTS[name]) if CELL.search(line)] == []


def test_there_is_something_to_look_at() -> None:
    """The forms are found where they are allowed, so that a check of them can fail."""
    whole = "\n".join(TEXTS.values())
    assert len(found(DAY, whole)) > 500
    assert found(WEEKDAY, TEXTS["week"])
    assert found(ISO_DAY, TEXTS["certificate"])
    assert {name for name, text in TEXTS.items() if any(money_panels(text))} >= {
        "buying", "expenses", "lots", "money", "month", "orders", "register", "stock", "three-ways"
    }  # fmt: skip


@pytest.mark.parametrize(
    ("form", "wrong"),
    [
        (ISO_DAY, "open until 2026-12-08"),
        (WEEKDAY, "since Wed 25 Nov 15:01"),
        (CLOCK, "► 00:23:11"),
        (SECONDS, "► 23 min 11  wipe"),
        (FINE, "12.345 ml on hand"),
        (FINE, "1.234 m"),
        (HOURS, "7.53 h"),
        (CELL, "price paid         200.00 EUR  2 rows"),
        (CELL, "│ cost so far     ≥ 12.00 EUR"),
    ],
)
def test_a_form_that_is_not_ours_is_found(form: re.Pattern[str], wrong: str) -> None:
    assert found(form, wrong)


def test_a_cell_with_its_currency_is_found_in_its_frame() -> None:
    drawn = "=== 80 x 24\n╭─ Cost, EUR ──────────╮\n│ price     200.00 EUR │\n╰──────────────────────╯"
    assert [line for line in money_panels(drawn) if CELL.search(line)] == [" price     200.00 EUR "]
