"""What is left of each receipt, as the file keeps it, is what its movements come to."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from tests.store.test_movement_rules import book, issue

SUMMED = """SELECT COALESCE(layer_id, id), MIN(consumable_id), SUM(quantity), SUM(cost_minor) FROM movement
GROUP BY 1 HAVING SUM(quantity) <> 0 OR SUM(cost_minor) <> 0 ORDER BY 1"""
KEPT = "SELECT layer_id, consumable_id, quantity, cost_minor FROM layer_balance ORDER BY layer_id"

Act = tuple[str, int, int]
ACTS = st.lists(
    st.tuples(
        st.sampled_from(["receive", "take", "give back", "take back"]), st.integers(0, 9), st.integers(1, 9)
    ),
    max_size=40,
)


def balances(file: sqlite3.Connection) -> tuple[list[object], list[object]]:
    return file.execute(KEPT).fetchall(), file.execute(SUMMED).fetchall()


def do(file: sqlite3.Connection, act: Act) -> None:
    """Book one movement; what the rules of the table refuse books nothing."""
    kind, which, amount = act
    receipts = [row[0] for row in file.execute("SELECT id FROM movement WHERE layer_id IS NULL ORDER BY id")]
    if kind == "receive" or not receipts:
        book(file, consumable_id=1 + which % 3, quantity=amount * 1_000, cost_minor=amount * 7)
        return
    layer_id = receipts[which % len(receipts)]
    of = {
        "consumable_id": file.execute(
            "SELECT consumable_id FROM movement WHERE id = ?", (layer_id,)
        ).fetchone()[0]
    }
    try:
        if kind == "take":
            issue(file, layer_id, -amount * 400, **of)
        else:
            own = "layer_id" if kind == "give back" else "id"
            (row,) = file.execute(
                f"SELECT id, quantity, cost_minor FROM movement WHERE {own} = ? ORDER BY id LIMIT 1",
                (layer_id,),
            ).fetchall() or [None]
            if row is not None:
                book(
                    file,
                    kind="reversal",
                    quantity=-row[1],
                    cost_minor=-row[2],
                    layer_id=layer_id,
                    reverses_id=row[0],
                    **of,
                )
    except sqlite3.IntegrityError:
        pass


@given(acts=ACTS)
def test_whatever_is_booked_what_is_kept_is_the_sum(fresh_file: Path, acts: list[Act]) -> None:
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as file:
        with closing(sqlite3.connect(fresh_file)) as made:
            made.backup(file)
        for act in acts:
            do(file, act)
        kept, summed = balances(file)
        assert kept == summed


def test_a_draw_to_nothing_leaves_no_row(fresh_file: Path) -> None:
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as file:
        with closing(sqlite3.connect(fresh_file)) as made:
            made.backup(file)
        receipt = book(file, cost_minor=0)
        assert file.execute(KEPT).fetchall() == [(receipt, 1, 1_000, 0)]
        issue(file, receipt, -1_000)
        assert file.execute(KEPT).fetchall() == []
