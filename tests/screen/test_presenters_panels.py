from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, plain
from bench.dashboard.presenters.safety_lines import alarm_line, alarmed, safety_lines
from bench.dashboard.presenters.stock_lines import stock_line
from bench.dashboard.presenters.task_lines import StageHead, stage_head_line, task_line, task_rows
from bench.dashboard.presenters.week_chart import hours, week_line, week_lines
from bench.domain.durations import HOUR_US, MINUTE_US
from bench.domain.safety import (
    AFTER_A_BAD_CELL,
    CAUTION_CONNECTED,
    CAUTION_SOLVENT,
    CLOSING_ITEMS,
    OPENING_ITEMS,
)
from bench.views.safety import SafetyView, Tick
from bench.views.tasks import TaskLine
from tests.screen.made_up import MONDAY, NOW_US, ROW, RUNNING, STOCK, view, week

SAFETY = SafetyView(
    unit_id=1,
    tag="10014",
    model="Maple 14",
    lid_off=True,
    battery_connected=False,
    cell_finding=None,
    opening=tuple(Tick(item, label, "Ada", NOW_US) for item, label in OPENING_ITEMS.items()),
    closing=tuple(Tick(item, label) for item, label in CLOSING_ITEMS.items()),
    without_opening=None,
    without_closing=None,
    screws_out=11,
    screws_back=None,
    caution=CAUTION_SOLVENT,
)
TASK = TaskLine(11, 1, 1, "opened", 1, "brush out dust", 10, False, True, "todo", 0, None, None)


def texts(lines: tuple[Line, ...]) -> list[str]:
    return [plain(line).rstrip() for line in lines]


@pytest.mark.parametrize("width", [30, 43, 76, 100])
def test_safety_lines_fit(width: int) -> None:
    for safety in (SAFETY, replace(SAFETY, cell_finding="swollen"), replace(SAFETY, battery_connected=True)):
        assert all(cell_len(text) <= width for text in texts(safety_lines(safety, width)))


def test_both_lists_with_their_ticks() -> None:
    shown = "\n".join(texts(safety_lines(SAFETY, 50)))
    assert "Opening checklist 4/4" in shown
    assert "Closing checklist 0/4" in shown
    assert "✓ Battery disconnected" in shown
    assert "· Screws counted back in" in shown
    assert "Screws: 11 out, not counted back yet" in shown
    assert "cover off   battery disconnected" in shown


def test_a_connected_battery_under_an_open_lid_is_the_first_and_loudest_line() -> None:
    alarm = replace(SAFETY, battery_connected=True, alarm=True, caution=CAUTION_CONNECTED)
    first = safety_lines(alarm, 80)[0]
    assert plain(first).startswith("▲ BATTERY CONNECTED, COVER OFF.")
    assert {part.look for part in first} == {"loud"}


def test_after_a_bad_cell_the_panel_says_what_the_shop_does() -> None:
    shown = " ".join(texts(safety_lines(replace(SAFETY, cell_finding="swollen"), 44)))
    assert shown.startswith("✖ STOP: a swollen cell.")
    assert all(sentence in shown for sentence in AFTER_A_BAD_CELL)


def test_a_difference_in_screws_and_going_on_without_are_told() -> None:
    shown = "\n".join(texts(safety_lines(replace(SAFETY, screws_back=10, without_opening="glued"), 50)))
    assert "Screws: 11 out, 10 back" in shown
    assert "! gone on without: glued" in shown


def test_lists_stand_beside_each_other_where_there_is_room() -> None:
    assert len(safety_lines(SAFETY, 76)) == len(safety_lines(SAFETY, 50)) - 6


def test_no_unit_no_lists() -> None:
    assert texts(safety_lines(None, 40)) == ["No unit under the cursor."]


def test_the_alarm_bar_names_the_units_and_fills_the_screen() -> None:
    rows = alarmed(view(replace(ROW, battery_alarm=True), replace(ROW, unit_id=2, tag="10022")))
    assert [row.tag for row in rows] == ["10014"]
    text = plain(alarm_line(rows, 100))
    assert "10014: BATTERY CONNECTED, COVER OFF" in text
    assert cell_len(text) == 100


def test_the_alarm_bar_keeps_its_sentence_and_counts_the_units_it_cannot_name() -> None:
    rows = tuple(replace(ROW, unit_id=n, tag=f"{n}0014", battery_alarm=True) for n in range(1, 10))
    text = plain(alarm_line(rows, 90))
    assert text.rstrip().endswith(CAUTION_CONNECTED)
    assert "10014, 20014 +7: " in text


@pytest.mark.parametrize("width", [38, 43, 60])
def test_a_stock_line_is_as_wide_as_its_panel(width: int) -> None:
    assert cell_len(plain(stock_line(replace(STOCK, name="日本語" * 9), width))) == width


def test_stock_says_low_none_and_old_in_words() -> None:
    assert plain(stock_line(STOCK, 43)).endswith("50 pieces         –")
    assert plain(stock_line(replace(STOCK, days_of_cover=12.4), 43)).endswith("12 d")
    assert plain(stock_line(replace(STOCK, low=True, days_of_cover=2.6), 43)).endswith("LOW 3 d")
    assert plain(stock_line(replace(STOCK, on_hand=0, low=True), 43)).endswith("NONE")
    assert plain(stock_line(replace(STOCK, expired=5000), 43)).endswith("EXPIRED –")


def test_a_full_bar_is_full_and_half_is_half() -> None:
    assert "░" not in plain(stock_line(replace(STOCK, on_hand=100_000), 43))
    half = plain(stock_line(STOCK, 40))
    assert half.count("█") == half.count("░") == 4


def test_tasks_say_what_is_done_what_runs_and_what_is_left() -> None:
    assert plain(task_line(TASK, 40, NOW_US)).rstrip().endswith("0/10 min")
    done = replace(TASK, state="done", spent_us=9 * MINUTE_US)
    assert plain(task_line(done, 40, NOW_US)).startswith("✓ brush")
    assert plain(task_line(replace(TASK, state="skipped"), 40, NOW_US)).endswith("skipped")
    running = plain(task_line(replace(TASK, running=(RUNNING,)), 40, NOW_US))
    assert running.startswith("► brush out dust")
    assert running.endswith("► 5 min 00")
    assert "(machine time)" in plain(task_line(replace(TASK, unattended=True), 60, NOW_US))


def test_a_stage_says_whether_the_unit_is_here() -> None:
    assert plain(stage_head_line(StageHead("opened", here=True), 30)).rstrip() == "opened  ◄ here"
    assert task_rows(None) == ()


def test_hours_to_the_nearest_tenth() -> None:
    assert hours(0) == "–"
    assert hours(HOUR_US) == "1.0 h"
    assert hours(93 * MINUTE_US) == "1.6 h"  # 1.55 h: a half goes up
    assert hours(92 * MINUTE_US) == "1.5 h"


@pytest.mark.parametrize("width", [76, 98, 118, 198])
def test_the_week_in_a_line(width: int) -> None:
    line = plain(week_line(week(4 * HOUR_US, 8 * HOUR_US), MONDAY, width))
    assert cell_len(line) <= width
    assert line.startswith("Week 48  Mon 4.0")
    assert line.endswith("total 12 h 00")


def test_bars_of_the_week_stand_in_proportion() -> None:
    lines = texts(week_lines(week(4 * HOUR_US, 8 * HOUR_US), None, 74))
    assert lines[1].count("█") == 2 * lines[0].count("█") == 40
    assert lines[-1] == "week 12 h 00"


def test_an_unread_week_is_an_empty_line() -> None:
    assert week_line((), None, 80) == ()
