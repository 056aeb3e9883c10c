"""An import takes all rows or none, says of every wrong row what is wrong, and is undone as one."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.importing import (
    COLUMNS,
    KINDS,
    PARTIES,
    PARTS,
    STOCK,
    UNITS,
    WrongRows,
    read_rows,
    template,
)
from bench.errors import BadInput
from bench.views.importing import read_importable
from bench.views.journal import read_journal
from bench.views.queue import read_queue
from bench.views.stock import read_stock
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from bench.work.importing import import_rows
from bench.work.undo import undo
from tests.work.taking_back import kept

THREE = (
    "Maker;Model;Serial number;Price;Due;Route\r\n"
    'Fenn;"Oxlip; the small one";S1;88,50;2026-12-24;full refurbish\r\n'
    ";Burr 17;;;;\r\n"
    "Tarn;Cairn 14;S3;1200.00;;\r\n"
).encode("utf-8-sig")


def queue_models(desk: Desk) -> list[str]:
    return [row.model for stage in read_queue(desk).stages for row in stage.rows]


def test_a_preview_changes_nothing_and_tells_what_would_be(desk: Desk) -> None:
    before = kept(desk)
    seen = import_rows(desk, UNITS, THREE, book=False)
    assert kept(desk) == before
    assert not seen.booked
    assert import_rows(desk, UNITS, THREE, book=True).made == seen.made


def test_booked_it_is_one_line_and_one_undo(desk: Desk) -> None:
    before = kept(desk)
    import_rows(desk, UNITS, THREE, book=True)
    assert queue_models(desk) == ["Fenn Oxlip; the small one", "Burr 17", "Tarn Cairn 14"]
    line = read_journal(desk, limit=1).lines[0]
    assert line.summary == "Imported 3 units"
    undo(desk, line.journal_id)
    assert kept(desk) == before


def test_every_wrong_row_is_named_and_none_is_taken(desk: Desk) -> None:
    before = kept(desk)
    typed = "model,serial number,price,route\nA,S1,x,\nB,S1,,\nC,S1,,no such route\n,,,\nD,,,full refurbish\n"
    with pytest.raises(WrongRows) as raised:
        import_rows(desk, UNITS, typed.encode(), book=True)
    assert [one.line for one in raised.value.wrong] == [2, 4]
    assert "no such route" in str(raised.value)
    assert kept(desk) == before


def test_a_serial_number_twice_is_told(desk: Desk) -> None:
    with pytest.raises(WrongRows, match="Line 3"):
        import_rows(desk, UNITS, b"model,serial number\nA,S1\nB,S1\n", book=True)


def test_the_whole_demo_goes_out_and_comes_in_the_same(tmp_path: Path, desk: Desk) -> None:
    full = Desk(make_demo(tmp_path / "demo.bench", desk.clock), desk.clock, 1)
    empty = Desk(open_or_new(tmp_path / "empty.bench"), desk.clock, 1)
    try:
        with full.store.read() as connection:
            routes = {row[0] for row in connection.execute("SELECT name FROM route WHERE removed = 0")}
        assert routes
        for kind in (UNITS, PARTIES, PARTS):
            rows = read_importable(full, kind)
            assert rows
            import_rows(empty, kind, template(kind, rows).encode(), book=True)
            assert read_importable(empty, kind) == rows
    finally:
        full.store.close()
        empty.store.close()


def test_stock_comes_in_with_what_is_on_hand_at_its_cost(desk: Desk) -> None:
    typed = "name,unit,pack,on hand,cost,code\nink,ml,100,250.5,12.50,4006381333931\ntape,m,10,,,\n"
    import_rows(desk, STOCK, typed.encode(), book=True)
    lines = {one.name: one for one in read_stock(desk).lines}
    assert (lines["ink"].on_hand, lines["tape"].on_hand) == (250_500, 0)
    rows = [one for one in read_importable(desk, STOCK) if one["name"] == "ink"]
    assert rows[0]["on hand"] == "250.5"
    with desk.store.read() as connection:
        [cost] = connection.execute("SELECT cost_minor FROM movement ORDER BY id DESC LIMIT 1").fetchone()
    assert cost == 1250


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("modèle\n".encode("latin-1"), "no UTF-8"),
        (b"model,colour\nA,red\n", "is no column of units"),
        (b"model,model\nA,B\n", "stands there twice"),
        (b"maker\nFenn\n", "column model is missing"),
        (b"model\n", "no rows"),
        (b"", "column model is missing"),
        (b'model\n"open\n', "no CSV"),
        (b"model\nA,B,C\n", "more cells"),
    ],
)
def test_a_file_that_cannot_be_read_is_one_sentence(data: bytes, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        read_rows(UNITS, data)


TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12).map(
    lambda text: text.strip("'\ufeff ")
)


@given(st.sampled_from(KINDS), st.lists(st.lists(TEXTS, min_size=10, max_size=10), min_size=1, max_size=4))
def test_what_a_template_holds_is_read_again(kind: str, cells: list[list[str]]) -> None:
    rows = [dict(zip(COLUMNS[kind], ["x" + texts[0], *texts[1:]], strict=False)) for texts in cells]
    found = read_rows(kind, template(kind, rows).encode())
    assert [{key: text.strip() for key, text in row.items()} for row in rows] == [
        dict(one.texts) for one in found
    ]
