"""A shop so simple that it can be believed: it is what the acts that stand make, one after the other.

Undo takes an act away, redo puts it back in its place. If an act is then no longer possible, or the shop is
not what the acts that are left make of it, then undo lied. But a listing that is redone rests on what is
known of the unit by then, and what is redone after it rests on it: those may stand where they were redone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from bench.domain.safety import OPENING_ITEMS
from tests.faults.model_ground import ImpossibleError, need
from tests.faults.model_kept import Kept
from tests.faults.model_orders import Orders
from tests.faults.model_outcomes import Outcomes

LISTING = "list"


@dataclass
class Model(Outcomes, Orders, Kept):
    """What is sold and ticked; parts, drives, wipes; besides all that its parts hold.

    `looked`, `waived`: said of a unit that no drive is in it, or that it goes without a wipe. `outside`: the
    wipes that ended before a buyer had the drive. `origins`: of a part that is a drive, whence and which.
    """

    sales: dict[int, int] = field(default_factory=dict)
    ticks: set[tuple[int, str]] = field(default_factory=set)
    costs: dict[int, int] = field(default_factory=dict)
    drives: dict[int, int | None] = field(default_factory=dict)
    wipes: dict[int, tuple[int, str]] = field(default_factory=dict)
    looked: set[int] = field(default_factory=set)
    waived: set[int] = field(default_factory=set)
    outside: set[int] = field(default_factory=set)
    origins: dict[int, tuple[int | None, int]] = field(default_factory=dict)

    def start(self, person: int, unit: int, entry: int, inside: bool, task: int) -> None:
        self.may_work(unit)
        need(not self.awaited(task), f"a start of task {task}, which waits for a part")
        if inside:
            need(self.opened(unit), f"work inside {unit} with its opening checklist bare")
        self.running[person] = (entry, unit, inside)

    def opened(self, unit: int) -> bool:
        return all((unit, item) in self.ticks for item in OPENING_ITEMS)

    def stop(self, person: int, entry: int) -> None:
        need(self.running.get(person, (0,))[0] == entry, f"a stop of {entry}, which did not run")
        del self.running[person]

    def hold(self, unit: int) -> None:
        need(unit not in self.held, f"a hold of {unit} twice")
        self.stop_all(unit)
        self.held[unit] = "by hand"

    def release(self, unit: int) -> None:
        need(unit in self.held and unit not in self.cells, f"a release of {unit}")
        need(unit not in self.listed or self.ready(unit), f"a release of {unit}, listed with a drive unwiped")
        del self.held[unit]

    def report(self, unit: int, finding: str) -> None:
        self.stop_all(unit)
        self.cells[unit] = finding
        self.held.setdefault(unit, "for its cell")

    def clear(self, unit: int) -> None:
        need(unit in self.cells, f"a bad cell of {unit} dealt with twice")
        del self.cells[unit]
        if self.held.get(unit) == "for its cell":
            del self.held[unit]
        self.ticks = {one for one in self.ticks if one[0] != unit}

    def tick(self, unit: int, items: tuple[str, ...]) -> None:
        self.ticks |= {(unit, item) for item in items}

    def untick(self, unit: int, item: str) -> None:
        need((unit, item) in self.ticks, f"a tick of {unit} taken off that was not there")
        need(not any(one[1:] == (unit, True) for one in self.running.values()), f"a tick off {unit} at work")
        self.ticks.discard((unit, item))

    def fit(self, unit: int, part: int, cost: int, component: int) -> None:
        self.cell_is_good(unit)
        self.moves(component, part, None, unit)
        self.costs[part] = cost

    def take(self, unit: int, part: int, cost: int, component: int) -> None:
        self.cell_is_good(unit)
        need(unit not in self.sold, f"a part out of {unit}, which is sold")
        self.moves(component, part, unit, None)
        self.costs[part] = cost

    def place(self, part: int, unit: int) -> None:
        need(part in self.parts and self.parts[part] is None, f"part {part} fitted, not from the shelf")
        self.cell_is_good(unit)
        need(unit not in self.sold, f"a part into {unit}, which is sold")
        drive = self.origins.get(part, (None, 0))[1]
        if drive:
            self.bring(drive, None, unit)
        self.moves(self.which[part], part, None, unit)

    def scrap(self, component: int) -> None:
        self.leaves(component, "scrapped")
        drives = [
            self.origins[part][1]
            for part, one in self.which.items()
            if one == component and part in self.origins
        ]
        for drive in set(drives):
            del self.drives[drive]

    def add_drive(self, unit: int, drive: int) -> None:
        self.drives[drive] = unit
        self.comes_in(drive, unit)
        self.settle(unit)

    def move_drive(self, drive: int, origin: int | None, to: int | None, part: int, component: int) -> None:
        """`part`: the row that was made for it, 0 where one that lay on the shelf went on."""
        self.bring(drive, origin, to)
        lay = [
            number
            for number, (_, one) in self.origins.items()
            if one == drive and number in self.parts and self.parts[number] is None
        ]
        if origin is None and lay:
            need(not part, f"drive {drive} left the shelf and its part stayed")
            if self.origins[max(lay)][0] == to:
                del self.parts[max(lay)]
            else:
                self.parts[max(lay)] = to
            return
        need(part > 0, f"drive {drive} moved, and no part with it")
        self.moves(component, part, origin, to)
        self.costs[part], self.origins[part] = 0, (origin, drive)

    def bring(self, drive: int, origin: int | None, to: int | None) -> None:
        need(drive in self.drives and self.drives[drive] == origin, f"drive {drive} moved from elsewhere")
        self.cell_is_good(origin)
        self.cell_is_good(to)
        need(to not in self.sold, f"drive {drive} into a sold unit")
        need(to not in self.listed or self.wiped(drive), f"drive {drive} unwiped into a listed unit")
        self.drives[drive] = to
        if to is not None:
            self.comes_in(drive, to)
        if origin is not None:
            if origin in self.listed and not self.inside(origin):
                self.looked.add(origin)
            self.settle(origin)

    def comes_in(self, drive: int, unit: int) -> None:
        self.looked.discard(unit)
        if not self.wiped(drive):
            self.waived.discard(unit)

    def inside(self, unit: int) -> list[int]:
        return [drive for drive, place in self.drives.items() if place == unit]

    def ready(self, unit: int) -> bool:
        drives = self.inside(unit)
        if not drives:
            return unit in self.looked
        return unit in self.waived or all(self.wiped(one) for one in drives)

    def settle(self, unit: int | None) -> None:
        """A listed unit waits while a drive in it is not wiped, and no longer."""
        if unit in self.listed and not self.ready(unit) and unit not in self.held:
            self.stop_all(unit)
            self.held[unit] = "for its drive"
        elif self.held.get(unit or 0) == "for its drive" and (unit not in self.listed or self.ready(unit)):
            del self.held[unit or 0]
            if unit in self.cells:
                self.held[unit or 0] = "for its cell"
            elif unit in self.listed and self.failed(unit or 0):
                self.held[unit or 0] = "for its test"

    def look(self, unit: int) -> None:
        need(not self.inside(unit), f"no drive seen in {unit}, where one is")
        self.looked.add(unit)
        self.settle(unit)

    def waive(self, unit: int, covers: tuple[str, ...]) -> None:
        if "wipe" in covers:
            here = bool(self.inside(unit)) or unit in self.waived
            need(here, f"a reason for {unit}, in which no drive is")
            self.waived.add(unit)
        if "test" in covers:
            self.answer_for_tests(unit)
        self.settle(unit)

    def wipe(self, drive: int, wipe: int) -> None:
        need(drive in self.drives, f"a wipe of drive {drive}, which is not there")
        self.cell_is_good(self.drives[drive])
        self.wipes[wipe] = (drive, "not verified")
        self.settle(self.drives[drive])

    def verify(self, wipe: int, result: str) -> None:
        need(wipe in self.wipes and self.wipes[wipe][1] == "not verified", f"wipe {wipe} verified twice")
        self.wipes[wipe] = (self.wipes[wipe][0], result)
        self.settle(self.drives[self.wipes[wipe][0]])

    def remove_wipe(self, wipe: int) -> None:
        need(wipe in self.wipes and self.wipes[wipe][1] != "failed", f"wipe {wipe} off the records")
        drive = self.wipes.pop(wipe)[0]
        self.settle(self.drives[drive])

    def wiped(self, drive: int) -> bool:
        own = [number for number, one in self.wipes.items() if one[0] == drive]
        return bool(own) and self.wipes[max(own)][1] == "passed" and max(own) not in self.outside

    def put_up(self, unit: int, stopped: frozenset[object]) -> None:
        """`stopped`: the entries that ran for tasks which were skipped on the way."""
        need(unit not in self.cells and unit not in self.sold | self.listed, f"a listing of {unit}")
        need(self.ready(unit), f"{unit} listed with a drive unwiped, or none looked for")
        need(not self.failed(unit), f"{unit} listed with a test that failed")
        self.listed.add(unit)
        self.running = {person: one for person, one in self.running.items() if one[0] not in stopped}

    def take_down(self, unit: int) -> None:
        need(unit in self.listed and unit not in self.cells, f"{unit} taken back from where it is not")
        self.listed.discard(unit)
        self.settle(unit)

    def sell(self, unit: int, sale: int) -> None:
        self.may_work(unit)
        need(self.ready(unit), f"{unit} sold with a drive unwiped, or none looked for")
        need(not self.failed(unit), f"{unit} sold with a test that failed")
        self.stop_all(unit)
        self.listed.discard(unit)
        self.sold.add(unit)
        self.sales[sale] = unit

    def come_back(self, unit: int, sale: int) -> None:
        need(unit in self.sold and self.sales.get(sale) == unit, f"a return of {unit}, which was not sold")
        self.sold.discard(unit)
        self.looked.discard(unit)
        self.waived.discard(unit)
        drives = self.inside(unit)
        self.outside |= {number for number, one in self.wipes.items() if one[0] in drives}


@dataclass(frozen=True)
class Act:
    """An accepted line of the journal, what it does to the model, and the line that redid it last."""

    line: int
    person: int
    words: str
    does: Callable[[Model], None]
    redone: int = 0


def listed_anew(acts: Iterable[Act]) -> int:
    """The line that first redid a listing which stands; 0 where none did."""
    return min((one.redone for one in acts if one.words == LISTING and one.redone), default=0)


def made_by(acts: Iterable[Act], redone_from: int = 0) -> Model:
    """The shop that these acts make, in their order; ImpossibleError where one could not have been done.

    `redone_from`: what that line or a later one redid stands where it was redone, all else in its place.
    """
    model = Model()
    for one in sorted(acts, key=lambda one: one.redone if 0 < redone_from <= one.redone else one.line):
        try:
            one.does(model)
        except ImpossibleError as error:
            raise ImpossibleError(f"line {one.line}, {one.words}: {error}") from error
    return model
