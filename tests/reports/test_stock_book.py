"""The stock book and one consumable's history: text, CSV and JSON."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from datetime import date

from bench.desk import Desk
from bench.reports.stock_book import (
    HISTORY_COLUMNS,
    STOCK_COLUMNS,
    history_csv,
    history_json,
    history_text,
    stock_csv,
    stock_json,
    stock_text,
)
from bench.views.stock import ConsumableHistory, StockBook, read_history, read_stock
from tests.reports.reading import companions_agree, is_plain, same


def table_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_the_json_read_back_is_the_book(busy: Desk) -> None:
    book = read_stock(busy)
    facts = json.loads(stock_json(book))
    same(book, facts)
    assert (facts["document"], facts["shape"], facts["currency"]) == ("stock", 2, "EUR")
    assert set(facts["lines"][0]) | {"currency"} == set(STOCK_COLUMNS)


def test_the_json_read_back_is_the_history(busy: Desk) -> None:
    history = read_history(busy, 1)
    facts = json.loads(history_json(history))
    same(history, facts)
    assert facts["document"] == "consumable"
    assert companions_agree(facts) == len(history.movements) == 2


def test_the_csv_read_back_is_the_book(busy: Desk) -> None:
    book = read_stock(busy)
    rows = table_of(stock_csv(book))
    assert tuple(rows[0]) == STOCK_COLUMNS
    assert [(row["name"], row["on_hand_thousandths"], row["value_minor"], row["low"]) for row in rows] == [
        (line.name, str(line.on_hand), str(line.value_minor), str(line.low).lower()) for line in book.lines
    ]
    assert {row["currency"] for row in rows} == {"EUR"}


def test_the_csv_of_movements_adds_up_to_the_level(busy: Desk) -> None:
    history = read_history(busy, 1)
    rows = table_of(history_csv(history))
    assert tuple(rows[0]) == HISTORY_COLUMNS
    assert sum(int(row["quantity_thousandths"]) for row in rows) == history.line.on_hand == 1_500_000
    assert sum(int(row["cost_minor"]) for row in rows) == history.line.value_minor
    assert [row["kind"] for row in rows] == ["count", "receipt"]
    assert (rows[1]["supplier"], rows[0]["reason"]) == ("'=Supplier", "'@spilt")
    assert rows[1]["expires_on"] == "2026-12-24"


def test_the_text_tells_level_value_and_what_to_mind(busy: Desk) -> None:
    text = stock_text(read_stock(busy))
    is_plain(text)
    assert "isopropyl 99 %" in text
    assert "1500 ml" in text
    assert "Stock on hand cost 17.99 EUR." in text  # three quarters of 23.99, half up
    assert "isopropyl 99 %: next to expire on 2026-12-24; Flammable" in text


def test_low_and_expired_stock_is_said(busy: Desk) -> None:
    line = replace(
        read_stock(busy).lines[0],
        name="[b]paste",
        base_unit="g",
        low=True,
        suggest_packs=1,
        expired=1500,
        hazard="",
        next_expiry=None,
        days_of_cover=12.4,
        reorder_at=2500,
    )
    text = stock_text(StockBook((line, replace(line, suggest_packs=3, expired=0)), "EUR"))
    is_plain(text)
    assert (
        "[b]paste: at or below its reorder point, 1 pack suggested; 1.5 g past its date\n"
        "[b]paste: at or below its reorder point, 3 packs suggested\n"
    ) in text
    assert " 2.5 g ~   12 d " in text


def test_the_history_tells_each_movement(busy: Desk) -> None:
    text = history_text(read_history(busy, 1))
    is_plain(text)
    lines = text.split("\n")
    assert lines[0] == "isopropyl 99 %"
    counted, received = lines[-3:-1]
    assert "count (@spilt)" in counted
    assert "  -500 ml  1500 ml  -6.00 EUR" in counted
    assert "delivery from =Supplier  Ada  +2000 ml  2000 ml  23.99 EUR" in received


def test_an_issue_names_its_task_and_no_movement_is_said(busy: Desk) -> None:
    history = read_history(busy, 2)
    assert "No movement yet." in history_text(history)
    is_plain(history_text(history))
    one = replace(
        read_history(busy, 1).movements[0], tag="10014", task="clean", reason="", expires_on=date(2027, 1, 1)
    )
    text = history_text(ConsumableHistory(replace(history.line, hazard=""), "EUR", "UTC", (one,)))
    assert "10014 clean" in text
    is_plain(text)
