"""A repair of an owner's machine: taken in, quoted, answered, billed, handed back, in warranty."""

from __future__ import annotations

from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.party import PartyTyped
from bench.domain.repair_jobs import ACCEPTED, DECLINED
from bench.domain.ways_out import HANDED_BACK
from bench.errors import BadInput, Conflict, NotFound, Refused
from bench.views.export import read_everything
from bench.views.money_rows import read_money_rows
from bench.views.months import read_month
from bench.views.parties import read_parties
from bench.views.register import OWNERS, read_register
from bench.views.repair_jobs import JobSheet, read_jobs, the_job
from bench.views.unit_money import read_unit_money
from bench.views.week import read_week
from bench.work.check import check_file
from bench.work.leaving import leave_unit
from bench.work.moves import move_unit
from bench.work.parties import erase_party, set_owner
from bench.work.quotes import add_line, answer_quote, edit_line, give_quote, remove_line
from bench.work.repair_jobs import edit_job, open_job, tell_ready
from bench.work.repair_terms import edit_repair_terms
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from bench.work.unlocking import erase_access_word, keep_access_word, show_access_word
from tests.clocks import HandSetClock
from tests.work.bookkeeping import last_journal
from tests.work.looked_into import looked_into
from tests.work.sale_steps import part, stage, stocked
from tests.work.taking_back import changes_nothing, is_taken_back

OWNER = PartyTyped("Odo Owner", contact="o@example.org")
DAY_MINUTES = 24 * 60
SECRET = "marmalade-41"


def brought_in(desk: Desk) -> tuple[int, int]:
    """An owner's machine and its repair."""
    unit_id = looked_into(desk, add_unit(desk, maker="Maker", model="Model", owner=OWNER).unit_id)
    return unit_id, open_job(desk, unit_id, complaint="it goes off by itself").job_id


def terms(desk: Desk, **typed: str) -> None:
    wanted = {"tax_text": "19", "quote_days_text": "14", "warranty_text": "90", "uncollected_text": "30"}
    edit_repair_terms(desk, **{**wanted, **typed})


def quoted(desk: Desk, job_id: int) -> None:
    """A fan for 40.00 and an hour and a half at 48.00, each plus 19 %: 112.00 net, 133.28."""
    terms(desk)
    add_line(desk, job_id, what="fan", kind="parts", price_text="40")
    add_line(desk, job_id, what="fit it", kind="labour", quantity_text="1.5", price_text="48")
    give_quote(desk, job_id)


def job(desk: Desk, unit_id: int) -> JobSheet:
    return the_job(desk, unit_id)


def test_it_is_taken_in_in_the_owners_words_and_comes_with_its_state(desk: Desk) -> None:
    unit_id = add_unit(desk, maker="Maker", model="Model", owner=OWNER).unit_id
    opened = is_taken_back(
        desk,
        lambda: open_job(
            desk,
            unit_id,
            complaint="it goes off by itself",
            came_along="charger, bag",
            arrival="scratch on the lid",
            data_consent="must be kept",
        ),
    )
    found = job(desk, unit_id).job
    assert (found.job_id, found.owner, found.complaint) == (
        opened.job_id,
        "Odo Owner",
        "it goes off by itself",
    )
    assert (found.came_along, found.data_consent, found.state) == (
        "charger, bag",
        "must be kept",
        "not quoted yet",
    )
    assert [one.tag for one in read_jobs(desk).jobs] == [opened.tag]
    changes_nothing(desk, lambda: open_job(desk, unit_id, complaint="again"), Refused, "lasts already")
    edit_job(
        desk,
        opened.job_id,
        complaint="it goes off by itself",
        came_along="charger",
        arrival="",
        data_consent="ask first",
        diagnosis="the fan stands still",
    )
    assert job(desk, unit_id).job.diagnosis == "the fan stands still"


def test_what_is_the_shops_own_is_not_repaired_for_anybody(desk: Desk) -> None:
    own = stocked(desk, "100")
    changes_nothing(desk, lambda: open_job(desk, own, complaint="dead"), Refused, "shop's own")
    unit_id = add_unit(desk, maker="Maker", model="Model", owner=OWNER).unit_id
    changes_nothing(desk, lambda: open_job(desk, unit_id, complaint=" "), BadInput, "complaint is empty")
    changes_nothing(
        desk,
        lambda: open_job(desk, unit_id, complaint="x", data_consent="perhaps"),
        BadInput,
        "says nothing about the data",
    )
    open_job(desk, unit_id, complaint="dead")
    changes_nothing(desk, lambda: set_owner(desk, unit_id, PartyTyped("")), Refused, "owner's repair")


