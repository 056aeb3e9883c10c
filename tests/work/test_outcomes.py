"""A test ends as passed, failed or broken off: each attempt is kept, and a failure has its consequences."""

from __future__ import annotations

import pytest

from bench.desk import Desk
from bench.errors import BadInput, Conflict, ListingFirst, NotFound, OutcomeFirst, Refused
from bench.store.tables import Fault, Task
from bench.views.faults import read_faults, read_unit_faults
from bench.views.outcomes import last_of_each, read_outcomes
from bench.views.tasks import TaskLine
from bench.views.unit import read_unit
from bench.work.change import change
from bench.work.check import check_file
from bench.work.faults import add_fault, edit_fault
from bench.work.moves import move_unit
from bench.work.outcomes import end_test, remove_test
from bench.work.safety import report_cell
from bench.work.tasks import add_task
from bench.work.timers import finish_task, reopen_task, skip_task, start_task
from bench.work.undo import redo, undo
from bench.work.units import add_unit
from bench.work.waivers import list_without
from tests.clocks import HandSetClock
from tests.work.looked_into import looked_into
from tests.work.sale_steps import sell, stage, stocked
from tests.work.taking_back import changes_nothing, is_taken_back, kept

MINUTE_US = 60_000_000


@pytest.fixture
def unit_id(desk: Desk) -> int:
    """A unit with a soak test, then a memory test, then a look at the screen, all at its stage."""
    unit_id = looked_into(desk, add_unit(desk, maker="Invented", model="One").unit_id)
    for name, test in (("soak test", "soak"), ("memory", "memory"), ("look", ""), ("screen", "screen")):
        add_task(
            desk,
            unit_id,
            name=name,
            stage_id=stage(desk, "received"),
            estimate_text="60",
            unattended=test == "soak",
            lid_off=False,
            test=test,
        )
    return unit_id


def task(desk: Desk, unit_id: int, name: str) -> TaskLine:
    return next(one for one in read_unit(desk, unit_id).tasks if one.name == name)


def states(desk: Desk, unit_id: int) -> dict[str, str]:
    return {one.name: one.state for one in read_unit(desk, unit_id).tasks}


def test_done_without_an_outcome_is_refused(desk: Desk, unit_id: int) -> None:
    soak = task(desk, unit_id, "soak test").task_id
    changes_nothing(
        desk, lambda: finish_task(desk, soak), OutcomeFirst, "is a test: it is done with its outcome"
    )
    inspected = stage(desk, "inspected")
    moved = lambda: move_unit(desk, unit_id, inspected, open_tasks="done")  # noqa: E731
    changes_nothing(desk, moved, OutcomeFirst, "soak test")
    skip_task(desk, soak, "no time")  # leaving it out, with a reason, is another thing


def test_one_that_passed_is_done_and_ran_as_long_as_its_timer(
    desk: Desk, unit_id: int, clock: HandSetClock
) -> None:
    start_task(desk, task(desk, unit_id, "soak test").task_id)
    clock.advance(minutes=240)
    ended = end_test(
        desk,
        unit_id,
        kind="soak",
        outcome="passed",
        figures={"hottest": "91.5", "power": "45 W"},
        note="quiet",
    )
    assert (ended.task, ended.outcome, ended.ran_us, ended.again) == (
        "soak test",
        "passed",
        240 * MINUTE_US,
        (),
    )
    line = task(desk, unit_id, "soak test")
    assert (line.state, line.running, line.spent_us) == ("done", (), 240 * MINUTE_US)
    (run,) = read_outcomes(desk, unit_id)
    assert run.figures == {"hottest_tenths_c": 915, "power_mw": 45_000}
    assert run.measured == "Hottest 91.5 °C, Power 45.0 W"
    assert (run.note, run.label, run.fault_id) == ("quiet", "Soak test", None)


