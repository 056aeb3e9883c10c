"""A month in every form: the same facts, a bar beside each line, and sums that add up."""

from __future__ import annotations

import csv
import io
import json
from collections import defaultdict

import pytest

from bench.desk import Desk
from bench.reports.month_sheet import CSV_COLUMNS, month_csv, month_json, month_text
from bench.views.months import RULE, MonthSheet, read_month, read_year
from bench.work.comebacks import take_return
from bench.work.moves import hold_unit
from bench.work.stock import restock
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.reports.reading import companions_agree, is_plain, same
from tests.work.bookkeeping import ISOPROPYL, any_task, take
from tests.work.sale_steps import MARKET, bought_from, sell, stage, trading
from tests.work.time_rows import at, first_task, record


@pytest.fixture
def traded(desk: Desk, clock: HandSetClock) -> Desk:
    """Two sold, one at a loss, one returned, one held, hours, consumables, and names that upset."""
    trading(desk)
    makers = ("=Acorn", "[red]Birch[/]", "修理" * 20)
    units = [add_unit(desk, maker=one, model="M", price_text="300", route_id=1).unit_id for one in makers]
    bought_from(desk, units[0], "-Zebulon <b>", "2026-11-01")
    for number, unit_id in enumerate(units):
        record(
            desk,
            first_task(desk, unit_id),
            at(f"2026-11-1{number}T10:00+01:00"),
            at(f"2026-11-1{number}T11:17+01:00"),
        )
    restock(desk, ISOPROPYL, packs_text="1", price_text="10")
    take(desk, any_task(desk), ISOPROPYL, 45_000)
    skip = {"open_tasks": "skip", "reason": "as it came"}
    sell(desk, units[0], "700", channel_id=MARKET, shipping_text="8.90", **skip)
    sell(desk, units[1], "250", **skip)
    sell(desk, units[2], "500", **skip)
    clock.advance(minutes=60)
    take_return(
        desk, units[2], reason="key", refund_text="500", postage_text="0", stage_id=stage(desk, "inspected")
    )
    hold_unit(desk, units[2], "=part on order")
    return desk


@pytest.fixture(params=["month", "year"])
def sheet(traded: Desk, request: pytest.FixtureRequest) -> MonthSheet:
    return read_month(traded, 2026, 11) if request.param == "month" else read_year(traded, 2026)


def rows_of(sheet: MonthSheet) -> dict[str, list[dict[str, str]]]:
    rows: defaultdict[str, list[dict[str, str]]] = defaultdict(list)
    for row in csv.DictReader(io.StringIO(month_csv(sheet))):
        rows[row["row"]].append(row)
    return rows


def test_the_text_fits_a_terminal_and_has_a_bar_a_line(sheet: MonthSheet) -> None:
    text = month_text(sheet)
    is_plain(text)
    parts = {part.split("\n")[0]: part.split("\n")[2:] for part in text.split("\n\n")}
    for title, lines in (
        ("Earned by route", sheet.by_route),
        ("Earned by source", sheet.by_source),
        ("Earned by maker", sheet.by_maker),
    ):
        assert len(parts[title]) == len(lines)
        for shown, line in zip(parts[title], lines, strict=True):
            assert any(mark in shown for mark in "█▒▏▎▍▌▋▊▉") == bool(line.per_hour_minor), shown
    assert ("Earned by month" in parts) == (sheet.span.month is None)
    assert "Longest in the queue now" in parts
    assert " ".join(RULE.split()) in " ".join(text.split())
    assert "‖ inspected" in text
    assert "    on hold: =part on order" in text


def test_losses_are_drawn_apart(traded: Desk) -> None:
    line = next(line for line in month_text(read_month(traded)).split("\n") if line.startswith("[red]Birch"))
    assert "-▒" in line
    assert "-50.00 EUR" in line


def test_the_head_names_the_span(traded: Desk) -> None:
    assert month_text(read_month(traded)).startswith("November 2026\n")
    assert month_text(read_year(traded)).startswith("2026\n")
    assert "Came back in this span: 1, refunded 500.00 EUR." in month_text(read_month(traded))
    assert "Came back" not in month_text(read_month(traded, 2026, 10))


def test_the_csv_adds_up_row_by_row(sheet: MonthSheet) -> None:
    rows = rows_of(sheet)
    (total,) = rows["total"]
    assert tuple(total) == CSV_COLUMNS
    for kind in ("route", "source", "maker", *(["month"] if sheet.by_month else [])):
        for name in ("units", "margin_minor", "hands_on_us", "spent_us"):
            assert sum(int(row[name]) for row in rows[kind]) == int(total[name]), (kind, name)
    assert sum(int(row["amount_minor"]) for row in rows["line"]) == int(total["margin_minor"])
    assert sum(int(row["cost_so_far_minor"]) for row in rows["tied_up"]) == sheet.tied_up_minor
    assert sum(int(row["cost_minor"]) for row in rows["used"]) == sheet.used_minor
    assert [int(row["days"]) for row in rows["slow"]] == [one.days for one in sheet.slowest]
    assert (total["returns"], total["refunds_minor"]) == ("1", "50000")
    assert {row["span"] for kind in rows.values() for row in kind} == {str(sheet.span)}


def test_no_cell_of_the_csv_is_run_by_a_spreadsheet(sheet: MonthSheet) -> None:
    for row in csv.reader(io.StringIO(month_csv(sheet))):
        for cell in row:
            assert cell.removeprefix("-").isdigit() or not cell.startswith(("=", "+", "-", "@"))


def test_the_json_holds_the_view(sheet: MonthSheet) -> None:
    facts = json.loads(month_json(sheet))
    assert facts["document"] == ("year" if sheet.span.month is None else "month")
    assert facts.pop("span") == str(sheet.span)
    for name in (
        "total",
        "lines",
        "by_month",
        "by_route",
        "by_source",
        "by_maker",
        "tied_up",
        "slowest",
        "used",
    ):
        same(getattr(sheet, name), facts[name])
    assert companions_agree(facts) > 10
    assert facts["total"]["per_hour_minor"] == sheet.total.per_hour_minor
    assert facts["by_maker"][0]["per_spent_hour_minor"] == sheet.by_maker[0].per_spent_hour_minor
    assert facts["used"][0]["per_unit_thousandths"] == sheet.used[0].per_unit
    assert facts["tied_up_at_least_minor"] == sheet.tied_up_minor


def test_an_empty_month_is_a_sheet(desk: Desk) -> None:
    text = month_text(read_month(desk))
    is_plain(text)
    assert "0 units sold" in text
    assert "Earned by" not in text
    assert json.loads(month_json(read_month(desk)))["used_per_unit_minor"] is None
    assert len(rows_of(read_month(desk))["total"]) == 1
