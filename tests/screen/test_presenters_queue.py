from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from bench.dashboard.presenters.choices import entry_of_task, entry_to_stop, task_to_finish
from bench.dashboard.presenters.pieces import plain, width_of
from bench.dashboard.presenters.queue_cells import (
    GAP,
    flag_cell,
    heading_line,
    names_line,
    queue_columns,
    task_and_flags,
    time_cell,
    unit_line,
)
from bench.dashboard.presenters.queue_lines import Heading, line_of_unit, lines_of, nearest_unit, searchable
from bench.dashboard.presenters.top_line import hands_on_today_us, top_line
from bench.domain.durations import HOUR_US, MINUTE_US, spent_of
from bench.views.queue import PersonNow, QueueRow
from bench.views.timers import chief, ticking
from tests.screen.made_up import NOW_US, ROW, RUNNING, many, view

WORST = replace(
    ROW,
    cell_finding="swollen",
    battery_alarm=True,
    held="part on order",
    due_on=date(2025, 11, 1),
    overdue=True,
    short_of=("isopropyl 99 %",),
)


@given(st.integers(min_value=58, max_value=260))
def test_columns_fill_the_width_and_no_more(width: int) -> None:
    columns = queue_columns(width)
    gaps = GAP * (4 if columns.spent else 3)
    assert columns.tag + columns.model + columns.time + columns.spent + columns.rest + gaps == width
    assert min(columns.model, columns.task) >= 10


def test_no_name_is_cut_beside_an_empty_column() -> None:
    task = "photographs and listing text"
    columns = queue_columns(72, 5, 8, 12)
    assert task in plain(unit_line(replace(ROW, next_task=task), columns, NOW_US))
    alarmed = plain(unit_line(replace(ROW, next_task=task, battery_alarm=True), columns, NOW_US))
    assert "▲ BATTERY" in alarmed
    reason = "part ordered from afar"
    held = plain(unit_line(replace(ROW, next_task="dust", held=reason), columns, NOW_US))
    assert reason in held


@given(st.text(max_size=60), st.text(max_size=60), st.integers(min_value=58, max_value=200))
def test_task_and_flags_share_their_room_and_no_more(task: str, reason: str, width: int) -> None:
    columns = queue_columns(width)
    row = replace(ROW, next_task=task, held=reason, battery_alarm=True)
    shown = plain(task_and_flags(row, columns))
    assert cell_len(shown) <= columns.rest
    assert "BATTERY" in shown


@pytest.mark.parametrize("width", [66, 72, 95, 96, 120, 200])
def test_a_units_line_never_runs_over(width: int) -> None:
    row = replace(WORST, model="日本語" * 40, next_task="\U0001f469\u200d\U0001f467" * 40, running=(RUNNING,))
    line = unit_line(row, queue_columns(width), NOW_US)
    assert width_of(line) <= width


def test_names_stand_over_their_columns() -> None:
    columns = queue_columns(70)
    names, line = plain(names_line(columns, 70)), plain(unit_line(replace(ROW, held="x"), columns, NOW_US))
    assert names.index("model") == line.index("Maple")
    assert names.index("next task") == line.index("brush")
    assert names.index("flags") == line.index("‖")


def test_the_ticking_cell_is_where_the_columns_say() -> None:
    columns = queue_columns(70)
    line = plain(unit_line(replace(ROW, running=(RUNNING,)), columns, NOW_US))
    assert line[columns.time_at :].startswith("► 5 min 00")

    estimated = replace(ROW, running=(RUNNING,), estimate_minutes=90, spent_us=30 * MINUTE_US)
    assert plain(unit_line(estimated, columns, NOW_US))[columns.time_at :].startswith("►35/90 min")


@pytest.mark.parametrize("width", [60, 80, 96, 120, 200])
@given(minutes=st.integers(0, 40 * 60), seconds=st.integers(0, 59))
def test_a_running_time_is_never_cut(width: int, minutes: int, seconds: int) -> None:
    now_us = RUNNING.started_us + minutes * MINUTE_US + seconds * 1_000_000
    row = replace(ROW, running=(RUNNING,), estimate_minutes=0)
    cell = time_cell(row, queue_columns(width), now_us)
    assert cell.text.rstrip() == ticking(RUNNING, now_us)


def test_flags_are_words_the_worst_first() -> None:
    assert plain(flag_cell(WORST, 80)).startswith(
        "✖ CELL: swollen ▲ BATTERY ‖ on hold: part on order ! overdue"
    )


@given(st.integers(min_value=12, max_value=90))
def test_flags_fit_and_what_is_left_out_is_counted(width: int) -> None:
    text = plain(flag_cell(WORST, width))
    assert cell_len(text) <= width
    named = sum(word in text for word in ("CELL", "BATTERY", "on hold", "overdue", "short"))
    left_out = int(text.rpartition("+")[2]) if "+" in text else 0
    assert named + left_out == 5


def test_a_reason_is_shown_where_there_is_room() -> None:
    held = replace(ROW, held="fan on order")
    assert plain(flag_cell(held, 30)) == "‖ on hold: fan on order"
    assert plain(flag_cell(held, 15)) == "‖ on hold: fan…"


def test_no_flags_no_words() -> None:
    assert plain(flag_cell(ROW, 20)) == ""


def test_a_heading_counts_its_units_whatever_the_width() -> None:
    for width in (30, 70, 120):
        text = plain(heading_line(Heading(1, "opened", 12, lid_off=True, final=False), width))
        assert text.startswith("opened  cover off ─")
        assert text.endswith(" 12")
        assert cell_len(text) <= width


