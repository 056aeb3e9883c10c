"""Three people at one file, step by step by chance: hypothesis's state machine against the simple model."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from hypothesis import strategies as st
from hypothesis.stateful import invariant, rule

from bench.desk import Desk
from bench.domain.safety import OPENING, OPENING_ITEMS
from bench.errors import BenchError
from bench.work.comebacks import take_return
from bench.work.moves import hold_unit, release_unit
from bench.work.parts import fit_from_shelf, fit_part, take_part
from bench.work.safety import clear_cell, report_cell, tick, untick
from bench.work.selling import sell_unit
from bench.work.timers import start_task, stop_person
from bench.work.undo import redo, undo
from tests.faults.machine_drives import DriveActs
from tests.faults.machine_ground import ANY, PEOPLE, SEEN, UNITS, WHY
from tests.faults.machine_kept import KeptActs
from tests.faults.machine_orders import OrderActs
from tests.faults.machine_outcomes import OutcomeActs
from tests.faults.model import Act, Model, listed_anew, made_by

CHOICES = st.lists(ANY, min_size=1, max_size=4)


class Shop(DriveActs, OutcomeActs, OrderActs, KeptActs):
    """All that people do, and what must hold after each step."""

    def begin(self) -> None:
        """Some of what takes several acts, so that chance goes on from there: by the same acts."""
        self.look(person=1, unit=1)
        self.put_up_or_take_down(person=1, unit=1, up=True)
        for waits in (True, False):
            self.order(person=2, unit=3, wanted=False, waits=waits, choice=0)
        self.take_in(person=2, found="", choice=0)
        self.open_job(person=3)
        self.add_line(person=3, price=20)
        self.give_quote(person=3)

    @rule(person=PEOPLE, unit=UNITS)
    def hold(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            hold_unit(desk, unit, WHY)
            return lambda model: model.hold(unit)

        self.act(person, "hold", do)

    @rule(person=PEOPLE, unit=UNITS)
    def release(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            release_unit(desk, unit)
            return lambda model: model.release(unit)

        self.act(person, "release", do)

    @rule(person=PEOPLE, unit=UNITS)
    def report(self, person: int, unit: int) -> None:
        if self.one("SELECT cell_finding IS NOT NULL FROM unit WHERE id = ?", unit):
            return

        def do(desk: Desk) -> Callable[[Model], None]:
            report_cell(desk, unit, "wet")
            return lambda model: model.report(unit, "wet")

        self.act(person, "report", do)

    @rule(person=PEOPLE, unit=UNITS)
    def clear(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            clear_cell(desk, unit, WHY)
            return lambda model: model.clear(unit)

        self.act(person, "clear", do)

    @rule(person=PEOPLE, unit=UNITS, inside=st.booleans(), choice=ANY)
    def start(self, person: int, unit: int, inside: bool, choice: int) -> None:
        text = f"SELECT id FROM task WHERE unit_id = {unit} AND lid_off = {int(inside)} AND unattended = 0"
        task = self.chosen(text, choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            entry = start_task(desk, task).entry_id
            return lambda model: model.start(person, unit, entry, inside, task)

        self.act(person, "start", do)

    @rule(person=PEOPLE)
    def stop(self, person: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            entry = stop_person(desk).entry_id
            return lambda model: model.stop(person, entry)

        self.act(person, "stop", do)

    @rule(person=PEOPLE, unit=UNITS, item=st.sampled_from([*OPENING_ITEMS, ""]))
    def tick(self, person: int, unit: int, item: str) -> None:
        there = {row[0] for row in self.all(_TICKS) if row[1] == unit}
        items = tuple(one for one in ((item,) if item else OPENING_ITEMS) if one not in there)
        if not items:
            return

        def do(desk: Desk) -> Callable[[Model], None]:
            tick(desk, unit, OPENING, items)
            return lambda model: model.tick(unit, items)

        self.act(person, "tick", do)

    @rule(person=PEOPLE, unit=UNITS, item=st.sampled_from(list(OPENING_ITEMS)))
    def untick(self, person: int, unit: int, item: str) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            untick(desk, unit, OPENING, item)
            return lambda model: model.untick(unit, item)

        self.act(person, "untick", do)

    @rule(person=PEOPLE, unit=UNITS)
    def fit(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            part = fit_part(desk, unit, name="fan", cost_text="5").part_id
            component = self.component(part)
            return lambda model: model.fit(unit, part, 500, component)

        self.act(person, "fit", do)

    @rule(person=PEOPLE, unit=UNITS)
    def take(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            part = take_part(desk, unit, name="fan", cost_text="5").part_id
            component = self.component(part)
            return lambda model: model.take(unit, part, 500, component)

        self.act(person, "take", do)

    @rule(person=PEOPLE, unit=UNITS, choice=ANY)
    def place(self, person: int, unit: int, choice: int) -> None:
        part = self.chosen("SELECT id FROM part WHERE removed = 0 AND to_unit_id IS NULL", choice)

        def do(desk: Desk) -> Callable[[Model], None]:
            fit_from_shelf(desk, part, unit)
            return lambda model: model.place(part, unit)

        self.act(person, "place", do)

    @rule(person=PEOPLE, unit=UNITS)
    def sell(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            sale = sell_unit(desk, unit, price_text="300", open_tasks="skip", reason=WHY).sale_id
            return lambda model: model.sell(unit, sale)

        self.act(person, "sell", do)

    @rule(person=PEOPLE, unit=UNITS)
    def come_back(self, person: int, unit: int) -> None:
        def do(desk: Desk) -> Callable[[Model], None]:
            sale = take_return(desk, unit, reason=WHY, refund_text="", stage_id=2).sale_id
            return lambda model: model.come_back(unit, sale)

        self.act(person, "return", do)

    # Many rules do, so several undo: each several times, or the machine would hardly come to it.

    @rule(person=PEOPLE, choices=CHOICES, newest=st.booleans())
    def undo(self, person: int, choices: list[int], newest: bool) -> None:
        for choice in choices:
            self._back_or_forth(undo, "undo", self.acts, self.undone, person, choice, newest)

    @rule(person=PEOPLE, choices=CHOICES, newest=st.booleans())
    def undo_more(self, person: int, choices: list[int], newest: bool) -> None:
        self.undo(person=person, choices=choices, newest=newest)

    @rule(person=PEOPLE, choices=CHOICES)
    def undo_any(self, person: int, choices: list[int]) -> None:
        self.undo(person=person, choices=choices, newest=False)

    @rule(person=PEOPLE, choices=CHOICES, newest=st.booleans())
    def redo(self, person: int, choices: list[int], newest: bool) -> None:
        for choice in choices:
            self._back_or_forth(redo, "redo", self.undone, self.acts, person, choice, newest)

    @rule(person=PEOPLE, choices=CHOICES)
    def redo_more(self, person: int, choices: list[int]) -> None:
        self.redo(person=person, choices=choices, newest=False)

    def _back_or_forth(
        self,
        act: Callable[..., object],
        words: str,
        source: dict[int, Act],
        target: dict[int, Act],
        person: int,
        choice: int,
        newest: bool,
    ) -> None:
        own = sorted(line for line, one in source.items() if one.person == person)
        if not own:
            return
        line = own[-1] if newest else own[choice % len(own)]
        self.clock.advance(minutes=1)
        before = self.newest()
        SEEN["steps"] += 1
        try:
            act(Desk(self.store, self.clock, person), line, reason=WHY)
        except BenchError:
            assert self.newest() == before
            SEEN[f"{words} refused"] += 1
            return
        SEEN[words] += 1
        target[line] = replace(source.pop(line), redone=self.newest() if target is self.acts else 0)

    # What must hold after every step.

    def all_else_is_so(self, model: Model) -> None:
        """What the other parts of the machine hold against the model."""
        self.outcomes_are_so(model)
        self.orders_are_so(model)
        self.kept_is_so(model)

    @invariant()
    def the_shop_is_what_the_acts_that_stand_make(self) -> None:
        if not hasattr(self, "acts"):
            return
        acts = self.acts.values()
        try:
            self.is_so(made_by(acts))
        except AssertionError:
            if not listed_anew(acts):
                raise
            SEEN["listed again"] += 1
            self.is_so(made_by(acts, listed_anew(acts)))

    def is_so(self, model: Model) -> None:
        """The file says what the model does."""
        assert set(self.all("SELECT id FROM unit WHERE held_reason IS NOT NULL")) == {
            (u,) for u in model.held
        }
        cells = self.all("SELECT id, cell_finding FROM unit WHERE cell_finding IS NOT NULL")
        assert set(cells) == set(model.cells.items())
        assert set(self.all(_SOLD)) == {(unit,) for unit in model.sold}
        assert set(self.all("SELECT id, unit_id FROM sale WHERE removed = 0")) == set(model.sales.items())
        running = {(person, one[0]) for person, one in model.running.items()}
        assert set(self.all("SELECT person_id, id FROM time_entry WHERE stopped_us IS NULL")) == running
        parts = self.all("SELECT id, to_unit_id FROM part WHERE removed = 0")
        assert set(parts) == set(model.parts.items())
        drives = self.all("SELECT id, unit_id FROM drive WHERE removed = 0")
        assert set(drives) == set(model.drives.items())
        wipes = self.all("SELECT id, drive_id, result FROM wipe WHERE removed = 0")
        assert set(wipes) == {(number, *one) for number, one in model.wipes.items()}
        self.all_else_is_so(model)


_TICKS = """SELECT tick.item, tick.unit_id FROM safety_check AS tick JOIN unit ON unit.id = tick.unit_id
WHERE tick.lid_count = unit.lid_count AND tick.list = 'opening'"""
_SOLD = "SELECT unit.id FROM unit JOIN stage ON stage.id = unit.stage_id WHERE stage.final = 1"
