"""The demo workshop: whole at any instant, nothing ahead of now, and every rule of the database kept."""

from __future__ import annotations

from collections import defaultdict
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.localtime import instant_of
from bench.domain.weeks import IsoWeek, day_bounds_us, local_day, zone_named
from bench.errors import NotFound, StoreError
from bench.store import demo_data
from bench.store.demo_data import Demo, demo_folder, read_demo
from bench.views.queue import read_queue
from bench.views.stock import read_stock
from bench.work.demo import make_demo
from bench.work.demo.story import Happening, bench_time, happenings
from bench.work.undo import undo
from tests.clocks import HandSetClock

ZONE = "Europe/Berlin"
# An ordinary week, the two in which Berlin's clocks change in 2026 (IANA zone data), and a turn of the year.
MONDAYS = (datetime(2026, 11, 23), datetime(2026, 3, 23), datetime(2026, 10, 19), datetime(2025, 12, 29))  # noqa: DTZ001
INSTANTS = [monday + timedelta(days=day) for monday in MONDAYS for day in range(8)]
# 01:30 and 02:30 are left out or happen twice on the nights the clocks change.
TIMES = ("00:00:01", "00:10:00", "01:30:00", "02:30:00", "08:59:59", "12:45:00", "16:20:00", "23:59:59")


@pytest.fixture(scope="module")
def demo() -> Demo:
    return read_demo(demo_folder())


def local_us(day: datetime, text: str) -> int:
    hour, minute, second = (int(part) for part in text.split(":"))
    return instant_of(day.replace(hour=hour, minute=minute, second=second, tzinfo=zone_named(ZONE)))


@pytest.mark.parametrize("day", INSTANTS, ids=lambda day: day.date().isoformat())
def test_the_story_fits_any_instant(demo: Demo, day: datetime) -> None:
    for text in TIMES:
        now_us = local_us(day, text)
        story = happenings(demo, now_us)
        assert all(start_us <= stop_us <= now_us for one in story for start_us, stop_us in one.pieces)
        assert_one_thing_at_a_time(story)
        assert_units_go_forward(demo, story)
        assert_weeks_are_filled(story, now_us)


def assert_one_thing_at_a_time(story: list[Happening]) -> None:
    spans: defaultdict[str, list[tuple[int, int]]] = defaultdict(list)
    for one in story:
        if one.task is not None and not one.task.unattended:
            spans[one.who] += one.pieces
    assert set(spans) == {"Ines", "Marek", "Juno"}
    for own in spans.values():
        assert all(before[1] <= after[0] for before, after in pairwise(sorted(own)))


def assert_units_go_forward(demo: Demo, story: list[Happening]) -> None:
    """A unit's work is one thing after another, in the order of its book."""
    for unit in demo.units:
        spans = [span for one in story if one.unit == unit.number for span in one.pieces]
        assert spans, unit
        assert all(before[1] <= after[0] for before, after in pairwise(spans)), unit


def assert_weeks_are_filled(story: list[Happening], now_us: int) -> None:
    attended = [span for one in story if one.task and not one.task.unattended for span in one.pieces]
    this_week = IsoWeek.at(now_us, ZONE)
    for back in range(9):
        low_us, high_us = this_week.previous(back).bounds_us(ZONE)
        spent_us = sum(max(0, min(stop, high_us) - max(start, low_us)) for start, stop in attended)
        assert spent_us > 0, f"{back} weeks back is empty"
    today = local_day(now_us, ZONE)
    for passed in this_week.days()[:5]:
        if passed < today:
            low_us, high_us = day_bounds_us(passed, ZONE)
            assert any(low_us <= start < high_us for start, _ in attended), f"{passed} is empty"
    running = [one for one in story if one.then == "runs"]
    assert sorted(one.task.unattended for one in running if one.task) == [False, True]
    assert all(one.pieces[-1][1] == now_us for one in running)


def test_at_the_first_instant_of_a_week_nothing_is_invented_for_it(demo: Demo) -> None:
    monday_us = local_us(MONDAYS[0], "00:00:00")
    story = happenings(demo, monday_us)
    assert max(stop for one in story for _, stop in one.pieces) == monday_us
    assert sum(one.then == "runs" for one in story) == 2


@pytest.mark.parametrize("zone", ["Asia/Kolkata", "America/New_York", "Australia/Lord_Howe", "UTC"])
def test_bench_time_ends_now_in_any_zone(demo: Demo, zone: str) -> None:
    ines = demo.people[0]
    start_us = instant_of(datetime(2026, 3, 1, tzinfo=UTC))
    for hours in range(0, 24 * 45, 5):
        now_us = start_us + hours * 3_600_000_000
        line = bench_time(now_us, zone, ines.days, ines.hours, 10**10, here_now=True)
        assert line.spans[0][1] == now_us
        assert sum(stop - start for start, stop in line.spans) >= 10**10
        assert all(later[0] > earlier[1] for later, earlier in pairwise(line.spans))
        pieces = line.pieces(10**10, 0)
        assert sum(stop - start for start, stop in pieces) == 10**10
        assert pieces[0][0] == line.at(10**10) or line.at(10**10) < pieces[0][0]


