"""The people: names of their own, found in whatever capitals, removed only when nothing of theirs runs."""

from __future__ import annotations

import subprocess
import sys

import pytest

from bench.desk import Desk
from bench.errors import BadInput, NotFound, Refused
from bench.store.engine import Store
from bench.views.shop import person_named, read_people
from bench.work.shop import add_person, remove_person, rename_person
from bench.work.timers import start_task, stop_person
from bench.work.undo import undo
from tests.work.bookkeeping import any_task, footprint


def names(desk: Desk) -> list[str]:
    return [person.name for person in read_people(desk)]


def test_someone_new(desk: Desk, store: Store) -> None:
    grace = add_person(desk, "  Grace ")
    assert names(desk) == ["Ada", "Grace"]
    assert person_named(store, "grace ") == grace
    undo(desk)
    assert names(desk) == ["Ada"]


@pytest.mark.parametrize("name", ["", "   ", "ada", "a\nb", "bell\x07", "x" * 81])
def test_a_name_that_cannot_be(desk: Desk, name: str) -> None:
    before = footprint(desk)
    with pytest.raises(BadInput):
        add_person(desk, name)
    assert (names(desk), footprint(desk)) == (["Ada"], before)


def test_nobody_of_that_name(store: Store, desk: Desk) -> None:
    add_person(desk, "[/]")
    with pytest.raises(NotFound, match=r"Nobody here is named “Bo”\. The people are: Ada, \[/\]\."):
        person_named(store, "Bo")


def test_renaming(desk: Desk) -> None:
    rename_person(desk, 1, "ADA")
    assert names(desk) == ["ADA"]
    before = footprint(desk)
    rename_person(desk, 1, "ADA")
    assert footprint(desk) == before
    with pytest.raises(NotFound):
        rename_person(desk, 9, "Nine")


def test_two_people_do_not_share_a_name(desk: Desk) -> None:
    grace = add_person(desk, "Grace")
    with pytest.raises(BadInput, match="already a person named “Ada”"):
        rename_person(desk, grace, "Ada")


def test_removing(desk: Desk, store: Store) -> None:
    grace = add_person(desk, "Grace")
    remove_person(desk, grace)
    assert names(desk) == ["Ada"]
    with pytest.raises(NotFound):
        person_named(store, "Grace")
    assert add_person(desk, "Grace") != grace


def test_nobody_removes_themselves(desk: Desk) -> None:
    with pytest.raises(Refused, match="cannot remove yourself"):
        remove_person(desk, 1)


def test_a_running_timer_is_stopped_first(desk: Desk) -> None:
    grace = desk.as_person(add_person(desk, "Grace"))
    start_task(grace, any_task(desk))
    with pytest.raises(Refused, match="timer of Grace is still running"):
        remove_person(desk, grace.person_id)
    stop_person(grace)
    remove_person(desk, grace.person_id)
    assert names(desk) == ["Ada"]


def test_looking_someone_up_imports_no_storage_library() -> None:
    program = "import sys, bench.views.shop; print({'sqlalchemy', 'sqlmodel'} & set(sys.modules))"
    answer = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "set()"
