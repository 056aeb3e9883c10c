"""Moving one row among its like: no further than the ends, in the places they held together."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from bench.work.ordering import shift


@dataclass
class Row:
    name: str
    position: int


@pytest.mark.parametrize(
    ("steps", "order"),
    [(-1, "bacd"), (-9, "bacd"), (0, "abcd"), (1, "acbd"), (2, "acdb"), (9, "acdb")],
)
def test_the_others_keep_their_order(steps: int, order: str) -> None:
    rows = [Row(name, position) for name, position in zip("abcd", (4, 4, 7, 9), strict=True)]
    assert shift(rows, rows[1], steps) == (order != "abcd")
    assert "".join(row.name for row in sorted(rows, key=lambda row: row.position)) == order
    assert min(row.position for row in rows) == 4


def test_alone_it_stays() -> None:
    only = Row("a", 3)
    assert not shift([only], only, 1)
    assert only.position == 3