@pytest.mark.parametrize(
    "now",
    [
        (MONDAYS[0], "00:10:00"),
        (MONDAYS[0] + timedelta(days=2), "10:00:00"),
        (MONDAYS[1] + timedelta(days=6), "03:30:00"),
        (MONDAYS[2] + timedelta(days=6), "02:30:00"),
        (MONDAYS[3] + timedelta(days=5), "21:00:00"),
    ],
    ids=lambda now: f"{now[0].date()} {now[1]}",
)
def test_the_file_keeps_every_rule(tmp_path: Path, now: tuple[datetime, str]) -> None:
    clock = HandSetClock(wall_us=local_us(*now))
    store = make_demo(tmp_path / "demo.bench", clock)
    try:
        with store.read() as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
            assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
            assert {row[0] for row in connection.execute("SELECT via FROM journal")} == {"demo"}
            newest = connection.execute(
                "SELECT MAX(at_us) FROM (SELECT at_us FROM journal UNION SELECT at_us FROM movement"
                " UNION SELECT at_us FROM safety_check UNION SELECT at_us FROM correction"
                " UNION SELECT added_us FROM unit UNION SELECT stage_since_us FROM unit"
                " UNION SELECT ended_us FROM task UNION SELECT held_us FROM unit)"
            ).fetchone()[0]
        assert newest <= clock.wall_us
        assert_workshop_is_worth_a_look(Desk(store, clock, person_id=1))
    finally:
        store.close()


def assert_workshop_is_worth_a_look(desk: Desk) -> None:
    view = read_queue(desk)
    rows = [row for stage in view.stages for row in stage.rows]
    assert len(rows) >= 20
    assert all(stage.count > 0 for stage in view.stages)
    assert sum(row.battery_alarm for row in rows) == 1
    assert sum(row.overdue for row in rows) == 1
    assert sum(row.held is not None for row in rows) == 3
    assert [row.cell_finding for row in rows if row.cell_finding] == ["swollen"]
    assert [row.short_of for row in rows if row.short_of] == [("heat-shrink tubing 6 mm 3:1",)]
    assert sorted(entry.attended for entry in view.running()) == [False, True]
    stock = {line.name: line for line in read_stock(desk).lines}
    assert stock["thermal paste"].low
    assert stock["battery adhesive strips"].expired > 0
    today = local_day(view.read_us, view.shop.zone)
    expiry = stock["isopropyl 99 %"].next_expiry
    assert expiry is not None
    assert today < expiry <= today + timedelta(days=14)
    assert all(line.on_hand >= 0 for line in stock.values())


def test_there_is_nothing_to_take_back_in_a_new_demo(demo_desk: Desk) -> None:
    with pytest.raises(NotFound):
        undo(demo_desk)


def test_what_receipts_cost_is_what_was_issued_and_what_is_left(demo_desk: Desk) -> None:
    """First-in first-out gives out each receipt's whole price over its life (IAS 2)."""
    with demo_desk.store.read() as connection:
        layers = connection.execute(
            "SELECT layer.cost_minor AS paid, layer.quantity AS came,"
            " -COALESCE(SUM(out.cost_minor), 0) AS cost, -COALESCE(SUM(out.quantity), 0) AS went"
            " FROM movement AS layer LEFT JOIN movement AS out ON out.layer_id = layer.id"
            " WHERE layer.layer_id IS NULL GROUP BY layer.id"
        ).fetchall()
    assert any(row["went"] == row["came"] for row in layers)
    for row in layers:
        assert 0 <= row["cost"] <= row["paid"]
        if row["went"] == row["came"]:
            assert row["cost"] == row["paid"]


def test_a_file_that_is_there_is_left_as_it_is(tmp_path: Path, clock: HandSetClock) -> None:
    path = tmp_path / "mine.bench"
    path.write_text("mine")
    with pytest.raises(StoreError, match="left as it is"):
        make_demo(path, clock)
    assert path.read_text() == "mine"


def test_the_files_are_found_in_an_installed_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    installed = tmp_path / "site-packages" / "bench"
    (installed / "demo").mkdir(parents=True)
    (installed / "demo" / "workshop.toml").write_text("")
    monkeypatch.setattr(demo_data, "files", lambda _package: installed)
    assert demo_folder() == installed / "demo"
    (installed / "demo" / "workshop.toml").unlink()
    with pytest.raises(StoreError, match="missing"):
        demo_folder()


def test_the_files_are_found_in_a_checkout() -> None:
    assert demo_folder() == Path(__file__).parents[2] / "demo"
