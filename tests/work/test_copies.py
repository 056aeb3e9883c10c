"""The copy of the day, the ones before what is risky, and how long they are kept."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.domain.copies import BEFORE_ERASING, BY_HAND, DAILY
from bench.domain.localtime import day_and_time
from bench.errors import BadInput, FileLost, NotFound, StoreError
from bench.store.copies import copies_folder, copies_of, make_copy
from bench.views.journal import read_journal
from bench.views.parties import read_parties
from bench.work.check import check_file
from bench.work.copies import back_up, copy_of_the_day, leave_whole, next_day_us, read_copies, restore
from bench.work.files import open_existing, open_or_new
from bench.work.parties import erase_party
from bench.work.shop import add_person
from bench.work.undo import read_offer_to_undo, undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock
from tests.store.old_files import old_file
from tests.work.sale_steps import sell, stocked

A_DAY = 24 * 60


def tags(path: Path) -> list[str]:
    connection = sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
    found = [row[0] for row in connection.execute("SELECT tag FROM unit ORDER BY id")]
    connection.close()
    return found


def test_there_is_one_copy_a_day(desk: Desk, clock: HandSetClock) -> None:
    made = copy_of_the_day(desk)
    assert made is not None
    assert copy_of_the_day(desk) is None
    clock.advance(14 * 60)  # 23:00 UTC: the next day in Berlin, where the shop is
    assert copy_of_the_day(desk) is not None
    assert [one.why for one in read_copies(desk).copies] == [DAILY, DAILY]
    assert read_copies(desk).last != made


def test_of_many_programs_that_begin_at_once_one_makes_the_copy(desk: Desk) -> None:
    """The later ones look again once they are alone in the folder."""
    with ThreadPoolExecutor(8) as pool:
        made = [one.result() for one in [pool.submit(copy_of_the_day, desk) for _ in range(8)]]
    assert sum(one is not None for one in made) == 1
    assert len(read_copies(desk).copies) == 1


def test_a_file_put_in_the_place_of_the_open_one_is_neither_copied_nor_written_into(
    desk: Desk, tmp_path: Path
) -> None:
    other = tmp_path / "other.bench"
    open_or_new(other).close()
    other.replace(desk.store.path)
    before = desk.store.path.read_bytes()
    with pytest.raises(FileLost):
        back_up(desk)
    assert not leave_whole(desk)
    assert desk.store.path.read_bytes() == before
    assert not copies_folder(desk.store.path).exists()


def test_the_next_day_is_the_shops(desk: Desk, clock: HandSetClock) -> None:
    before = clock.now_us()
    due = next_day_us(desk)
    clock.set_wall(due - 1)
    copy_of_the_day(desk)
    assert copy_of_the_day(desk) is None
    clock.set_wall(due)
    assert copy_of_the_day(desk) is not None
    assert due - before == 14 * 3600 * 1_000_000  # from 10:00 in Berlin to midnight


def test_old_copies_go_and_those_made_by_hand_stay(desk: Desk, clock: HandSetClock) -> None:
    back_up(desk)
    for _ in range(60):
        copy_of_the_day(desk)
        clock.advance(A_DAY)
    found = read_copies(desk).copies
    daily = [one for one in found if one.why == DAILY]
    assert 7 < len(daily) < 7 + 5 + 12
    assert [one.why for one in found if one.why != DAILY] == [BY_HAND]


def test_the_copy_just_made_stays_though_the_clock_was_set_back(desk: Desk, clock: HandSetClock) -> None:
    """A clock that was ahead left newer names behind: today's copy is older than all of them."""
    for _ in range(20):
        clock.advance(A_DAY)
        copy_of_the_day(desk)
    clock.advance(-400 * A_DAY)
    made = copy_of_the_day(desk)
    assert made is not None
    assert made in read_copies(desk).copies


def test_a_copy_that_fails_is_said_and_the_old_ones_stay(desk: Desk, clock: HandSetClock) -> None:
    copy_of_the_day(desk)
    kept = read_copies(desk).copies
    clock.advance(A_DAY)
    folder = copies_folder(desk.store.path)
    folder.rename(folder.with_name("elsewhere"))
    folder.write_text("a file in the place of the folder")
    with pytest.raises(StoreError, match="No copy was made"):
        copy_of_the_day(desk)
    folder.unlink()
    folder.with_name("elsewhere").rename(folder)
    assert read_copies(desk).copies == kept


