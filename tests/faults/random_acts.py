"""One act of the bench after the other, chosen by chance: for kills and races."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from bench.desk import Desk
from bench.domain.outcomes import OUTCOMES
from bench.domain.safety import CLOSING, CLOSING_ITEMS, FINDINGS, OPENING, OPENING_ITEMS
from bench.errors import BenchError
from bench.views.tasks import next_stage_of, previous_stage_of
from bench.work.arrivals import complain, refund_order, send_back, take_in
from bench.work.comebacks import take_return
from bench.work.components import scrap_part
from bench.work.drive_moves import move_drive
from bench.work.drives import add_drive
from bench.work.expenses import add_expense
from bench.work.faults import add_fault, edit_fault
from bench.work.model_pages import edit_model_page
from bench.work.moves import hold_unit, move_unit, release_unit
from bench.work.orders import order_part
from bench.work.outcomes import end_test
from bench.work.parts import fit_from_shelf, fit_part, take_part
from bench.work.photographs import attach_photographs
from bench.work.safety import clear_cell, go_on_without, report_cell, tick, untick
from bench.work.selling import sell_unit
from bench.work.specification import set_specification
from bench.work.stock import count_stock, restock
from bench.work.timers import finish_task, reopen_task, skip_task, start_task, stop_person
from bench.work.undo import redo, undo
from bench.work.units import add_unit, edit_unit
from bench.work.waivers import list_without, no_drive_in_it
from bench.work.way_estimates import set_way_estimate
from bench.work.wipes import record_wipe, verify_wipe
from tests import pictures

WHY = "by chance"


class RandomActs:
    """What one person does, by chance, to some units of a file."""

    def __init__(self, desk: Desk, seed: int, unit_ids: Sequence[int]) -> None:
        self.desk, self.chance, self.unit_ids = desk, random.Random(seed), list(unit_ids)

    def act(self) -> str:
        """Do one thing; answers its name, with the kind of error where it was refused."""
        act = self.chance.choices(_ACTS, weights=_WEIGHTS)[0]
        try:
            act(self)
        except BenchError as error:
            return f"{act.__name__} {type(error).__name__}"
        return act.__name__

    def unit(self) -> int:
        return self.chance.choice(self.unit_ids)

    def one(self, text: str, *values: object) -> int:
        """One of the numbers that a SELECT answers; 0, which nothing has, where there is none."""
        with self.desk.store.read() as connection:
            found = [row[0] for row in connection.execute(text, values)]
        return self.chance.choice(found) if found else 0

    def task(self, state: str = "todo") -> int:
        return self.one("SELECT id FROM task WHERE unit_id = ? AND state = ?", self.unit(), state)

    def order(self, state: str) -> int:
        return self.one("SELECT id FROM parts_order WHERE removed = 0 AND state = ?", state)

    def drive(self) -> int:
        return self.one("SELECT id FROM drive WHERE removed = 0")


def adding(acts: RandomActs) -> None:
    add_unit(acts.desk, maker="", model="one of many", route_id=5)


def editing(acts: RandomActs) -> None:
    price = str(acts.chance.randrange(50, 150))
    facts = {"maker": "", "serial": "", "due_text": "", "tag_text": ""}
    edit_unit(acts.desk, acts.unit(), model="M", note=f"price {price}", price_text=price, **facts)


def starting(acts: RandomActs) -> None:
    start_task(acts.desk, acts.task())


def stopping(acts: RandomActs) -> None:
    stop_person(acts.desk)


def finishing(acts: RandomActs) -> None:
    finish_task(acts.desk, acts.task(), uses={1: acts.chance.randrange(1, 4) * 1000})


def skipping(acts: RandomActs) -> None:
    skip_task(acts.desk, acts.task(), WHY)


def reopening(acts: RandomActs) -> None:
    reopen_task(acts.desk, acts.task(acts.chance.choice(("done", "skipped"))))


def holding(acts: RandomActs) -> None:
    hold_unit(acts.desk, acts.unit(), WHY)


def releasing(acts: RandomActs) -> None:
    release_unit(acts.desk, acts.unit())


def ticking(acts: RandomActs) -> None:
    which, items = acts.chance.choice(((OPENING, OPENING_ITEMS), (CLOSING, CLOSING_ITEMS)))
    tick(acts.desk, acts.unit(), which, list(items), screws=9, note=WHY)


def unticking(acts: RandomActs) -> None:
    which, items = acts.chance.choice(((OPENING, OPENING_ITEMS), (CLOSING, CLOSING_ITEMS)))
    untick(acts.desk, acts.unit(), which, acts.chance.choice(list(items)))


def passing(acts: RandomActs) -> None:
    go_on_without(acts.desk, acts.unit(), acts.chance.choice((OPENING, CLOSING)), WHY)


def moving(acts: RandomActs) -> None:
    unit_id = acts.unit()
    way = acts.chance.choice((next_stage_of, next_stage_of, previous_stage_of))
    move_unit(acts.desk, unit_id, way(acts.desk, unit_id) or 0, open_tasks="skip", reason=WHY)


def reporting(acts: RandomActs) -> None:
    report_cell(acts.desk, acts.unit(), acts.chance.choice(list(FINDINGS)))


def clearing(acts: RandomActs) -> None:
    clear_cell(acts.desk, acts.unit(), WHY)


def adding_a_drive(acts: RandomActs) -> None:
    add_drive(acts.desk, acts.unit(), serial=f"S-{acts.chance.randrange(10**9)}")


def moving_a_drive(acts: RandomActs) -> None:
    move_drive(acts.desk, acts.drive(), acts.chance.choice((None, acts.unit())), cost_text="0")


def wiping(acts: RandomActs) -> None:
    record_wipe(acts.desk, acts.drive(), method="clear", technique="overwrite")


def verifying(acts: RandomActs) -> None:
    wipe_id = acts.one("SELECT id FROM wipe WHERE removed = 0 AND result = 'not verified'")
    result = acts.chance.choice(("passed", "passed", "failed"))
    verify_wipe(acts.desk, wipe_id, result=result, verification="read back")


def going_unwiped(acts: RandomActs) -> None:
    list_without(acts.desk, acts.unit(), WHY)


def looking(acts: RandomActs) -> None:
    no_drive_in_it(acts.desk, acts.unit())


def fitting(acts: RandomActs) -> None:
    fit_part(acts.desk, acts.unit(), name="fan", cost_text="5")


def taking(acts: RandomActs) -> None:
    to_unit_id = acts.chance.choice((None, acts.unit()))
    take_part(acts.desk, acts.unit(), name="fan", cost_text="5", to_unit_id=to_unit_id)


def fitting_from_the_shelf(acts: RandomActs) -> None:
    part_id = acts.one("SELECT id FROM part WHERE to_unit_id IS NULL AND removed = 0")
    fit_from_shelf(acts.desk, part_id, acts.unit())


def selling(acts: RandomActs) -> None:
    sell_unit(acts.desk, acts.unit(), price_text="300", open_tasks="skip", reason=WHY)


def returning(acts: RandomActs) -> None:
    take_return(acts.desk, acts.unit(), reason=WHY, refund_text="", stage_id=2)


def restocking(acts: RandomActs) -> None:
    restock(acts.desk, 1, quantity_text=str(acts.chance.randrange(1, 50)), price_text="7.77")


def counting(acts: RandomActs) -> None:
    count_stock(acts.desk, 1, quantity_text=str(acts.chance.randrange(1, 200)), reason=WHY)


def seeing_a_fault(acts: RandomActs) -> None:
    add_fault(acts.desk, acts.unit(), symptom="fan loud")


def closing_a_fault(acts: RandomActs) -> None:
    fault_id = acts.one("SELECT id FROM fault WHERE removed = 0")
    edit_fault(acts.desk, fault_id, state=acts.chance.choice(("cured", "stays", "open")), done=WHY)


def testing(acts: RandomActs) -> None:
    kind = acts.chance.choice(("soak", "screen", "charger under load"))
    end_test(acts.desk, acts.unit(), kind=kind, outcome=acts.chance.choice(OUTCOMES))


def ordering(acts: RandomActs) -> None:
    unit_id = acts.unit()
    tasks = [acts.one("SELECT id FROM task WHERE unit_id = ? AND state = 'todo'", unit_id)]
    order_part(acts.desk, unit_id, what="fan", price_text="7", task_ids=tasks if tasks[0] else [])


def taking_in(acts: RandomActs) -> None:
    take_in(acts.desk, acts.order("ordered"), found=acts.chance.choice(("", "broken")))


def complaining(acts: RandomActs) -> None:
    complain(acts.desk, acts.order("arrived"), found="wrong")


def sending_back(acts: RandomActs) -> None:
    send_back(acts.desk, acts.order(acts.chance.choice(("wrong", "broken"))))


def refunding(acts: RandomActs) -> None:
    refund_order(acts.desk, acts.order(acts.chance.choice(("broken", "sent back"))), refund_text="5")


def scrapping(acts: RandomActs) -> None:
    scrap_part(acts.desk, acts.one("SELECT component_id FROM part WHERE to_unit_id IS NULL"), WHY)


def specifying(acts: RandomActs) -> None:
    set_specification(acts.desk, acts.unit(), {"colour": f"grey {acts.chance.randrange(100)}"})


def photographing(acts: RandomActs) -> None:
    picture = acts.desk.store.path.with_name(f"picture{acts.chance.randrange(3)}.jpg")
    if not picture.exists():
        picture.write_bytes(pictures.jpeg(shade=acts.chance.randrange(200), size=(8, 8)))
    attach_photographs(acts.desk, acts.unit(), [str(picture)], caption=WHY)


def spending(acts: RandomActs) -> None:
    add_expense(acts.desk, category="rent", amount_text=str(acts.chance.randrange(1, 99)))


def estimating(acts: RandomActs) -> None:
    price = str(acts.chance.randrange(1, 99))
    set_way_estimate(acts.desk, acts.unit(), "as is", price_text=price, minutes_text="20")


def writing_a_page(acts: RandomActs) -> None:
    edit_model_page(acts.desk, "", "M", traps=f"cable {acts.chance.randrange(100)}")


def undoing(acts: RandomActs) -> None:
    undo(acts.desk, acts.chance.choice((None, _own_line(acts))), reason=WHY)


def redoing(acts: RandomActs) -> None:
    redo(acts.desk, acts.chance.choice((None, _own_line(acts))), reason=WHY)


def _own_line(acts: RandomActs) -> int:
    own = "SELECT id FROM journal WHERE person_id = ? ORDER BY id DESC LIMIT 12"
    return acts.one(own, acts.desk.person_id)


_ACTS: tuple[Callable[[RandomActs], None], ...] = (
    *(adding, editing, starting, stopping, finishing, skipping, reopening, holding, releasing),
    *(ticking, unticking, passing, moving, reporting, clearing, adding_a_drive, moving_a_drive),
    *(wiping, verifying, going_unwiped, looking, fitting, taking, fitting_from_the_shelf, selling, returning),
    *(seeing_a_fault, closing_a_fault, testing, ordering, taking_in, complaining, sending_back, refunding),
    *(scrapping, specifying, photographing, spending, estimating, writing_a_page),
    *(restocking, counting, undoing, redoing),
)
_WEIGHTS = [
    {"undoing": 12, "redoing": 7, "taking_in": 2, "starting": 4, "stopping": 2}.get(one.__name__, 1)
    for one in _ACTS
]
