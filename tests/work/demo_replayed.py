"""The demo's bench book replayed: what its people did, done again through the use cases, at its own time.

Only the instants come from where the quick loader has them (`bench/work/demo/story.py` winds the book back);
what follows from each act, stages, stock, fees, tax and cost, is for the use cases to work out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import timedelta
from operator import itemgetter

from bench.desk import Desk
from bench.domain.durations import HOUR_US, MINUTE_US
from bench.domain.weeks import day_bounds_us
from bench.store.demo_data import DemoUnit
from bench.store.demo_repairs import DemoRepair
from bench.store.demo_trade import DemoDrive, DemoFault, DemoOffer, DemoOrder, DemoReading
from bench.work.demo.story import Happening, happenings
from tests.work.demo_deeds import Deeds

BEFORE_US = 35 * MINUTE_US  # how long before it was bought a unit was looked at
LEFT_AFTER_US = 20 * MINUTE_US
DELIVERED_US = 10 * HOUR_US  # after midnight
ORDERED_US = 9 * HOUR_US
QUOTED_US = 12 * HOUR_US

# What is done first of what is done at one instant.
BEGIN, RECORD, WIPE, END, AFTER, ONWARD, TEST, LAST = range(8)

Act = Callable[[Desk], object]


@dataclass
class Replay(Deeds):
    """The book's acts, each at its instant."""

    acts: list[tuple[int, int, str, Act]] = field(default_factory=list)
    by_unit: defaultdict[int, list[Happening]] = field(default_factory=lambda: defaultdict(list))

    def run(self) -> None:
        """Everything, the earliest first."""
        for one in happenings(self.demo, self.now_us):
            self.by_unit[one.unit].append(one)
        self._plan()
        self.acts.sort(key=itemgetter(0, 1))
        self._to(self.acts[0][0] - HOUR_US)
        self.settings()
        for at_us, _, who, act in self.acts:
            self._to(at_us)
            act(replace(self.desk, person_id=self.people[who]))
        self._to(self.now_us)

    def _to(self, at_us: int) -> None:
        self.clock.advance(us=at_us - self.clock.wall_us)

    def _at(self, at_us: int, turn: int, who: str, act: Act) -> None:
        self.acts.append((at_us, turn, who, act))

    def _plan(self) -> None:
        for one in self.demo.stock:
            midnight_us, _ = day_bounds_us(self.today() - timedelta(days=one.days_ago), self.demo.zone)
            self._at(midnight_us + DELIVERED_US, BEGIN, one.who, self._of(self.stock, one))
        for unit in self.demo.units:
            for one in self.by_unit[unit.number]:
                self._plan_sitting(unit, one)
            if unit.held:  # a bad cell is told by its reading
                last = self.by_unit[unit.number][-1]
                self._at(last.at_us, LAST, self.by_unit[unit.number][0].who, self._of(self.stop_work, unit))
        for drive in self.demo.trade.drives:
            self._plan_drive(drive)
        for part in self.demo.trade.parts:
            done = self._done(part.from_unit or part.to_unit or 0, part.at)
            self._at(done.at_us, AFTER, done.who, self._of(self.part, part))
        for number, reason in self.demo.trade.unwiped.items():
            done = self._done(number, "readings after")
            self._at(done.at_us, AFTER, done.who, self._of(self.let_be_listed, number, reason))
        for offer in self.demo.trade.offers:
            self._plan_offer(offer)
        self._plan_condition()
        self._plan_beside()

    def _plan_beside(self) -> None:
        """What is no sitting of the book: faults, orders, repairs, money of no unit."""
        for fault in self.demo.trade.faults:
            self._plan_fault(fault)
        for at, order in enumerate(self.demo.trade.orders):
            self._plan_order(at, order)
        for repair in self.repairs.jobs:
            self._plan_repair(repair)
        for expense in self.repairs.expenses:
            at_us = self._on(expense.days_ago, QUOTED_US)
            self._at(at_us, LAST, self.first, self._of(self.spend, expense))

    @property
    def first(self) -> str:
        """Who orders, and keeps the money."""
        return self.demo.people[0].name

    def _on(self, days_ago: int | None, after_us: int) -> int:
        """So long after a day's midnight; nothing lies after now."""
        return min(day_bounds_us(self.day(days_ago), self.demo.zone)[0] + after_us, self.now_us)

    def _plan_condition(self) -> None:
        """What was measured, typed, graded and photographed when a task was done."""
        trade = self.demo.trade
        for one in (*trade.readings, *trade.specifications):
            done = self._done(one.unit, "look over" if one.moment == "before" else "readings after")
            act = self.measure if isinstance(one, DemoReading) else self.specify
            stops = isinstance(one, DemoReading) and "swelling=yes" in one.figures  # then no move goes on
            self._at(done.at_us, LAST if stops else AFTER, done.who, self._of(act, one))
        for grade in trade.grades:
            done = self._done(grade.unit, "readings after")
            self._at(done.at_us, AFTER, done.who, self._of(self.grade, grade))
        for picture in trade.photographs:
            done = self._done(picture.unit, picture.at)
            self._at(done.at_us, AFTER, done.who, self._of(self.picture, picture))

    def _plan_fault(self, one: DemoFault) -> None:
        if one.at == "back":
            back = next(told for told in self.by_unit[one.unit] if told.then == "back")
            self._at(back.at_us, AFTER, back.who, self._of(self.find_fault, one))
        else:
            done = self._done(one.unit, one.at)
            assert done.task is not None
            at_us, turn = (done.pieces[0][0], TEST) if done.task.test else (done.at_us, AFTER)
            self._at(at_us, turn, done.who, self._of(self.find_fault, one))
        if one.closed_at:
            done = self._done(one.unit, one.closed_at)
            assert done.task is not None
            turn = RECORD if done.task.test else AFTER
            self._at(done.at_us, turn, done.who, self._of(self.close_fault, one))
        self._at(self.now_us, LAST, self.first, self._of(self.join_fault, one))

    def _plan_order(self, number: int, one: DemoOrder) -> None:
        steps: list[tuple[int | None, Act]] = [
            (one.ordered_days_ago, self._of(self.order, number, one)),
            (one.arrived_days_ago, self._of(self.arrive, number, one)),
            (one.sent_days_ago, self._of(self.return_order, number)),
            (one.refunded_days_ago, self._of(self.refund, number, one)),
        ]
        for days_ago, act in steps:
            if days_ago is not None:
                self._at(self._on(days_ago, ORDERED_US), BEGIN, self.first, act)

    def _plan_repair(self, one: DemoRepair) -> None:
        """Handed back, it was quoted and answered when it came in."""
        came_us = self.by_unit[one.unit][0].at_us
        self._at(came_us, RECORD, self.first, self._of(self.take_repair, one))
        over = one.quoted is None and one.answer is not None
        if one.quoted is not None or over:
            at_us = came_us if over else max(came_us, self._on(one.quoted, QUOTED_US))
            self._at(at_us, RECORD, self.first, self._of(self.quote, one))
        if one.answer is not None:
            at_us = came_us if over else max(came_us, self._on(one.answered, QUOTED_US))
            self._at(at_us, RECORD, self.first, self._of(self.answer, one))

    @staticmethod
    def _of(act: Callable[..., object], *given: object) -> Act:
        return lambda desk: act(desk, *given)

    def _done(self, number: int, beginning: str) -> Happening:
        """When the task whose name begins so was done."""
        told = (one for one in self.by_unit[number] if one.then == "done" and one.task is not None)
        return next(one for one in told if one.task is not None and one.task.name.startswith(beginning))

    def _plan_sitting(self, unit: DemoUnit, one: Happening) -> None:
        if one.then == "in":
            self._at(one.at_us, BEGIN, one.who, self._of(self.bring_in, unit))
        elif one.then == "back":
            self._at(one.at_us, BEGIN, one.who, self._of(self.take_back, unit))
        elif one.then == "out":
            self._at(one.at_us, LAST, one.who, self._of(self.leave, unit))
        elif one.then == "skipped":
            self._at(one.at_us, END, one.who, self._of(self.skip, one))
        else:
            for at, (start_us, stop_us) in enumerate(one.pieces, start=1):
                last = at == len(one.pieces)
                self._at(start_us, LAST, one.who, self._of(self.start, unit, one))
                if last and one.then == "done":
                    self._at(stop_us, END, one.who, self._of(self.finish, unit, one))
                elif not (last and one.then == "runs"):
                    self._at(stop_us, END, one.who, self._of(self.stop, one))
        if one.then in ("in", "done", "skipped"):
            self._at(one.at_us, ONWARD, one.who, self._of(self.onward, unit))

    def _plan_offer(self, offer: DemoOffer) -> None:
        at_us = self.now_us - offer.hours_ago * HOUR_US
        if offer.unit:
            at_us = self.by_unit[offer.unit][0].at_us - BEFORE_US
        self._at(at_us, BEGIN, offer.who, self._of(self.look_at, offer))
        if offer.state == "left":
            self._at(at_us + LEFT_AFTER_US, BEGIN, offer.who, self._of(self.decline, offer))

    def _plan_drive(self, one: DemoDrive) -> None:
        if one.came_with is not None:
            seen, began = self._done(one.came_with, "look over"), RECORD
            self._at(seen.at_us, began, seen.who, self._of(self.drive, one))
            done = self._done(one.came_with, "wipe the drive") if one.way else seen
            wiped_us = done.at_us
        else:
            part = next(part for part in self.demo.trade.parts if part.drive == one.serial)
            done = self._done(part.to_unit or 0, part.at)
            wiped_us = done.pieces[0][0]
            self._at(wiped_us, RECORD, done.who, self._of(self.drive, one))
        if one.way:
            self._at(wiped_us, WIPE, done.who, self._of(self.wipe, one))
        if one.way and one.result != "not verified":
            seen = self._next(one.came_with, wiped_us) if one.came_with else done
            self._at(seen.at_us, AFTER, seen.who, self._of(self.verify, one))

    def _next(self, number: int, at_us: int) -> Happening:
        """What was worked at next on a unit: then its wipe is verified."""
        told = (one for one in self.by_unit[number] if one.task is not None and one.pieces[0][0] >= at_us)
        return next(told)
