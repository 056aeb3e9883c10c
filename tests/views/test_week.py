"""The week: sums against a walk minute by minute, totals in every direction, estimates, entries."""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench.desk import Desk
from bench.domain.weeks import IsoWeek
from bench.errors import BadInput
from bench.store.engine import Store
from bench.views.unit import read_unit
from bench.views.week import WeekSheet, read_week
from bench.work.corrections import correct_entry
from bench.work.files import open_or_new
from bench.work.shop import add_person, edit_shop, remove_person
from bench.work.timers import finish_task, start_task, stop_person
from tests.clocks import MINUTE_US, HandSetClock
from tests.work.time_rows import at, first_task, new_unit, record

HOUR_US = 60 * MINUTE_US
DAY_US = 24 * HOUR_US


@dataclass(frozen=True)
class Worked:
    """An entry as a test made it, for calculating independently of the program."""

    task_id: int
    person_id: int
    start_us: int
    stop_us: int | None
    attended: bool


def set_zone(desk: Desk, zone: str) -> None:
    edit_shop(
        desk,
        name="Shop",
        currency="EUR",
        zone=zone,
        rate_text="0",
        forgotten_times_text="3",
        forgotten_least_text="120",
    )


def put(desk: Desk, entries: list[Worked]) -> None:
    for one in entries:
        record(desk, one.task_id, one.start_us, one.stop_us, attended=one.attended, person_id=one.person_id)


