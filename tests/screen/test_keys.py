from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from textual.app import App
from textual.binding import Binding

from bench.dashboard.app import BenchApp
from bench.dashboard.key_check import APP, SCREEN_KEYS, check_keys, keys_of, single_keys
from bench.dashboard.keys import bindings_for, hints_for, key_shown
from bench.dashboard.screens.bench_view import BenchView
from bench.dashboard.screens.expenses import ExpensesScreen
from bench.dashboard.screens.first import FirstScreen
from bench.dashboard.screens.manual import ManualScreen
from bench.dashboard.screens.months import MonthsScreen
from bench.dashboard.screens.routes import RoutesScreen
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.jump_box import FilterBox, JumpBox
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.queue_list import QueueList
from bench.desk import Desk
from bench.errors import BadInput
from tests.screen.waiting import until

EVERY_KEY = [key for table in (APP, *SCREEN_KEYS.values()) for key in table]


@pytest.mark.parametrize("screen", SCREEN_KEYS)
def test_no_key_means_two_things_on_a_screen(screen: str) -> None:
    counts = Counter(one for key in keys_of(screen) for one in single_keys(key.keys))
    assert [key for key, count in counts.items() if count > 1] == []


def test_no_screen_of_tables_takes_a_key_of_theirs() -> None:
    """The bench view has no table: there Space, a foot switch, goes on. In the manual / finds in the text."""
    of_tables = {one for key in SCREEN_KEYS["table"] for one in single_keys(key.keys)}
    taken = {
        (kind.keys, one)
        for kind in sheets(Sheet)
        for key in SCREEN_KEYS[kind.keys]
        for one in single_keys(key.keys)
        if one in of_tables
    }
    seen = {kind.keys for kind in sheets(Sheet)}
    assert {one.keys for one in (BenchView, ExpensesScreen, ManualScreen, MonthsScreen, RoutesScreen)} <= seen
    assert taken == {("bench_view", "space"), ("manual", "slash")}


def sheets(kind: type[Sheet[Any]]) -> Iterator[type[Sheet[Any]]]:
    for one in kind.__subclasses__():
        if hasattr(one, "keys"):
            yield one
        yield from sheets(one)


def test_ids_are_told_apart_and_name_their_screen() -> None:
    assert len({key.id for key in EVERY_KEY}) == len(EVERY_KEY)
    for screen, table in SCREEN_KEYS.items():
        assert all(key.id.startswith(f"{screen}.") for key in table)


def test_every_key_is_one_that_every_terminal_sends() -> None:
    check_keys({key.id: key.keys for key in EVERY_KEY})


def test_every_key_says_what_it_does() -> None:
    assert all(key.label and key.tooltip and key.group for key in EVERY_KEY)


@pytest.mark.parametrize(
    ("owner", "table"),
    [(FirstScreen, "first"), (BenchApp, "app"), (LineList, "list"), (FilterBox, "filter"), (JumpBox, "jump")],
)
def test_every_key_has_an_action_behind_it(owner: type, table: str) -> None:
    for key in APP if table == "app" else SCREEN_KEYS[table]:
        if owner is BenchApp and key.action == "quit":
            assert hasattr(App, "action_quit")
        assert key.ways or hasattr(owner, f"action_{key.action}"), key.id


@pytest.mark.parametrize(
    "typed", ["ctrl+h", "ctrl+i", "ctrl+j", "ctrl+m", "f11", "alt+x", "ctrl+shift+a", ""]
)
def test_keys_that_some_terminal_swallows_are_refused(typed: str) -> None:
    with pytest.raises(BadInput, match="not every terminal sends it"):
        check_keys({"first.start_stop": typed})


def test_an_unknown_id_is_refused_by_name() -> None:
    with pytest.raises(BadInput, match=r"not a key's name. The nearest is first\.start_stop"):
        check_keys({"first.start": "x"})
    with pytest.raises(BadInput, match="screen, dot, action"):
        check_keys({"???": "x"})


def test_bindings_carry_their_ids_for_remapping() -> None:
    bindings = bindings_for("first")
    assert [binding.id for binding in bindings if isinstance(binding, Binding)] == [
        key.id for key in SCREEN_KEYS["first"]
    ]


def test_the_key_bar_and_sentences_use_a_persons_own_keys() -> None:
    hints, last = hints_for("first", {"first.add_unit": "a", "app.manual": "f2"})
    assert next(hint.key for hint in hints if hint.action == "act('add_unit')") == "a"
    assert [hint.key for hint in last] == ["F2", "Ctrl+F", "q"]
    assert key_shown("first.clear", {}) == "Esc"
    assert key_shown("app.help", {}) == "?"


async def test_a_remapped_key_works_and_the_old_one_does_not(busy: Desk) -> None:
    app = BenchApp(busy, keys={"first.leave": "z", "list.down": "down,k"})
    async with app.run_test() as pilot:
        await pilot.pause()
        queue = app.screen.query_one(QueueList)
        first = queue.cursor
        await pilot.press("q")
        assert app.return_code is None
        await pilot.press("k")
        assert queue.cursor == first + 1
        await pilot.press("z")
        await until(pilot, lambda: app.return_code == 0)


def test_a_key_that_would_mean_two_things_is_refused() -> None:
    with pytest.raises(BadInput, match=r"s would mean both first\.start_stop and first\.hold"):
        check_keys({"first.hold": "s"})
    with pytest.raises(BadInput, match=r"would mean both first\.add_unit and app\.help"):
        check_keys({"app.help": "n"})
    check_keys({"first.hold": "s", "first.start_stop": "h"})


def test_a_digit_on_the_first_screen_is_refused() -> None:
    with pytest.raises(BadInput, match="a digit begins a tag"):
        check_keys({"first.hold": "7"})
