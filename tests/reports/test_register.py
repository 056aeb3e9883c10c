"""The register in every form says the same, and text from people does nothing in any of them."""

from __future__ import annotations

import csv
import io
import json
from html.parser import HTMLParser

import pytest

from bench.desk import Desk
from bench.reports.register import (
    CSV_COLUMNS,
    register_csv,
    register_html,
    register_json,
    register_text,
)
from bench.views.register import NOT_ADVICE, VOID, Register, read_register
from bench.views.tables.register import REGISTER
from bench.work.comebacks import take_return
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.reports.reading import companions_agree, is_plain, same
from tests.work.sale_steps import MARKET, bought_from, sell, stage, stocked, trading

FORMULA = '=HYPERLINK("http://x")'
MARKUP = "<script>alert(1)</script> [red]"


class Cells(HTMLParser):
    """What a browser would show in the cells of a page, row by row, and every tag it would make."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self.tags: set[str] = set()
        self.inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        if tag == "tr":
            self.rows.append([])
        self.inside = tag in ("td", "th")
        if self.inside:
            self.rows[-1].append("")

    def handle_endtag(self, tag: str) -> None:
        self.inside = False

    def handle_data(self, data: str) -> None:
        if self.inside:
            self.rows[-1][-1] += data.strip()


@pytest.fixture
def register(desk: Desk, clock: HandSetClock) -> Register:
    """One sold twice, one sold at a loss, one in stock out of a lot, one void, with names that upset."""
    trading(desk, hold_days_text="2")
    twice = add_unit(desk, maker="Acorn", model=MARKUP, serial="@SN", price_text="300").unit_id
    bought_from(desk, twice, FORMULA, "2026-11-01")
    loss = stocked(desk, "450.50")
    lot = stocked(desk, "100")
    bought_from(desk, lot, "-Lot seller", "2026-11-20", lot="+Pallet")
    stocked(desk)
    undo(desk)
    undo(desk)
    sell(desk, twice, "700", buyer_name=MARKUP, buyer_address="=1+1", invoice="S-1", channel_id=MARKET)
    sell(desk, loss, "400")
    clock.advance(minutes=60)
    take_return(
        desk, twice, reason="key", refund_text="700", postage_text="0", stage_id=stage(desk, "inspected")
    )
    clock.advance(minutes=60)
    sell(desk, twice, "610.10")
    return read_register(desk)


def test_the_csv_holds_every_line_and_field(register: Register) -> None:
    rows = list(csv.DictReader(io.StringIO(register_csv(register))))
    assert tuple(rows[0]) == CSV_COLUMNS
    assert [(row["number"], row["sale"]) for row in rows] == [
        *(("1", "1"), ("1", "2"), ("2", "1"), ("3", ""), ("4", "")),
    ]
    for row, line in zip(rows, register.lines, strict=True):
        for name in set(CSV_COLUMNS) - {"currency"}:
            value = getattr(line, name)
            told = row[name].removeprefix("'") if isinstance(value, str) else row[name]
            assert told == ("" if value is None else str(value)), name
    assert {row["currency"] for row in rows} == {"EUR"}


def test_no_cell_of_the_csv_is_run_by_a_spreadsheet(register: Register) -> None:
    for row in csv.reader(io.StringIO(register_csv(register))):
        for cell in row:
            plain_number = cell.removeprefix("-").isdigit()
            assert plain_number or not cell.startswith(("=", "+", "-", "@"))
    assert f"'{FORMULA}".replace('"', '""') in register_csv(register)


def test_the_html_shows_text_and_makes_nothing_of_it(register: Register) -> None:
    page = register_html(register)
    cells = Cells()
    cells.feed(page)
    assert not cells.tags & {"script", "img", "a", "link", "iframe"}
    headings = cells.rows[0]
    assert headings == [column.heading for column in REGISTER.columns]
    price, margin, tax = headings.index("For"), headings.index("Margin"), headings.index("Tax")
    body = cells.rows[1 : 1 + len(register.lines)]
    assert [row[0] for row in body] == ["1", "1/2", "2", "3", "4"]
    assert body[0][2] == f"Acorn {MARKUP}"
    assert body[0][5:7] == [FORMULA, f"{FORMULA} Street"]
    assert (body[1][price], body[1][margin], body[1][tax]) == ("610.10 EUR", "310.10 EUR", "51.68 EUR")
    assert "came back 2026-11-25, refunded 700.00 EUR" in body[0][-1]
    assert (body[2][margin], body[2][tax]) == ("-50.50 EUR", "0.00 EUR")
    assert body[3][-2:] == ["in stock", "share of the lot +Pallet, 300.00 EUR"]
    assert body[3][headings.index("Free from")] == "2026-11-22"
    assert body[4][0] == "4"
    assert set(body[4][1:-2]) == {"", "–"}
    assert body[4][-2:] == ["void", VOID]
    assert NOT_ADVICE in page


def test_the_json_holds_the_view_and_its_sums(register: Register) -> None:
    facts = json.loads(register_json(register))
    same(register, facts)
    assert companions_agree(facts) == 1
    # 300 + 450.50 + 100; 700 + 400 + 610.10; 310.10 - 50.50; 310.10 / 6
    assert [facts[f"{name}_minor"] for name in ("purchases", "sales", "refunds", "margins", "taxes")] == [
        *(85_050, 171_010, 70_000, 25_960, 5_168),
    ]


def test_the_text_fits_a_terminal_and_tells_each_line(register: Register) -> None:
    text = register_text(register)
    is_plain(text)
    flat = " ".join(text.split())
    for words in (
        f"Acorn {MARKUP}, serial @SN; bought 2026-11-01 from {FORMULA}, invoice P-1 for 300.00 EUR",
        f"sold 2026-11-25 to {MARKUP}, invoice S-1 for 700.00 EUR; came back 2026-11-25",
        "1/2 10014 Acorn",
        "sold 2026-11-25 to Quendolin Buyer for 610.10 EUR; margin 310.10 EUR; tax 51.68 EUR",
        "in the lot +Pallet for 100.00 EUR; free from 2026-11-22; in stock",
        f"4 {VOID}",
        "on, at 20 %",
        "2 days from the purchase",
    ):
        assert words in flat, words


def test_a_shop_without_scheme_or_units(desk: Desk) -> None:
    text = register_text(read_register(desk))
    assert "The register has no such line." in text
    assert "Margin scheme: off" in text
    assert "Waiting period: none" in text
    stocked(desk, "")
    assert "for a price not noted" in " ".join(register_text(read_register(desk)).split())
    assert len(list(csv.reader(io.StringIO(register_csv(read_register(desk)))))) == 2