def test_each_attempt_is_kept_and_told_how_long_it_ran(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    soak = task(desk, unit_id, "soak test").task_id
    for outcome, minutes in (("broken off", 10), ("failed", 47), ("passed", 240)):
        start_task(desk, soak)
        clock.advance(minutes=minutes)
        end_test(desk, unit_id, task_id=soak, outcome=outcome)
    runs = read_outcomes(desk, unit_id)
    assert [(run.outcome, run.ran_us) for run in runs] == [
        ("broken off", 10 * MINUTE_US),
        ("failed", 47 * MINUTE_US),
        ("passed", 240 * MINUTE_US),
    ]
    assert [one.outcome for one in last_of_each(runs)] == ["passed"]
    assert states(desk, unit_id)["soak test"] == "done"


def test_what_is_typed_is_how_long_it_ran(desk: Desk, unit_id: int) -> None:
    assert end_test(desk, unit_id, kind="memory", outcome="passed", ran_text="1h30").ran_us == 90 * MINUTE_US
    assert end_test(desk, unit_id, kind="screen", outcome="passed").ran_us is None


def test_a_failure_opens_a_fault_and_later_tests_are_to_do_again(desk: Desk, unit_id: int) -> None:
    for kind in ("soak", "memory", "screen"):
        end_test(desk, unit_id, kind=kind, outcome="passed")
    finish_task(desk, task(desk, unit_id, "look").task_id)

    before = kept(desk)
    end_test(desk, unit_id, kind="memory", outcome="failed", note="errors at 4 GB", figures={"errors": "12"})
    undo(desk, reason="the wrong unit")
    assert kept(desk) == before
    redo(desk)

    assert states(desk, unit_id) == {"soak test": "done", "memory": "todo", "look": "done", "screen": "todo"}
    (fault,) = read_unit_faults(desk, unit_id).faults
    assert (fault.symptom, fault.place, fault.task) == (
        "Memory test failed: errors at 4 GB",
        "memory",
        "memory",
    )
    assert read_outcomes(desk, unit_id)[-1].fault_id == fault.fault_id
    assert check_file(desk.store).sound


def test_a_second_failure_shows_the_same_fault(desk: Desk, unit_id: int) -> None:
    first = end_test(desk, unit_id, kind="soak", outcome="failed", symptom="shuts down")
    again = end_test(desk, unit_id, kind="soak", outcome="failed")
    assert (again.fault_id, again.symptom) == (first.fault_id, "shuts down")
    other = end_test(desk, unit_id, kind="soak", outcome="failed", symptom="fan stops")
    assert other.fault_id != first.fault_id
    known = add_fault(desk, unit_id, symptom="rattles").fault_id
    assert end_test(desk, unit_id, kind="soak", outcome="failed", fault_id=known).fault_id == known
    assert len(read_faults(desk).faults) == 3


def test_one_that_passed_closes_the_faults_that_are_named(desk: Desk, unit_id: int) -> None:
    fault_id = end_test(desk, unit_id, kind="soak", outcome="failed").fault_id
    assert fault_id is not None
    passed = is_taken_back_with_a_reason(desk, unit_id, fault_id)
    (fault,) = read_unit_faults(desk, unit_id).faults
    assert (fault.state, fault.closed_by_test_id, fault.closing_test) == ("cured", passed, "soak")
    assert fault.done == "Soak test passed"
    changes_nothing(desk, lambda: remove_test(desk, passed, "wrong unit"), Refused, "has closed a fault")
    edit_fault(desk, fault_id, state="open")
    is_taken_back(desk, lambda: remove_test(desk, passed, "wrong unit"))
    assert states(desk, unit_id)["soak test"] == "todo"


def is_taken_back_with_a_reason(desk: Desk, unit_id: int, fault_id: int) -> int:
    before = kept(desk)
    end_test(desk, unit_id, kind="soak", outcome="passed", cures=(fault_id,))
    with pytest.raises(BadInput, match="reason"):
        undo(desk)
    undo(desk, reason="the wrong unit")
    assert kept(desk) == before
    return end_test(desk, unit_id, kind="soak", outcome="passed", cures=(fault_id,)).test_id


def test_a_fault_is_closed_by_a_test_that_passed_later(desk: Desk, unit_id: int) -> None:
    fault_id = add_fault(desk, unit_id, symptom="stripes").fault_id
    failed = end_test(desk, unit_id, kind="screen", outcome="broken off").test_id
    passed = end_test(desk, unit_id, kind="screen", outcome="passed").test_id
    closes = lambda test_id: edit_fault(desk, fault_id, state="cured", closed_by_test_id=test_id)  # noqa: E731
    changes_nothing(desk, lambda: closes(failed), Refused, "that passed")
    closes(passed)
    (fault,) = read_unit_faults(desk, unit_id).faults
    assert (fault.done, fault.closing_test) == ("Screen test passed", "screen")


def test_passed_once_more_is_done_once(desk: Desk, unit_id: int, clock: HandSetClock) -> None:
    end_test(desk, unit_id, kind="screen", outcome="passed")
    clock.advance(minutes=5)
    end_test(desk, unit_id, kind="screen", outcome="passed")
    assert len(read_outcomes(desk, unit_id)) == 2
    assert task(desk, unit_id, "screen").ended_us == clock.now_us()


def test_reopened_it_wants_an_outcome_again(desk: Desk, unit_id: int) -> None:
    screen = task(desk, unit_id, "screen").task_id
    end_test(desk, unit_id, task_id=screen, outcome="passed")
    reopen_task(desk, screen)
    changes_nothing(desk, lambda: finish_task(desk, screen), OutcomeFirst, "with its outcome")


def test_a_test_need_not_be_a_task(desk: Desk, unit_id: int) -> None:
    ended = end_test(desk, unit_id, kind="touchpad", outcome="failed", symptom="left edge dead")
    assert (ended.task, ended.kind) == ("", "touchpad")
    assert read_unit_faults(desk, unit_id).faults[0].place == "touchpad"


@pytest.mark.parametrize(
    ("wrong", "match"),
    [
        ({"outcome": ""}, "outcome of the test is not said"),
        ({"outcome": "fine"}, "no outcome"),
        ({"kind": "smell"}, "no kind of test"),
        ({"kind": ""}, "Which test it is"),
        ({"ran_text": "long"}, "long"),
        ({"figures": {"hottest": "a lot"}}, "hottest|Hottest"),
        ({"figures": {"weight": "3"}}, "no field"),
        ({"kind": "sound", "figures": {"loud": "3"}}, "no figures"),
        ({"symptom": "dark"}, "Only a test that failed"),
        ({"cures": (1,), "outcome": "failed"}, "Only a test that passed"),
    ],
)
def test_what_cannot_be_is_refused(desk: Desk, unit_id: int, wrong: dict[str, object], match: str) -> None:
    add_fault(desk, unit_id, symptom="dark")
    typed = {"outcome": "passed", "kind": "soak", **wrong}
    changes_nothing(desk, lambda: end_test(desk, unit_id, **typed), BadInput, match)  # type: ignore[arg-type]


def test_it_is_of_this_unit_and_the_unit_is_here(desk: Desk, unit_id: int) -> None:
    other = stocked(desk)
    fault_id = add_fault(desk, other, symptom="dark").fault_id
    soak = task(desk, unit_id, "soak test").task_id
    for act, match in (
        (lambda: end_test(desk, other, task_id=soak, outcome="passed"), "not of unit"),
        (lambda: end_test(desk, unit_id, kind="soak", outcome="failed", fault_id=fault_id), "no open fault"),
        (lambda: end_test(desk, unit_id, kind="soak", outcome="passed", cures=(fault_id,)), "no open fault"),
        (lambda: end_test(desk, unit_id, task_id=soak, kind="memory", outcome="passed"), "is a soak test"),
    ):
        changes_nothing(desk, act, (Refused, BadInput), match)  # type: ignore[arg-type]
    changes_nothing(desk, lambda: end_test(desk, 99, kind="soak", outcome="passed"), NotFound, "no unit")
    sell(desk, other)
    changes_nothing(desk, lambda: end_test(desk, other, kind="soak", outcome="passed"), Refused, "has left")
    report_cell(desk, unit_id, "swollen")
    changes_nothing(desk, lambda: end_test(desk, unit_id, kind="soak", outcome="passed"), Refused, "swollen")


def test_what_failed_is_not_listed_unasked_and_what_is_listed_waits(desk: Desk, clock: HandSetClock) -> None:
    unit_id = stocked(desk)
    end_test(desk, unit_id, kind="wireless", outcome="failed")
    with pytest.raises(ListingFirst, match="failed: wireless test"):
        move_unit(desk, unit_id, stage(desk, "listed"))
    end_test(desk, unit_id, kind="wireless", outcome="broken off")
    with pytest.raises(ListingFirst, match="failed"):
        move_unit(desk, unit_id, stage(desk, "listed"))
    end_test(desk, unit_id, kind="wireless", outcome="passed")
    move_unit(desk, unit_id, stage(desk, "listed"))
    clock.advance(minutes=1)
    assert end_test(desk, unit_id, kind="sound", outcome="failed").held
    assert read_unit(desk, unit_id).held == "sound test failed"


def test_no_act_leaves_a_test_done_without_an_outcome(desk: Desk, unit_id: int) -> None:
    soak = task(desk, unit_id, "soak test").task_id

    def past_the_rule() -> None:
        with change(desk, "past the rule") as made:
            row = made.get(Task, soak, "task")
            row.state, row.ended_us = "done", made.now_us
            made.tells("Past the rule")

    changes_nothing(desk, past_the_rule, OutcomeFirst, "is a test")


def test_a_fault_or_test_that_something_points_at_does_not_go(desk: Desk, unit_id: int) -> None:
    fault_id = end_test(desk, unit_id, kind="sound", outcome="failed").fault_id

    def past_the_rule() -> None:
        with change(desk, "past the rule") as made:
            made.get(Fault, fault_id or 0, "fault").removed = 1
            made.tells("Past the rule")

    changes_nothing(desk, past_the_rule, Conflict, "stands on that fault")


def test_a_reason_answers_for_the_failure_before_it_alone(desk: Desk, clock: HandSetClock) -> None:
    unit_id = stocked(desk)
    end_test(desk, unit_id, kind="sound", outcome="failed")
    clock.advance(minutes=1)
    assert list_without(desk, unit_id, "sold as it is, told") == ("failed: sound test",)
    move_unit(desk, unit_id, stage(desk, "listed"))
    move_unit(desk, unit_id, stage(desk, "graded"))
    clock.advance(minutes=1)
    end_test(desk, unit_id, kind="sound", outcome="failed")
    with pytest.raises(ListingFirst, match="failed: sound test"):
        move_unit(desk, unit_id, stage(desk, "listed"))
