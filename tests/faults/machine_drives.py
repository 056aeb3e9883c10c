"""What people do to drives by chance: moved, wiped, looked for, waived, and their units listed."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st
from hypothesis.stateful import rule

from bench.desk import Desk
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive
from bench.work.moves import move_unit
from bench.work.waivers import list_without, no_drive_in_it
from bench.work.wipes import record_wipe, remove_wipe, verify_wipe
from tests.faults.machine_ground import ANY, PEOPLE, UNITS, WHY, Ground
from tests.faults.model import Model


class DriveActs(Ground):
    """Each rule does one thing as one person; what is refused must leave all as it was."""

    @rule(person=PEOPLE, unit=UNITS)
    def add_drive(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            drive = add_drive(desk, unit, serial=f"S-{self.newest()}")
            return lambda model: model.add_drive(unit, drive)

        self.act(person, "drive", do)

    @rule(person=PEOPLE, to=st.one_of(st.none(), UNITS), choice=ANY)
    def move_drive(self, person: int, to: int | None, choice: int) -> None:
        drive = self.chosen("SELECT id FROM drive WHERE removed = 0", choice)
        origin = self.one("SELECT unit_id FROM drive WHERE id = ?", drive) or None

        def do(desk: Desk) -> Callable[[Model], None]:
            before = self.one("SELECT MAX(id) FROM part")
            move_drive(desk, drive, to, cost_text="0")
            newest = self.one("SELECT MAX(id) FROM part")
            part = newest if newest != before else 0
            component = self.component(part)
            return lambda model: model.move_drive(drive, origin, to, part, component)

        self.act(person, "move drive", do)

    @rule(person=PEOPLE, choice=ANY)
    def wipe(self, person: int, choice: int) -> None:
        drive = self.chosen("SELECT id FROM drive WHERE removed = 0", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            number = record_wipe(desk, drive, method="clear", technique="overwrite").wipe_id
            return lambda model: model.wipe(drive, number)

        self.act(person, "wipe", do)

    @rule(person=PEOPLE, result=st.sampled_from(("passed", "passed", "failed")), choice=ANY)
    def verify(self, person: int, result: str, choice: int) -> None:
        text = "SELECT id FROM wipe WHERE removed = 0 AND result = 'not verified'"
        number = self.chosen(text, choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            verify_wipe(desk, number, result=result, verification="read back")
            return lambda model: model.verify(number, result)

        self.act(person, "verify", do)

    @rule(person=PEOPLE, choice=ANY)
    def remove_wipe(self, person: int, choice: int) -> None:
        number = self.chosen("SELECT id FROM wipe WHERE removed = 0", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            remove_wipe(desk, number, WHY)
            return lambda model: model.remove_wipe(number)

        self.act(person, "remove wipe", do)

    @rule(person=PEOPLE, unit=UNITS)
    def look(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            no_drive_in_it(desk, unit)
            return lambda model: model.look(unit)

        self.act(person, "look", do)

    @rule(person=PEOPLE, unit=UNITS)
    def waive(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            list_without(desk, unit, WHY)
            covers = tuple(str(self.text("SELECT covers FROM unwiped ORDER BY id DESC")).split())
            return lambda model: model.waive(unit, covers)

        self.act(person, "waive", do)

    @rule(person=PEOPLE, unit=UNITS, up=st.booleans())
    def put_up_or_take_down(self, person: int, unit: int, up: bool) -> None:
        here = "SELECT {flag} FROM unit JOIN stage ON stage.id = stage_id WHERE unit.id = ?"
        is_up = bool(self.one(here.format(flag="lists"), unit))
        if up == is_up or self.one(here.format(flag="final"), unit):
            return
        stage = self.one("SELECT id FROM stage WHERE lists = 1") if up else 2

        def do(desk: Desk) -> Callable[[Model], None]:
            running = "SELECT id FROM time_entry WHERE stopped_us IS NULL"
            before = self.all(running)
            move_unit(desk, unit, stage, open_tasks="skip", done_tasks="keep", reason=WHY)
            stopped = frozenset(row[0] for row in before) - {row[0] for row in self.all(running)}
            return lambda model: model.put_up(unit, stopped) if up else model.take_down(unit)

        self.act(person, "list" if up else "take down", do)
