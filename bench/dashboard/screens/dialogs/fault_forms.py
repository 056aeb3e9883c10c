"""The forms of faults and tests: a fault in a line, all of it, what belongs to it, how a test ended."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Choices, Filled, FormOf, Typed
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import FIGURE, LENGTH, NoteField, NumberField, TextField
from bench.desk import Desk
from bench.domain.calculators.shape import Given
from bench.domain.faults import CURED, OPEN, ORIGINS, PLACES, STATES, UNKNOWN
from bench.domain.outcomes import KINDS, OUTCOMES, PASSED
from bench.views.entries import read_unit_entries
from bench.views.faults import FaultLine, UnitFaults, read_unit_faults
from bench.views.kinds import Context, on_screen
from bench.views.orders import OrderBook, read_orders_of
from bench.views.parts import UnitParts, read_parts
from bench.views.sales import UnitSales, read_sales
from bench.views.unit import UnitSheet, read_unit

CURES = "cures"


@form
def fault_line_form(unit_id: int, tag: str) -> FormOf[bool]:
    """A fault in a line: the rest may come later."""

    def add(filled: Filled) -> str:
        kept = use_cases.faults.add_fault(filled.desk, unit_id, symptom=filled.typed["symptom"])
        where = f", {kept.place}" if kept.place else ""
        return f"Fault f{kept.fault_id} of {kept.tag}{where}: {kept.symptom}"

    return FormOf(
        heading=f"Fault of {tag}",
        draft=f"fault new {unit_id}",
        fields=(TextField("symptom", "What is seen", hint="such as: fan rattles at full speed"),),
        does=add,
        enter=True,
        says=str,
    )


@form
def fault_form(fault: FaultLine) -> FormOf[bool]:
    """All that is known of a fault, and what became of it."""

    def keep(filled: Filled) -> object:
        return use_cases.faults.edit_fault(filled.desk, fault.fault_id, **filled.typed)

    def read(desk: Desk) -> tuple[UnitFaults, Context]:
        view = read_unit_faults(desk, fault.unit_id)
        return view, on_screen(view, desk.clock.now_us())

    def begin(facts: tuple[UnitFaults, Context]) -> Begun:
        view, context = facts
        passed = tuple(
            (str(one.test_id), f"{one.label}, {context.instant(one.at_us)}")
            for one in view.outcomes
            if one.outcome == PASSED
        )
        closing = "" if fault.closed_by_test_id is None else str(fault.closed_by_test_id)
        return Begun(choices={"closed_by_test_id": passed}, values={"closed_by_test_id": closing})

    return FormOf(
        heading=f"Fault f{fault.fault_id} of {fault.tag}",
        draft=f"fault {fault.fault_id}",
        fields=(
            TextField("symptom", "What is seen", value=fault.symptom),
            ChoiceField("place", "Where", _plain(PLACES), none="not said", value=fault.place),
            ChoiceField("origin", "Whose", tuple(ORIGINS.items()), none=None, value=fault.origin or UNKNOWN),
            TextField("suspected", "Suspected", value=fault.suspected, hint="what may be the cause"),
            TextField("cause", "Cause found", value=fault.cause),
            ChoiceField("state", "It is", tuple(STATES.items()), none=None, value=fault.state or OPEN),
            TextField("done", "Done, or why", value=fault.done, hint="what cured it, or why it stays"),
            ChoiceField("closed_by_test_id", "Shown by", none="no test", ids=True),
        ),
        known="A buyer is told every fault that is open or stays.",
        reads=read,
        begins=begin,
        does=keep,
    )


Owned = tuple[UnitSheet, Choices, UnitParts, UnitSales, OrderBook]


@form
def belongs_form(fault: FaultLine) -> FormOf[bool]:
    """What belongs to a fault: a task with its time, one time alone, a part, an order, a return."""

    def read(desk: Desk) -> Owned:
        unit = read_unit(desk, fault.unit_id)
        context = on_screen(unit, desk.clock.now_us())
        times = tuple(
            (str(one.entry_id), f"{one.task}, {context.instant(one.started_us)}, {one.person}")
            for one in reversed(read_unit_entries(desk, fault.unit_id))
        )
        parts, sales = read_parts(desk, fault.unit_id), read_sales(desk, fault.unit_id)
        return unit, times, parts, sales, read_orders_of(desk, fault.unit_id)

    def begin(facts: Owned) -> Begun:
        unit, times, parts, sales, orders = facts
        back = tuple(one for sale in sales.sales for one in sale.comebacks)
        return Begun(
            choices={
                "task_id": tuple((str(one.task_id), one.name) for one in unit.tasks),
                "entry_id": times,
                "part_id": tuple((str(one.part_id), one.name) for one in reversed(parts.lines)),
                "order_id": tuple(
                    (str(one.order_id), f"{one.order_id} {one.what}, {one.state}") for one in orders.lines
                ),
                "comeback_id": tuple((str(one.comeback_id), one.reason) for one in reversed(back)),
            }
        )

    def point(filled: Filled) -> object:
        return use_cases.faults.point_to_fault(filled.desk, fault.fault_id, **filled.typed)

    return FormOf(
        heading=f"Belongs to f{fault.fault_id}: {fault.symptom}",
        draft=f"fault belongs {fault.fault_id}",
        fields=(
            ChoiceField("task_id", "Task", ids=True),
            ChoiceField("entry_id", "A time alone", ids=True),
            ChoiceField("part_id", "Part", ids=True),
            ChoiceField("order_id", "Order", ids=True),
            ChoiceField("comeback_id", "Return", ids=True),
            MarkField("off", "", "does not belong to it after all"),
        ),
        known="A task brings all its time; a time alone counts for this fault and not for its task's.",
        reads=read,
        begins=begin,
        does=point,
    )


@form
def outcome_form(unit_id: int, tag: str, kind: str) -> FormOf[bool]:
    """How a test of that kind ended."""
    return FormOf(
        heading=f"{KINDS[kind].label} of {tag}",
        draft=f"test {unit_id} {kind}",
        fields=outcome_fields(kind),
        reads=lambda desk: read_unit_faults(desk, unit_id),
        begins=lambda view: Begun(choices={CURES: open_choices(view.faults)}),
        does=lambda filled: use_cases.outcomes.end_test(
            filled.desk, unit_id, kind=kind, **outcome_typed(kind, filled.typed)
        ),
        says=ended_words,
    )


def outcome_fields(kind: str) -> tuple[Field, ...]:
    """How it ended, what it gave, what was seen: of the form above, and of a task that is a test."""
    return (
        ChoiceField("outcome", "Outcome", _plain(OUTCOMES), none="choose", needed=True),
        NumberField("ran_text", "Ran for", like=LENGTH, hint="empty: as its timer says"),
        *(_figure(one.given) for one in KINDS[kind].fields),
        TextField("symptom", "If it failed, seen", hint="opens a fault"),
        ChoiceField(CURES, "Shows cured", none="no fault", ids=True),
        NoteField("note", "Note"),
    )


def outcome_typed(kind: str, typed: Typed) -> Typed:
    """What these fields give, as the use case takes it."""
    names = {one.given.name for one in KINDS[kind].fields}
    told = {name: value for name, value in typed.items() if name not in names | {CURES}}
    cured = typed.get(CURES)
    told["figures"] = {name: str(typed[name]) for name in names if typed.get(name)}
    return {**told, CURES: () if cured is None else (cured,)}


def open_choices(faults: Sequence[FaultLine]) -> Choices:
    """The faults that a test may close."""
    return tuple(
        (str(one.fault_id), f"f{one.fault_id} {one.symptom}") for one in faults if one.state not in (CURED,)
    )


def ended_words(ended: object) -> str:
    """What is said of a test that ended."""
    again, fault_id = getattr(ended, "again", ()), getattr(ended, "fault_id", None)
    told = [f"Fault f{fault_id}: {getattr(ended, 'symptom', '')}." if fault_id else ""]
    told.append(f"To do again: {', '.join(again)}." if again else "")
    return " ".join(one for one in told if one)


def _figure(given: Given) -> Field:
    return NumberField(given.name, given.label, like=FIGURE, hint=given.limits())


def _plain(words: Sequence[str]) -> Choices:
    return tuple((word, word) for word in words)
