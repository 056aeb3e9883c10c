"""The people of the shop: added, renamed, taken off the list."""

from __future__ import annotations

from sqlmodel import col, select

from bench.desk import Desk
from bench.errors import Refused
from bench.store.tables import Person, TimeEntry
from bench.work.change import change
from bench.work.names import free_name, tells_if_changed


def add_person(desk: Desk, name: str) -> int:
    """Someone new at the bench; answers their number."""
    with change(desk, "add person") as made:
        person = made.add(Person(name=free_name(made, Person, name, "person")))
        made.tells(f"Added {person.name} to the people")
        assert person.id is not None
        return person.id


def rename_person(desk: Desk, person_id: int, name: str) -> None:
    """Write someone's name differently, in everything they did as well."""
    with change(desk, "rename person") as made:
        person = made.get(Person, person_id, "person")
        before, person.name = person.name, free_name(made, Person, name, "person", person_id)
        tells_if_changed(made, f"Renamed {before} to {person.name}")


def remove_person(desk: Desk, person_id: int) -> None:
    """Take someone off the list; what they did stays.

    Refused for oneself, and while a timer of theirs runs.
    """
    with change(desk, "remove person") as made:
        person = made.get(Person, person_id, "person")
        if person_id == desk.person_id:
            raise Refused("You cannot remove yourself.", "Let someone else do it.")
        running = select(TimeEntry).where(
            TimeEntry.person_id == person_id, col(TimeEntry.stopped_us).is_(None)
        )
        if made.session.exec(running).first() is not None:
            raise Refused(f"A timer of {person.name} is still running.", "Stop it first.")
        person.removed = 1
        made.tells(f"Removed {person.name} from the people")
