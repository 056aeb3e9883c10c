"""Any described table copied and saved: the same cells in every form, and text that does nothing in any."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import dataclass
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from openpyxl import load_workbook

from bench.domain.amounts import Length, Minor, Thousandths
from bench.errors import BadInput
from bench.reports.plain_tables import told
from bench.reports.saving import save_as
from bench.reports.table_forms import (
    Shown,
    table_csv,
    table_forms,
    table_json,
    table_text,
)
from bench.views.columns import Column, Table
from bench.views.kinds import BAR, COUNT, DAY, HOURS, MONEY, QUANTITY, Amount, Context
from tests.reports.reading import is_plain


@dataclass(frozen=True)
class Inside:
    quantity: Thousandths
    base_unit: str


@dataclass(frozen=True)
class Job:
    job_id: int
    name: str
    paid_minor: Minor | None
    hands_on_us: Length
    due_on: date | None
    inside: Inside


JOBS = Table[Job](
    "jobs",
    "Jobs",
    (
        Column("No.", "job_id", COUNT, from_width=60),
        Column("Name", "name", width=10, grow=1),
        Column("", "hands_on_us", BAR, from_width=70),
        Column("Paid", "paid_minor", MONEY),
        Column("Hours", "hands_on_us", HOURS),
        Column("Due", "due_on", DAY, from_width=90),
        Column(
            "Consumables",
            lambda job: Amount(job.inside.quantity, job.inside.base_unit),
            QUANTITY,
            from_width=80,
        ),
    ),
    key="job_id",
    empty="No jobs.",
)
HOUR_US = 3_600_000_000
FIRST = Job(1, "=1+1 <b>[/]", 12_50, 7 * HOUR_US + HOUR_US // 2, date(2026, 11, 28), Inside(21_389, "ml"))
SECOND = Job(2, "two\tlines\nhere", None, 0, None, Inside(1_000, "piece"))
SHOWN = Shown(JOBS, (FIRST, SECOND), Context("EUR", "Europe/Berlin"))


def test_the_text_is_plain_and_says_when_there_is_nothing() -> None:
    text = table_text(SHOWN)
    is_plain(text)
    assert text.startswith("Jobs\n")
    assert "12.50 EUR" in text
    assert table_text(Shown(JOBS, (), SHOWN.context)) == "Jobs\nNo jobs.\n"


def test_columns_without_room_go_and_figures_are_never_cut() -> None:
    """Ten letters and more of a name, 14 digits of money: what a screen shows from 90 cells on goes first."""
    rich = Job(3, "n" * 60, 10**14, HOUR_US, date(2026, 1, 2), Inside(123_000, "ml"))
    lines = told(JOBS, (rich,), SHOWN.context).split("\n")
    assert "Due" not in lines[0]
    assert "1000000000000.00 EUR" in lines[1]
    assert "nnnnnnnnnn" in lines[1]


def test_a_total_stands_last_and_its_bar_is_left_out() -> None:
    lines = told(JOBS, (FIRST,), SHOWN.context, total=Job(9, "total", 1, HOUR_US, None, FIRST.inside)).split(
        "\n"
    )
    assert [("█" in line) for line in lines] == [False, True, False]
    assert "total" in lines[2]


def test_the_csv_is_exact_and_runs_nothing() -> None:
    first, second = csv.DictReader(io.StringIO(table_csv(SHOWN), newline=""))
    assert first["name"] == "'=1+1 <b>[/]"
    assert (first["paid_minor"], first["hands_on_us"], first["hands_on_minutes"]) == (
        "1250",
        str(27_000_000_000),
        "450",
    )
    assert (first["quantity_thousandths"], first["due_on"], first["currency"]) == (
        "21389",
        "2026-11-28",
        "EUR",
    )
    assert (second["paid_minor"], second["due_on"]) == ("", "")


def test_the_json_has_null_for_what_is_unknown() -> None:
    facts = json.loads(table_json(SHOWN))
    assert (facts["document"], facts["table"], facts["zone"]) == ("table", "jobs", "Europe/Berlin")
    assert facts["rows"][1]["paid_minor"] is None
    assert facts["rows"][0]["inside"] == {"quantity_thousandths": 21_389, "base_unit": "ml"}


class Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.tags.append(tag)


def test_a_table_is_saved_in_the_form_that_its_name_asks_for(tmp_path: Path) -> None:
    for ending in table_forms():
        path = save_as(SHOWN, table_forms(), str(tmp_path / f"jobs{ending}"))
        if ending == ".xlsx":
            rows = list(load_workbook(path).active.iter_rows(values_only=True))
            assert 12.5 in rows[1]
        else:
            assert "12.50 EUR" in path.read_text() or "1250" in path.read_text()
    tags = Tags()
    tags.feed((tmp_path / "jobs.html").read_text())
    assert tags.tags.count("tr") == 3
    assert "b" not in tags.tags
    with pytest.raises(BadInput, match="does not say which format"):
        save_as(SHOWN, table_forms(), str(tmp_path / "jobs.pdf"))
