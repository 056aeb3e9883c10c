"""Finishing a task: what it took, editable before it is issued, and what that would leave."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, ClassVar

from textual import on
from textual.binding import BindingType
from textual.widgets import Button, Input

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.finishing import (
    Taking,
    amount,
    first_short,
    left_after,
    low_words,
    others,
    takings,
)
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import FormOf
from bench.dashboard.screens.dialogs.fault_forms import (
    CURES,
    ended_words,
    open_choices,
    outcome_fields,
    outcome_typed,
)
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.text_fields import AMOUNT, NumberField
from bench.desk import Desk
from bench.domain.outcomes import PASSED
from bench.domain.stock_levels import StockLine
from bench.domain.text import for_display, task_on
from bench.domain.typed import TypedFields
from bench.errors import BatteryFirst, BenchError, OutOfStock
from bench.views.particulars import unit_of_task
from bench.views.stock import read_stock
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet, read_unit

MORE = "more"
AMOUNT_CELLS = 12


class FinishDialog(Form[bool]):
    """Shows what the route says a task takes; Enter accepts it. Answers whether the task is done."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("finish")
    label_cells = 29
    fills_again = False  # how a test ended, and what a task took, is looked at each time

    def __init__(self, task_id: int) -> None:
        super().__init__(
            FormOf(
                heading="Finish the task",
                draft=f"finish {task_id}",
                fields=(ChoiceField(MORE, "Also used up", none="nothing else"),),
                send="Done",
                enter=True,
                reads=self._read,
                asks=(BatteryFirst,),
                answers=lambda done: getattr(done, "outcome", PASSED) == PASSED,
                says=lambda done: " ".join(filter(None, (ended_words(done), low_words(done.issued)))),
            )
        )
        self.task_id = task_id
        self.stock: dict[int, StockLine] = {}
        self.test = ""  # the kind of test that the task is
        self._unit_id = 0
        self._takings: list[Taking] = []

    def buttons(self) -> Iterable[Button]:
        """Counting is offered when something is short."""
        yield self.button("Count it", "count")
        yield from super().buttons()

    def begin(self, facts: tuple[TaskLine, UnitSheet, tuple[StockLine, ...]]) -> None:
        """The outcome of a test, and a field for each consumable the task takes."""
        task, unit, stock = facts
        self.stock = {line.consumable_id: line for line in stock}
        self.tell("heading", f"Finish {task_on(for_display(task.name), unit.tag)}")
        if task.test and not self.test:
            self.test, self._unit_id = task.test, unit.unit_id
            self._ask_outcome(unit)
        known = {one.line.consumable_id for one in self._takings}
        for taking in takings(task, stock):
            if taking.line.consumable_id not in known:
                self._take(taking)
        self._tell()
        self._offer()
        if not self._takings and not self.test:
            self.set_focus(self.query_one("#do-enter"))

    def restore(self, typed: dict[str, str]) -> None:
        """A field for each consumable that was chosen besides."""
        for line in self.stock.values():
            taking = Taking(line, "")
            if taking.name in typed and taking.name not in self._fields:
                self._take(taking)
        self._offer()

    def work(self) -> Callable[[], Any]:
        """Issue what stands in the fields and mark the task done."""
        desk, task_id, stock = self.desk, self.task_id, self.stock
        typed, names = self._typed(), {one.line.consumable_id: one.name for one in self._takings}
        test, unit_id, outcome = self.test, self._unit_id, self._outcome()

        def finish() -> object:
            fields = TypedFields()
            uses = {one: fields.read(names[one], amount, text, stock[one]) for one, text in typed.items()}
            fields.check()
            if test:
                return use_cases.outcomes.end_test(desk, unit_id, task_id=task_id, uses=uses, **outcome)
            return use_cases.timers.finish_task(desk, task_id, uses=uses)

        return finish

    def refused(self, error: BenchError) -> bool:
        """A short consumable can be counted from here."""
        self.set_class(isinstance(error, OutOfStock), "short")
        return super().refused(error)

    def action_enter(self) -> None:
        """One Enter accepts, wherever the cursor is."""
        self.action_send()

    def action_count(self) -> None:
        """Count what is short, then go on here."""
        from bench.dashboard.screens.dialogs.stock_forms import count_form

        short = first_short(self._typed(), list(self.stock.values()))

        def counted(written: bool | None) -> None:
            if written:
                self.say("")
                self.remove_class("short")
                self.do(self.read, self.begin)

        self.app.push_screen(count_form(short), counted)

    @on(Input.Changed)
    def _retell(self) -> None:
        self._tell()

    @on(ChoiceField.Made)
    def _also(self, event: ChoiceField.Made) -> None:
        event.stop()
        chosen = self.value(MORE)
        if chosen:
            field = self._take(Taking(self.stock[int(chosen)], ""))
            self._tell()
            self._offer()
            field.call_after_refresh(field.take_focus)

    def _ask_outcome(self, unit: UnitSheet) -> None:
        fields = outcome_fields(self.test)
        self.add_fields(fields, before="#field-more")
        cures = next(one for one in fields if one.field_name == CURES)
        assert isinstance(cures, ChoiceField)
        cures.offer(open_choices(unit.faults))
        self.begin_in(fields[0])

    def _outcome(self) -> dict[str, Any]:
        """What the fields of its outcome give; BadInput where that is not chosen."""
        if not self.test:
            return {}
        names = {one.field_name for one in outcome_fields(self.test)}
        typed = {name: field.given for name, field in self._fields.items() if name in names}
        return outcome_typed(self.test, typed)

    def _take(self, taking: Taking) -> Field:
        field = NumberField(taking.name, taking.line.name, like=AMOUNT, value=taking.typed)
        field.most_cells = AMOUNT_CELLS
        self._takings.append(taking)
        self.add_fields((field,), before="#field-more")
        self._fields[MORE] = self._fields.pop(MORE)  # stays the last
        if len(self._takings) == 1 and not self.test and not self.is_read:
            self.begin_in(field)
        return field

    def _typed(self) -> dict[int, str]:
        return {one.line.consumable_id: self.value(one.name) for one in self._takings}

    def _tell(self) -> None:
        for taking in self._takings:
            line = self.stock[taking.line.consumable_id]
            part = left_after(self.value(taking.name), line)
            self.field(taking.name).tell(part)

    def _offer(self) -> None:
        more = self.field(MORE)
        assert isinstance(more, ChoiceField)
        choices = others(list(self.stock.values()), [one.line.consumable_id for one in self._takings])
        more.offer(choices)
        more.display = bool(choices)

    def _read(self, desk: Desk) -> tuple[TaskLine, UnitSheet, tuple[StockLine, ...]]:
        """The task, its unit, and the levels."""
        unit = read_unit(desk, unit_of_task(desk, self.task_id))
        task = next(one for one in unit.tasks if one.task_id == self.task_id)
        return task, unit, read_stock(desk).lines
