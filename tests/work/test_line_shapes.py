"""Lines of the journal carry the shape in which they are written; of another one they are refused, unread."""

from __future__ import annotations

import sqlite3

import pytest

from bench.desk import Desk
from bench.errors import Refused, StoreError
from bench.store.revision import SHAPE
from bench.views.journal import read_journal
from bench.work.check import check_file, check_newest
from bench.work.moves import hold_unit
from bench.work.undo import read_offers_to_undo, undo
from tests.work.taking_back import changes_nothing
from tests.work.trade_steps import new_unit


def reshape(desk: Desk, shape: int) -> int:
    """Give the newest line another shape, past the rule that keeps it; answers its number."""
    newest = read_journal(desk).lines[0].journal_id
    connection = sqlite3.connect(desk.store.path, isolation_level=None)
    connection.execute("DROP TRIGGER journal_stays")
    connection.execute("UPDATE journal SET shape = ? WHERE id = ?", (shape, newest))
    connection.close()
    return newest


@pytest.fixture
def held(desk: Desk) -> Desk:
    hold_unit(desk, new_unit(desk), "waits for a key")
    return desk


def test_every_line_says_its_shape(held: Desk) -> None:
    with held.store.read() as connection:
        shapes = {row[0] for row in connection.execute("SELECT shape FROM journal")}
    assert shapes == {SHAPE}


@pytest.mark.parametrize("shape", [0, SHAPE + 1])
def test_a_line_of_another_shape_is_not_undone(held: Desk, shape: int) -> None:
    line = reshape(held, shape)
    said = f"Line {line} of the journal is of shape {shape}, and this version undoes those of shape {SHAPE}"
    changes_nothing(held, lambda: undo(held), Refused, said)
    assert said in read_offers_to_undo(held)[0].refusal


def test_the_journal_is_not_replayed_over_a_line_of_an_unknown_shape(held: Desk) -> None:
    line = reshape(held, SHAPE + 1)
    said = f"Line {line} of the journal is of shape {SHAPE + 1}, which this version cannot replay."
    found = check_file(held.store)
    assert found.record.differences == ()
    assert [one.startswith(said) for one in found.record.sums] == [True]
    assert not found.sound
    with pytest.raises(StoreError, match=said):
        check_newest(held.store)


def test_the_shape_before_moves_were_rows_is_replayed(held: Desk) -> None:
    reshape(held, 0)
    assert check_file(held.store).sound
    assert check_newest(held.store) == ()