def walked(entries: list[Worked], zone: str, now_us: int) -> Counter[tuple[date, int, int, bool]]:
    """Microseconds by day, task, person and hands-on: each minute belongs to the day its clock reads.

    Written for entries that begin and end at whole minutes, in zones whose clocks never cross midnight.
    """
    sums: Counter[tuple[date, int, int, bool]] = Counter()
    for one in entries:
        stop_us = now_us if one.stop_us is None else one.stop_us
        for minute in range(one.start_us // MINUTE_US, stop_us // MINUTE_US):
            sums[day_of(minute // 15, zone), one.task_id, one.person_id, one.attended] += MINUTE_US
    return sums


@cache
def day_of(quarter: int, zone: str) -> date:
    """The day that the clock reads in this quarter of an hour: in these zones none begins inside one."""
    return datetime.fromtimestamp(quarter * 900, tz=UTC).astimezone(ZoneInfo(zone)).date()


def agrees(sheet: WeekSheet, desk: Desk, sums: Counter[tuple[date, int, int, bool]], week: IsoWeek) -> None:
    """Days, stages, people, earlier weeks and entries say what the walk says, and so the same total."""
    stage_of = stages_by_task(desk)
    here = {key: us for key, us in sums.items() if (key[0].isocalendar()[:2]) == (week.year, week.week)}
    by_day: Counter[tuple[date, bool]] = Counter()
    by_stage: Counter[tuple[str, date, bool]] = Counter()
    by_person: Counter[tuple[int, bool]] = Counter()
    for (day, task_id, person_id, attended), us in here.items():
        by_day[day, attended] += us
        by_stage[stage_of[task_id], day, attended] += us
        by_person[person_id, attended] += us
    for line in sheet.days:
        assert (line.hands_on_us, line.machine_us) == (by_day[line.day, True], by_day[line.day, False])
    shown = {
        (stage.stage, line.day, attended): hours[number]
        for stage in sheet.stages
        for attended, hours in ((True, stage.hands_on_us), (False, stage.machine_us))
        for number, line in enumerate(sheet.days)
        if hours[number]
    }
    assert shown == dict(by_stage)
    people = {(line.person_id, True): line.hands_on_us for line in sheet.people}
    people |= {(line.person_id, False): line.machine_us for line in sheet.people}
    assert {key: us for key, us in people.items() if us} == dict(by_person)
    total = sum(here.values())
    assert sheet.hands_on_us + sheet.machine_us == total
    assert sum(sheet.in_week_us(entry) for entry in sheet.entries) == total
    for earlier in sheet.earlier:
        then = (earlier.week.year, earlier.week.week)
        parts = [(key[3], us) for key, us in sums.items() if key[0].isocalendar()[:2] == then]
        assert earlier.hands_on_us == sum(us for attended, us in parts if attended)
        assert earlier.machine_us == sum(us for attended, us in parts if not attended)


def stages_by_task(desk: Desk) -> dict[int, str]:
    with desk.store.read() as connection:
        rows = connection.execute(
            "SELECT task.id, stage.name FROM task JOIN stage ON stage.id = task.stage_id"
        ).fetchall()
    return {row["id"]: row["name"] for row in rows}


# Clocks change in these weeks by an hour, by half an hour, or not at all; one lies over the year's end.
# Source of the hours: the IANA time zone database by way of zoneinfo.
@pytest.mark.parametrize(
    ("zone", "week", "hours"),
    [
        ("Europe/Berlin", "2026-W13", 167),
        ("Europe/Berlin", "2026-W43", 169),
        ("Europe/Berlin", "2026-W53", 168),
        ("America/New_York", "2026-W10", 167),
        ("Australia/Lord_Howe", "2026-W14", 168.5),
        ("Asia/Kolkata", "2026-W13", 168),
    ],
)
def test_a_week_worked_through_has_all_its_hours(
    desk: Desk, clock: HandSetClock, zone: str, week: str, hours: float
) -> None:
    """Every minute of five weeks, by two people and one machine: the days are those of the zone's clock."""
    set_zone(desk, zone)
    unit_id = new_unit(desk)
    bo = add_person(desk, "Bo")
    hands, other, machine = (
        first_task(desk, unit_id),
        first_task(desk, unit_id, skip=1),
        first_task(desk, unit_id, unattended=True),
    )
    chosen = IsoWeek.parse(week)
    middle_us = at(f"{chosen.days()[3]}T12:00Z")
    from_us, to_us = middle_us - 17 * DAY_US, middle_us + 17 * DAY_US
    entries = [
        Worked(hands, 1, from_us, middle_us, attended=True),
        Worked(other, 1, middle_us, to_us, attended=True),
        Worked(other, bo, middle_us - 100 * MINUTE_US, middle_us + 1000 * MINUTE_US, attended=True),
        Worked(machine, bo, from_us, to_us, attended=False),
    ]
    put(desk, entries)
    clock.set_wall(to_us + DAY_US)
    sheet = read_week(desk, chosen)
    agrees(sheet, desk, walked(entries, zone, clock.now_us()), chosen)
    assert sheet.machine_us == hours * HOUR_US
    assert sheet.hands_on_us == hours * HOUR_US + 1100 * MINUTE_US
    assert (sheet.week, sheet.zone, sheet.read_us) == (chosen, zone, clock.now_us())


@dataclass
class Template:
    """A file with a unit and two people, copied for each example."""

    path: Path
    tasks: list[int]
    unattended: set[int]


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Template:
    path = tmp_path_factory.mktemp("week") / "template.bench"
    store = open_or_new(path, person="Ada", zone="Europe/Berlin")
    desk = Desk(store, HandSetClock(), 1)
    add_person(desk, "Bo")
    tasks = read_unit(desk, new_unit(desk)).tasks
    store.close()
    return Template(path, [task.task_id for task in tasks], {t.task_id for t in tasks if t.unattended})


@contextmanager
def fresh(template: Template, clock: HandSetClock) -> Iterator[Desk]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "workshop.bench"
        shutil.copy(template.path, path)
        store = Store(path)
        try:
            yield Desk(store, clock, 1)
        finally:
            store.close()


STEPS = st.lists(
    st.tuples(
        st.integers(0, 12),  # which of the route's tasks
        st.integers(1, 2),  # who
        st.integers(0, 3000),  # minutes since what the person did before
        st.one_of(st.integers(0, 600), st.integers(600, 30_000)),  # minutes it took: up to three weeks
    ),
    max_size=12,
)


@settings(max_examples=40, deadline=None)
@given(STEPS, st.booleans(), st.sampled_from(["2026-W43", "2026-W44", "2026-W13"]))
def test_any_week_of_any_life_adds_up(
    template: Template, steps: list[tuple[int, int, int, int]], runs: bool, name: str
) -> None:
    """Hands-on entries one after the other, machine-time ones beside; some weeks long, some of no length."""
    week = IsoWeek.parse(name)
    monday_us = at(f"{week.days()[0]}T00:00Z")
    ends = {1: monday_us - 30 * DAY_US, 2: monday_us - 29 * DAY_US}
    entries: list[Worked] = []
    for place, person, gap, length in steps:
        task_id = template.tasks[place]
        start_us = ends[person] + gap * MINUTE_US
        attended = task_id not in template.unattended
        entries.append(Worked(task_id, person, start_us, start_us + length * MINUTE_US, attended))
        if attended:
            ends[person] = start_us + max(length, 1) * MINUTE_US
    clock = HandSetClock()
    stops = [one.stop_us or 0 for one in entries]
    clock.set_wall(max(*stops, *ends.values(), monday_us + 3 * DAY_US) + 77 * MINUTE_US)
    if runs:
        entries.append(Worked(template.tasks[0], 1, ends[1], None, attended=True))
    with fresh(template, clock) as desk:
        put(desk, entries)
        agrees(read_week(desk, week), desk, walked(entries, "Europe/Berlin", clock.now_us()), week)


def test_to_the_microsecond_parts_add_up_over_midnight(desk: Desk, clock: HandSetClock) -> None:
    task_id = first_task(desk, new_unit(desk))
    midnight_us = at("2026-11-24T00:00+01:00")
    record(desk, task_id, midnight_us - 1_234_567, midnight_us + 7_654_321)
    days = read_week(desk).days
    assert [day.hands_on_us for day in days[:2]] == [1_234_567, 7_654_321]


def test_what_runs_counts_to_the_reading_and_never_past_it(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    start_task(desk, first_task(desk, unit_id))
    start_task(desk, first_task(desk, unit_id, unattended=True))
    clock.advance(minutes=90, us=1)
    sheet = read_week(desk)
    assert (sheet.hands_on_us, sheet.machine_us) == (90 * MINUTE_US + 1, 90 * MINUTE_US + 1)
    assert read_week(desk, sheet.week.next()).entries == ()
    assert read_week(desk, sheet.week.next()).hands_on_us == 0
    clock.advance(minutes=40 * 24 * 60)
    later = read_week(desk, sheet.week.next(2))
    assert (later.hands_on_us, later.machine_us) == (7 * DAY_US, 7 * DAY_US)
    assert [total.hands_on_us for total in later.earlier[-2:]] == [
        IsoWeek.parse("2026-W48").bounds_us("Europe/Berlin")[1] - at("2026-11-25T10:00+01:00"),
        7 * DAY_US,
    ]
    assert [later.in_week_us(entry) for entry in later.entries] == [7 * DAY_US, 7 * DAY_US]


def test_a_clock_set_back_makes_nothing_negative(desk: Desk, clock: HandSetClock) -> None:
    start_task(desk, first_task(desk, new_unit(desk)))
    clock.set_wall(clock.now_us() - 3 * HOUR_US)
    sheet = read_week(desk)
    assert sheet.hands_on_us == 0
    assert [sheet.in_week_us(entry) for entry in sheet.entries] == [0]
    assert all(day.hands_on_us == 0 for day in sheet.days)


def test_an_entry_from_weeks_before_is_found(desk: Desk, clock: HandSetClock) -> None:
    """One longer than a day, one that still runs: both began long before the week."""
    unit_id = new_unit(desk)
    start_us = at("2026-09-01T08:00+02:00")
    long = record(desk, first_task(desk, unit_id), start_us, at("2026-11-24T08:00+01:00"))
    running = record(desk, first_task(desk, unit_id, unattended=True), start_us + 1, None, attended=False)
    sheet = read_week(desk)
    assert [entry.entry_id for entry in sheet.entries] == [long, running]
    assert (sheet.hands_on_us, sheet.machine_us) == (32 * HOUR_US, 58 * HOUR_US)
    assert {total.hands_on_us for total in sheet.earlier} == {7 * DAY_US, 7 * DAY_US + HOUR_US}


def test_what_only_touches_the_week_s_edge_is_not_in_it(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    monday_us = at("2026-11-23T00:00+01:00")
    task_id = first_task(desk, unit_id)
    record(desk, task_id, monday_us - HOUR_US, monday_us)
    record(desk, task_id, monday_us - 2 * DAY_US, monday_us - HOUR_US)
    inside = record(desk, task_id, monday_us, monday_us)
    sheet = read_week(desk)
    assert [entry.entry_id for entry in sheet.entries] == [inside]
    assert (sheet.hands_on_us, sheet.stages, sheet.people) == (0, (), ())


def test_entries_say_whose_they_are_and_whether_they_were_corrected(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    first = start_task(desk, first_task(desk, unit_id)).entry_id
    clock.advance(minutes=10)
    start_task(desk, first_task(desk, unit_id, skip=1))
    clock.advance(minutes=10)
    correct_entry(desk, first, start_text="09:50", stop_text="", reason="x")
    a, b = read_week(desk).entries
    assert (a.entry_id, a.corrected, a.attended, a.stopped_us) == (first, True, True, b.started_us)
    assert (b.corrected, b.stopped_us) == (False, None)
    assert (a.person, a.tag, a.task, a.stage) == ("Ada", "10014", "look over and note faults", "received")
    assert (a.person_id, a.unit_id, a.task_id) == (1, unit_id, first_task(desk, unit_id))


def test_hours_of_people_who_left_stay_theirs(desk: Desk, clock: HandSetClock) -> None:
    task_id = first_task(desk, new_unit(desk))
    bo = add_person(desk, "Bo")
    start_task(desk.as_person(bo), task_id)
    clock.advance(minutes=30)
    stop_person(desk.as_person(bo))
    remove_person(desk, bo)
    assert [(line.person, line.hands_on_us) for line in read_week(desk).people] == [("Bo", 30 * MINUTE_US)]


def test_estimates_are_set_against_what_finished_tasks_took(desk: Desk, clock: HandSetClock) -> None:
    minutes = (10, 20, 30, 40, 50)
    route_task_id = 1
    for spent in minutes:
        task_id = first_task(desk, new_unit(desk))
        start_task(desk, task_id)
        clock.advance(minutes=spent)
        finish_task(desk, task_id)
    (line,) = read_week(desk).estimates
    assert (line.task, line.count, line.estimate_minutes) == ("look over and note faults", 5, 15)
    # Source: numpy.percentile of the five, its default (Hyndman and Fan type 7): 50 -> 30, 80 -> 42.
    assert (line.median_us, line.p80_us) == (30 * MINUTE_US, 42 * MINUTE_US)
    assert (line.week_us, line.route_task_ids) == (150 * MINUTE_US, (route_task_id,))
    eight_later = read_week(desk, IsoWeek.parse("2026-W48").next(8))
    assert [(one.count, one.week_us) for one in eight_later.estimates] == [(5, 0)]
    assert read_week(desk, IsoWeek.parse("2026-W48").next(9)).estimates == ()
    assert read_week(desk, IsoWeek.parse("2026-W48").previous()).estimates == ()


def test_the_estimate_is_the_route_s_own_while_it_has_one(desk: Desk, clock: HandSetClock) -> None:
    task_id = first_task(desk, new_unit(desk))
    start_task(desk, task_id)
    clock.advance(minutes=10)
    finish_task(desk, task_id)
    with desk.store.write() as session:
        session.connection().exec_driver_sql("UPDATE route_task SET estimate_minutes = 99 WHERE id = 1")
    assert read_week(desk).estimates[0].estimate_minutes == 99
    with desk.store.write() as session:
        session.connection().exec_driver_sql("UPDATE route_task SET removed = 1 WHERE id = 1")
    (line,) = read_week(desk).estimates
    assert (line.estimate_minutes, line.route_task_ids) == (15, ())


def test_a_task_finished_without_time_says_nothing_of_its_length(desk: Desk, clock: HandSetClock) -> None:
    finish_task(desk, first_task(desk, new_unit(desk)))
    assert read_week(desk).estimates == ()


def test_a_machine_s_own_time_has_its_own_line(desk: Desk, clock: HandSetClock) -> None:
    unit_id = new_unit(desk)
    machine = first_task(desk, unit_id, unattended=True)
    start_task(desk, machine)
    clock.advance(minutes=30)
    hands = first_task(desk, unit_id)
    start_task(desk, hands)
    clock.advance(minutes=12)
    finish_task(desk, machine)
    finish_task(desk, hands)
    assert [line.median_us for line in read_week(desk).estimates] == [42 * MINUTE_US, 12 * MINUTE_US]


def test_the_calendar_s_first_year_has_no_weeks_before(desk: Desk) -> None:
    sheet = read_week(desk, IsoWeek.parse("1900-W01"))
    assert sheet.earlier == ()
    assert len(sheet.days) == 7
    assert len(read_week(desk, IsoWeek.parse("1901-W01")).earlier) == 8
    with pytest.raises(BadInput):
        read_week(desk, IsoWeek.parse("2026-W54"))


def test_a_week_is_found_by_index_however_old_its_entries(desk: Desk) -> None:
    """No statement of the week may go through all entries or tasks; the running ones are few."""
    from bench.views import entries, hours, week

    with desk.store.read() as connection:
        values = {"lo": 0, "hi": DAY_US, "now": DAY_US, "spans": hours.in_text([(0, DAY_US)])}
        for query in (hours._BY_PERSON, hours._BY_TASK, entries._IN_SPAN, week._FINISHED):
            plan = connection.execute(f"EXPLAIN QUERY PLAN {query.text}", values).fetchall()
            steps = [row["detail"] for row in plan]
            assert any("INDEX ix_" in step for step in steps)
            assert not [
                step
                for step in steps
                if step.startswith(("SCAN entry", "SCAN time_entry", "SCAN task"))
                and "ix_time_entry_open" not in step
            ]
            # A range without a lower end is every entry that ever started before.
            assert not [step for step in steps if "(started_us<?)" in step]
