"""How a person has each table is kept on this machine, and whatever else lies there changes nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench.dashboard.presenters.arranged_rows import Arrangement
from bench.dashboard.table_choices import TableChoices

BY_LEVEL = Arrangement("Level", falling=True, shown=frozenset({"Pack"}), hidden=frozenset({"Lead"}))


def test_kept_for_the_next_start(tmp_path: Path) -> None:
    kept_in = tmp_path / "state" / "tables.json"
    TableChoices(kept_in).keep("stock", BY_LEVEL)
    assert TableChoices(kept_in).of("stock") == BY_LEVEL
    assert TableChoices(kept_in).of("journal") == Arrangement()


def test_the_tables_own_way_is_not_written(tmp_path: Path) -> None:
    kept_in = tmp_path / "tables.json"
    choices = TableChoices(kept_in)
    choices.keep("stock", BY_LEVEL)
    choices.keep("stock", Arrangement())
    assert kept_in.read_text() == "{}"


@pytest.mark.parametrize(
    "found",
    [
        "",
        "[1]",
        "{",
        '{"stock": 5}',
        '{"stock": {"sorted_by": 3, "falling": "yes", "shown": "x", "hidden": [1]}}',
    ],
)
def test_what_is_no_choice_counts_as_none(tmp_path: Path, found: str) -> None:
    kept_in = tmp_path / "tables.json"
    kept_in.write_text(found)
    assert TableChoices(kept_in).of("stock") == Arrangement()


def test_without_a_file_and_where_none_can_be_kept_it_holds_for_this_run(tmp_path: Path) -> None:
    for kept_in in (None, tmp_path / "a file" / "tables.json"):
        (tmp_path / "a file").write_text("in the way")
        choices = TableChoices(kept_in)
        choices.keep("stock", BY_LEVEL)
        assert choices.of("stock") == BY_LEVEL