def test_a_backup_goes_where_it_is_wanted(desk: Desk, tmp_path: Path) -> None:
    add_unit(desk, maker="", model="Model A")
    elsewhere = tmp_path / "stick"
    elsewhere.mkdir()
    into_folder, as_file, beside = (
        Path(back_up(desk, to).path) for to in (elsewhere, elsewhere / "mine.bench", None)
    )
    assert into_folder == elsewhere / "workshop 2026-11-25T09-00-00Z.by-hand.bench"
    assert as_file == elsewhere / "mine.bench"
    assert beside.parent == copies_folder(desk.store.path)
    for one in (into_folder, as_file, beside):
        assert tags(one) == ["10014"]
        open_existing(one).close()
    with pytest.raises(StoreError, match="there already"):
        back_up(desk, as_file)
    with pytest.raises(StoreError, match="No copy was made"):
        back_up(desk, tmp_path / "absent" / "mine.bench")


def test_restore_by_name_finds_the_copy_beside_the_file(desk: Desk, clock: HandSetClock) -> None:
    path = desk.store.path
    name = Path(back_up(desk).path).name
    add_unit(desk, maker="", model="Model A")
    desk.store.close()
    done = restore(path, name, clock)
    assert tags(path) == []
    assert (done.path, done.sound) == (str(path), True)
    assert tags(Path(done.kept)) == ["10014"]
    with pytest.raises(BadInput):
        restore(path, " ", clock)


def test_the_journal_of_what_was_put_back_says_who_put_which_copy_when(
    desk: Desk, clock: HandSetClock
) -> None:
    add_unit(desk, maker="", model="Model A")
    name = Path(back_up(desk).path).name
    add_unit(desk, maker="", model="Model B")
    path, zone = desk.store.path, "Europe/Berlin"
    booked = day_and_time(clock.now_us(), zone)
    desk.store.close()
    clock.advance(90)
    restore(path, name, clock)
    store = open_existing(path)
    again = Desk(store, clock, 1)
    line, first = read_journal(again).lines
    assert (line.person, line.at_us) == ("Ada", clock.now_us())
    assert line.summary == f"Put back the copy {name}, last booked in {booked}"
    found = check_file(store)
    assert found.sound
    assert (found.record.lines, found.record.rules) == (2, ())
    assert read_offer_to_undo(again, line.journal_id) is None
    undo(again)  # what was booked before it can still be undone
    assert first.summary.startswith("Added")
    store.close()


def test_a_copy_is_put_back_by_one_of_its_people(desk: Desk, clock: HandSetClock) -> None:
    add_person(desk, "Bo")
    name = Path(back_up(desk).path).name
    add_person(desk, "Cy")
    path = desk.store.path
    desk.store.close()
    before = path.read_bytes()
    with pytest.raises(BadInput, match=r"Several people work in that copy: Ada, Bo\."):
        restore(path, name, clock, login="someone")
    with pytest.raises(NotFound, match="Nobody in that copy"):
        restore(path, name, clock, named="Cy", login="bo")
    assert path.read_bytes() == before
    restore(path, name, clock, login="bo")
    store = open_existing(path)
    assert read_journal(Desk(store, clock, 1)).lines[0].person == "Bo"
    store.close()


def test_a_copy_of_an_older_program_says_it_too(tmp_path: Path, clock: HandSetClock) -> None:
    old = old_file(tmp_path / "old.bench")
    path = tmp_path / "workshop.bench"
    restore(path, str(old), clock, login="ada")
    store = open_existing(path)
    assert "old.bench, last booked in Tue 1 Dec" in read_journal(Desk(store, clock, 1)).lines[0].summary
    assert check_file(store).sound
    store.close()


def test_an_erasing_is_copied_first(desk: Desk, clock: HandSetClock) -> None:
    sell(desk, stocked(desk))
    party = read_parties(desk)[0]
    clock.advance(1)
    erased = erase_party(desk, party.party_id, "asked for", early=True)
    (kept,) = (one for one in copies_of(desk.store.path) if one.why == BEFORE_ERASING)
    folder = copies_folder(desk.store.path)
    assert party.name.encode() in (folder / kept.name).read_bytes()
    assert party.name.encode() not in desk.store.path.read_bytes()
    assert erased.in_copies == f"1 copy of the file in {folder}"


def test_nothing_is_erased_where_it_cannot_be_copied_first(desk: Desk) -> None:
    sell(desk, stocked(desk))
    party = read_parties(desk)[0]
    copies_folder(desk.store.path).write_text("a file in the place of the folder")
    with pytest.raises(StoreError, match="No copy was made"):
        erase_party(desk, party.party_id, "asked for", early=True)
    assert read_parties(desk)[0] == party


def test_a_copy_of_a_file_in_use_is_of_one_moment(desk: Desk) -> None:
    """A write that has begun and is not committed is not in the copy, and does not hold it up."""
    add_unit(desk, maker="", model="Model A")
    with desk.store.write() as session:
        session.connection().exec_driver_sql("UPDATE unit SET tag = '20008'")
        made = make_copy(desk.store.path, BY_HAND, 0)
    assert tags(copies_folder(desk.store.path) / made.name) == ["10014"]
    assert tags(desk.store.path) == ["20008"]