def test_a_quote_is_given_and_accepted_and_its_lines_stand_then(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    changes_nothing(desk, lambda: give_quote(desk, job_id), Refused, "no lines yet")
    quoted(desk, job_id)
    sheet = job(desk, unit_id)
    assert (sheet.quote.net_minor, sheet.quote.tax_minor, sheet.quote.total_minor) == (11_200, 2_128, 13_328)
    assert sheet.job.state == "quoted, open until 2026-12-09"
    assert sheet.job.warranty_days == 90
    is_taken_back(desk, lambda: answer_quote(desk, job_id, answer=ACCEPTED, how="by phone"))
    sheet = job(desk, unit_id)
    assert (sheet.job.answer, sheet.job.answered_on, sheet.job.answered_how) == (
        ACCEPTED,
        date(2026, 11, 25),
        "by phone",
    )
    line_id = sheet.lines[0].line_id
    changes_nothing(desk, lambda: remove_line(desk, line_id), Refused, "its lines stand")
    changes_nothing(desk, lambda: answer_quote(desk, job_id, answer=DECLINED), Refused, "was accepted")
    beyond = is_taken_back(
        desk, lambda: add_line(desk, job_id, what="goodwill", kind="allowance", price_text="12")
    )
    sheet = job(desk, unit_id)
    assert (sheet.quote.total_minor, sheet.bill.net_minor) == (13_328, 10_000)
    assert beyond.line_id == sheet.lines[-1].line_id
    with pytest.raises(Conflict, match="stands on it"):
        undo(desk, last_line(desk) - 3)  # the answer, on which the line beyond it stands


def last_line(desk: Desk) -> int:
    with desk.store.read() as connection:
        return int(connection.execute("SELECT MAX(id) FROM journal").fetchone()[0])


def test_lines_that_change_before_the_answer_have_the_quote_given_anew(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    quoted(desk, job_id)
    line_id = job(desk, unit_id).lines[0].line_id
    edit_line(desk, line_id, what="fan", kind="parts", quantity_text="2", price_text="40", tax_text="19 %")
    sheet = job(desk, unit_id)
    assert (sheet.job.quoted_on, sheet.job.state) == (None, "not quoted yet")
    changes_nothing(desk, lambda: answer_quote(desk, job_id, answer=ACCEPTED), Refused, "No quote was given")
    give_quote(desk, job_id, until_text="today")
    remove_line(desk, line_id)
    assert job(desk, unit_id).quote.net_minor == 7_200


def test_a_quote_that_was_given_stands_on_its_lines_and_comes_back_with_them_alone(desk: Desk) -> None:
    _, job_id = brought_in(desk)
    line_id = add_line(desk, job_id, what="fan", kind="parts", price_text="40").line_id or 0
    added = last_line(desk)
    give_quote(desk, job_id)
    given = last_line(desk)
    changes_nothing(desk, lambda: undo(desk, added), Conflict, "stands on it")
    undo(desk, given)
    remove_line(desk, line_id)
    changes_nothing(desk, lambda: redo(desk, given), Conflict, "stands on it")


def test_what_was_billed_is_not_undone_although_the_machine_came_in_again(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    add_line(desk, job_id, what="fan", kind="parts", price_text="40")
    lead_id = add_line(desk, job_id, what="lead", kind="parts", price_text="5").line_id or 0
    remove_line(desk, lead_id)
    removed = last_line(desk)
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="repaired")
    move_unit(desk, unit_id, stage(desk, "received"), done_tasks="keep")
    changes_nothing(desk, lambda: undo(desk, removed), Conflict, "stands on it")


def test_an_answer_after_its_time_is_said_to_be_late(desk: Desk, clock: HandSetClock) -> None:
    unit_id, job_id = brought_in(desk)
    quoted(desk, job_id)
    clock.advance(minutes=15 * DAY_MINUTES)
    assert job(desk, unit_id).job.state == "quote lapsed 2026-12-09"
    answer_quote(desk, job_id, answer=ACCEPTED)
    assert "after it lapsed" in last_journal(desk)[0]


def test_handing_back_bills_it_and_counts_as_work_for_others_less_the_tax(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    quoted(desk, job_id)
    answer_quote(desk, job_id, answer=ACCEPTED)
    part(desk, "fan", 1_500, to=unit_id)
    changes_nothing(
        desk,
        lambda: leave_unit(desk, unit_id, way=HANDED_BACK, reason="done", price_text="100"),
        BadInput,
        "comes to 133.28 EUR",
    )
    left = is_taken_back(desk, lambda: leave_unit(desk, unit_id, way=HANDED_BACK, reason="done"))
    assert left.price_minor == 13_328
    sheet = job(desk, unit_id)
    assert sheet.job.collected_on == date(2026, 11, 25)
    assert sheet.job.warranty_until == date(2027, 2, 23)
    repairs = read_week(desk).repairs
    assert (repairs.units, repairs.income_minor, repairs.cost_minor) == (1, 11_200, 1_500)
    month = read_month(desk)
    assert [(one.words, one.amount_minor) for one in month.unsold] == [
        ("repairs of owners' machines", 11_200),
        ("parts, consumables of repairs", -1_500),
    ]
    assert month.result_minor == 9_700
    money = read_unit_money(desk, unit_id)
    assert (money.proceeds_minor, money.cost_so_far_minor) == (11_200, 1_500)
    rows = read_money_rows(desk, unit_id, money.proceeds[0].opens).rows
    assert [row.amount_minor for row in rows] == [13_328, -2_128]
    [line] = read_register(desk).lines
    assert (line.state, month.tied_up) == (OWNERS, ())
    changes_nothing(
        desk, lambda: add_line(desk, job_id, what="x", kind="other", price_text="1"), Refused, "handed back"
    )
    with pytest.raises(Conflict, match="stands on it"):
        undo(desk, last_line(desk) - 3)
    assert check_file(desk.store).record.agrees


def test_a_plain_move_hands_back_and_bills_too(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    quoted(desk, job_id)
    changes_nothing(desk, lambda: move_unit(desk, unit_id, stage(desk, "sold")), Refused, "has no answer yet")
    answer_quote(desk, job_id, answer=ACCEPTED)
    move_unit(desk, unit_id, stage(desk, "sold"))
    assert job(desk, unit_id).job.price_minor == 13_328


def test_of_a_declined_quote_only_what_comes_beyond_it_is_paid(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    quoted(desk, job_id)
    answer_quote(desk, job_id, answer=DECLINED, how="in writing")
    add_line(desk, job_id, what="finding the fault", kind="labour", quantity_text="30 min", price_text="40")
    left = leave_unit(desk, unit_id, way=HANDED_BACK, reason="too dear")
    assert left.price_minor == 2_380


def test_work_beyond_the_quote_is_told(desk: Desk, clock: HandSetClock) -> None:
    from bench.work.tasks import add_task
    from bench.work.timers import start_task, stop_person

    unit_id, job_id = brought_in(desk)
    quoted(desk, job_id)
    answer_quote(desk, job_id, answer=ACCEPTED)
    task_id = add_task(
        desk,
        unit_id,
        name="look over",
        stage_id=stage(desk, "received"),
        estimate_text="30",
        unattended=False,
        lid_off=False,
    )
    start_task(desk, task_id)
    clock.advance(minutes=100)
    stop_person(desk)
    part(desk, "fan", 5_000, to=unit_id)
    spent = job(desk, unit_id).spent
    assert (spent.quoted_us, spent.over_us) == (90 * 60_000_000, 10 * 60_000_000)
    assert (spent.quoted_parts_minor, spent.over_minor) == (4_000, 1_000)


def test_a_second_repair_under_warranty_comes_after_the_first(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    quoted(desk, job_id)
    answer_quote(desk, job_id, answer=ACCEPTED)
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="done")
    changes_nothing(desk, lambda: open_job(desk, unit_id, complaint="again"), Refused, "has left")
    move_unit(desk, unit_id, stage(desk, "received"))
    second = open_job(desk, unit_id, complaint="it is back")
    sheet = job(desk, unit_id)
    assert (sheet.job.job_id, sheet.earlier, sheet.lines) == (second.job_id, (job_id,), ())
    assert sheet.spent.cost_minor == 0
    assert [one.job_id for one in read_jobs(desk, every=True).jobs] == [second.job_id, job_id]


@pytest.mark.parametrize("removed", [False, True])
def test_what_was_beyond_a_quote_does_not_come_back_once_its_answer_is_undone(
    desk: Desk, removed: bool
) -> None:
    _, job_id = brought_in(desk)
    quoted(desk, job_id)
    answer_quote(desk, job_id, answer=ACCEPTED)
    answering = last_line(desk)
    line_id = add_line(desk, job_id, what="keyboard", kind="parts", price_text="30").line_id
    assert line_id is not None
    beyond = last_line(desk)
    if removed:
        remove_line(desk, line_id)
        undo(desk, answering)
        changes_nothing(desk, lambda: undo(desk, beyond + 1), Conflict, "Undid: The quote was accepted")
    else:
        undo(desk, beyond)
        undo(desk, answering)
        changes_nothing(desk, lambda: redo(desk, beyond), Conflict, "Undid: The quote was accepted")
    redo(desk, answering)


def test_a_first_repair_that_was_undone_does_not_come_back_under_a_second(desk: Desk) -> None:
    unit_id, _ = brought_in(desk)
    opening = last_line(desk)
    undo(desk, opening)
    open_job(desk, unit_id, complaint="it is hot")
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="done")
    changes_nothing(desk, lambda: redo(desk, opening), Conflict, "stands on it")
    move_unit(desk, unit_id, stage(desk, "received"))
    changes_nothing(desk, lambda: redo(desk, opening), Conflict, "Took in the repair")
    assert check_file(desk.store).record.agrees


def test_a_repair_does_not_come_back_to_a_machine_that_has_left(desk: Desk) -> None:
    unit_id, _ = brought_in(desk)
    opening = last_line(desk)
    undo(desk, opening)
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="not wanted")
    changes_nothing(desk, lambda: redo(desk, opening), Conflict, "handed back")
    undo(desk)
    redo(desk, opening)
    assert job(desk, unit_id).job.complaint == "it goes off by itself"


def test_it_is_uncollected_after_the_shops_time_and_the_words_say_local_law(
    desk: Desk, clock: HandSetClock
) -> None:
    unit_id, job_id = brought_in(desk)
    terms(desk)
    is_taken_back(desk, lambda: tell_ready(desk, job_id))
    assert job(desk, unit_id).job.state == "ready since 2026-11-25"
    clock.advance(minutes=30 * DAY_MINUTES)
    assert not job(desk, unit_id).job.uncollected
    clock.advance(minutes=DAY_MINUTES)
    [line] = read_jobs(desk).jobs
    assert (line.uncollected, line.state) == (True, "not collected since 2026-11-25")
    terms(desk, uncollected_text="0")
    assert not job(desk, unit_id).job.uncollected


def bytes_of_the_file(desk: Desk) -> bytes:
    path = desk.store.path
    beside = [path, *(path.with_name(path.name + end) for end in ("-wal", "-shm"))]
    return b"".join(one.read_bytes() for one in beside if one.exists())


def test_the_access_word_is_shown_by_one_act_and_stands_nowhere_else(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    keep_access_word(desk, job_id, SECRET)
    assert job(desk, unit_id).job.has_access_word
    assert show_access_word(desk, job_id) == SECRET
    assert "Looked at the access word" in last_journal(desk)[0]
    with desk.store.read() as connection:
        journal = connection.execute("SELECT * FROM journal").fetchall()
    assert SECRET not in str([tuple(row) for row in journal])
    assert SECRET not in str(read_everything(desk))
    assert SECRET not in str(job(desk, unit_id))
    with pytest.raises(Refused, match="changed nothing that can be undone"):
        undo(desk, last_line(desk))
    assert SECRET.encode() in bytes_of_the_file(desk)
    erase_access_word(desk, job_id)
    assert SECRET.encode() not in bytes_of_the_file(desk)
    with pytest.raises(NotFound, match="No access word is kept"):
        show_access_word(desk, job_id)


@pytest.mark.parametrize("how", ["handed back", "moved", "job undone", "owner erased"])
def test_the_access_word_goes_with_the_machine(desk: Desk, how: str) -> None:
    unit_id, job_id = brought_in(desk)
    keep_access_word(desk, job_id, SECRET)
    if how == "handed back":
        leave_unit(desk, unit_id, way=HANDED_BACK, reason="done")
    elif how == "moved":
        move_unit(desk, unit_id, stage(desk, "sold"))
    elif how == "job undone":
        undo(desk, last_line(desk) - 1)
    else:
        erase_party(desk, read_parties(desk)[0].party_id, "asked for it", early=True)
    assert SECRET.encode() not in bytes_of_the_file(desk)
    if how == "handed back":
        undo(desk)
        assert not job(desk, unit_id).job.has_access_word
        redo(desk)
        with pytest.raises(Refused, match="was handed back"):
            keep_access_word(desk, job_id, SECRET)
    assert check_file(desk.store).record.agrees


def test_a_persons_data_stay_while_a_repairs_warranty_lasts(desk: Desk) -> None:
    unit_id, job_id = brought_in(desk)
    terms(desk, warranty_text="3650")
    add_line(desk, job_id, what="fan", kind="parts", price_text="40")
    give_quote(desk, job_id)
    answer_quote(desk, job_id, answer=ACCEPTED)
    leave_unit(desk, unit_id, way=HANDED_BACK, reason="done")
    [owner] = [one for one in read_parties(desk) if one.name == "Odo Owner"]
    assert owner.erase_on == date(2036, 11, 22)