def test_time_spent_of_time_estimated() -> None:
    assert spent_of(35 * MINUTE_US, 90) == "35/90 min"
    assert spent_of(0, 0) == "0 min"
    assert spent_of(17 * HOUR_US, 1200) == "17/20 h"


def test_hands_on_is_shown_before_what_runs_by_itself() -> None:
    alone = replace(RUNNING, entry_id=2, attended=False, started_us=NOW_US - HOUR_US)
    assert chief((alone, RUNNING)) is RUNNING
    assert chief((alone,)) is alone
    assert chief(()) is None
    assert ticking(alone, NOW_US) == "○ 1 h 00"


def test_lines_of_a_filter_keep_the_headings_of_what_they_show() -> None:
    stages = searchable(view(ROW, replace(ROW, unit_id=2, tag="10022", model="Oak", stage_id=2)))
    lines = lines_of(stages, "OAK stage")
    assert [type(line) for line in lines] == [Heading, QueueRow]
    assert line_of_unit(lines, 2) == 1
    assert line_of_unit(lines, 1) is None
    assert lines_of(stages, "oak maple") == ()


def test_a_composed_letter_finds_a_decomposed_one() -> None:
    stages = searchable(view(replace(ROW, held="Geh\u00e4use")))
    assert len(lines_of(stages, "gehA\u0308use")) == 2


def test_nearest_unit_looks_on_and_then_back() -> None:
    lines = lines_of(searchable(view(*many(3))))
    assert nearest_unit(lines, 0) == 1
    assert nearest_unit(lines, 99) == 3
    assert nearest_unit((), 0) is None


def test_one_stops_ones_own_timer_first() -> None:
    theirs = replace(RUNNING, entry_id=2, person_id=2)
    wipe = replace(RUNNING, entry_id=3, task_id=12, attended=False)
    assert entry_to_stop(replace(ROW, running=(theirs, RUNNING)), 1) is RUNNING
    assert entry_to_stop(replace(ROW, running=(wipe,)), 1) is None
    assert entry_to_stop(replace(ROW, running=(wipe,), next_task_id=12), 1) is wipe
    assert entry_to_stop(replace(ROW, running=(wipe,), next_task_id=None), 1) is wipe


def test_done_means_what_one_times_or_the_next_task() -> None:
    assert task_to_finish(replace(ROW, running=(replace(RUNNING, task_id=12),)), 1) == 12
    assert task_to_finish(ROW, 1) == 11
    assert task_to_finish(replace(ROW, next_task_id=None), 1) is None


def test_today_counts_what_runs_since_midnight() -> None:
    yesterday = replace(RUNNING, started_us=NOW_US - 20 * HOUR_US)
    people = (PersonNow(1, "Ada", (yesterday,), HOUR_US),)
    assert hands_on_today_us(view(people=people), NOW_US) == HOUR_US + 11 * HOUR_US


def test_today_leaves_out_what_runs_by_itself() -> None:
    people = (PersonNow(1, "Ada", (replace(RUNNING, attended=False),), HOUR_US),)
    assert hands_on_today_us(view(people=people), NOW_US) == HOUR_US


@pytest.mark.parametrize("width", [80, 120, 200])
def test_the_top_line_says_that_the_made_up_workshop_is_one(width: int) -> None:
    assert plain(top_line(replace(view(), demo=True), NOW_US, 1, width)).split()[0] == "DEMO"
    assert "DEMO" not in plain(top_line(view(), NOW_US, 1, width))


@pytest.mark.parametrize("width", [60, 80, 100, 120, 200])
def test_the_top_line_fills_its_width_and_keeps_its_end(width: int) -> None:
    people = tuple(
        PersonNow(n, f"Person number {n}", (replace(RUNNING, person_id=n),), HOUR_US) for n in range(1, 6)
    )
    line = plain(top_line(view(people=people), NOW_US, 3, width))
    assert cell_len(line) == width
    assert line.startswith("Corner bench")
    assert line.endswith("today 5 h 25")
    assert "Person number 3 " in line


def test_the_one_who_acts_is_named_where_there_are_several() -> None:
    people = (PersonNow(1, "Ada", (), 0), PersonNow(2, "Bo", (), 0))
    assert "Bo (you) –" in plain(top_line(view(people=people), NOW_US, 2, 120))
    assert "(you)" not in plain(top_line(view(), NOW_US, 1, 120))


def test_a_tasks_timer_is_ones_own_or_nobodys() -> None:
    from bench.views.tasks import TaskLine

    theirs = replace(RUNNING, person_id=2)
    task = TaskLine(11, 1, 1, "opened", 1, "dust", 10, False, True, "todo", 0, None, None, running=(theirs,))
    assert entry_of_task(task, 1) is None
    assert entry_of_task(task, 2) is theirs
    alone = replace(theirs, attended=False)
    assert entry_of_task(replace(task, running=(alone,)), 1) is alone


def test_a_due_day_shows_where_it_takes_no_flags_room() -> None:
    waits = replace(ROW, due_on=date(2025, 12, 4))
    assert plain(flag_cell(waits, 12)) == "due 4 Dec"
    assert plain(flag_cell(replace(waits, battery_alarm=True), 12)) == "▲ BATTERY"
    assert plain(flag_cell(replace(waits, battery_alarm=True), 20)) == "▲ BATTERY due 4 Dec"
    assert plain(flag_cell(replace(waits, overdue=True), 20)) == "! overdue"
