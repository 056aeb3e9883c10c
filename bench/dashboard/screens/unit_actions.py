"""What the keys of the unit's screen do, beside what they do to any unit in the queue."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable

from bench.dashboard.doing import say
from bench.dashboard.presenters.unit_as_row import unit_as_row
from bench.dashboard.screens.first_actions import FirstActions
from bench.desk import Desk
from bench.views.queue import QueueRow
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet

NO_TASK = "There is no task under the cursor."


class UnitActions(FirstActions):
    """Mixed into the unit's screen, which says what it shows and which task is meant."""

    @abstractmethod
    def unit_shown(self) -> UnitSheet | None:
        """The unit as it was read last."""

    def unit_here(self) -> QueueRow | None:
        """The unit as a row of the queue."""
        unit = self.unit_shown()
        return unit_as_row(unit) if unit else None

    def consumable_here(self) -> int | None:
        """No stock is shown here."""
        return None

    def go_to_unit(self, unit_id: int) -> None:
        """The screen stays with its unit."""

    def action_skip(self) -> None:
        """Leave the task out, with a reason."""
        task = self._task_or_say()
        if task is None:
            return
        from bench.dashboard.screens.dialogs.questions import ReasonDialog

        desk = self.desk

        def given(reason: str | None) -> None:
            if reason is not None:
                self.change(lambda: _skip(desk, task.task_id, reason))

        self.app.push_screen(ReasonDialog(f"Skip {task.name}", "Why", draft=f"skip {task.task_id}"), given)

    def action_reopen(self) -> None:
        """Take a finished or skipped task up again."""
        task = self._task_or_say()
        if task is None:
            return
        desk = self.desk

        def work() -> None:
            from bench.work.timers import reopen_task

            reopen_task(desk, task.task_id)

        self.change(work)

    def action_earlier(self) -> None:
        """The task one place up."""
        self._reorder(-1)

    def action_later(self) -> None:
        """The task one place down."""
        self._reorder(1)

    def action_add_task(self) -> None:
        """One more task."""
        unit = self.unit_shown()
        if unit is not None:
            from bench.dashboard.screens.dialogs.unit_forms import task_form

            self.app.push_screen(task_form(unit.unit_id))

    def action_rename_task(self) -> None:
        """Another name or estimate for the task."""
        unit, task = self.unit_shown(), self._task_or_say()
        if unit is not None and task is not None:
            from bench.dashboard.screens.dialogs.unit_forms import task_form

            self.app.push_screen(task_form(unit.unit_id, task.task_id))

    def action_set_use(self) -> None:
        """What the task takes."""
        task = self._task_or_say()
        if task is None:
            return
        from bench.dashboard.screens.dialogs.stock_forms import use_form

        uses = {use.consumable_id: use.quantity for use in task.uses}
        self.app.push_screen(
            use_form(task.name, _use_setter(task.task_id), uses, draft=f"takes {task.task_id}")
        )

    def action_add_time(self) -> None:
        """Time worked on the task but not timed."""
        task = self._task_or_say()
        if task is not None:
            from bench.dashboard.screens.dialogs.time_forms import add_entry_form

            self.app.push_screen(add_entry_form(task.task_id, task.name))

    def action_journal(self) -> None:
        """All that was done to this unit."""
        unit = self.unit_shown()
        if unit is not None:
            from bench.dashboard.screens.journal import JournalScreen

            self.app.push_screen(JournalScreen(unit.unit_id))

    def _task_or_say(self) -> TaskLine | None:
        task = self.task_here()
        if task is None:
            say(self.app, NO_TASK)
        return task

    def _reorder(self, steps: int) -> None:
        task = self._task_or_say()
        if task is None:
            return
        desk = self.desk

        def work() -> None:
            from bench.work.tasks import reorder_task

            reorder_task(desk, task.task_id, steps)

        self.change(work)


def _skip(desk: Desk, task_id: int, reason: str) -> None:
    from bench.work.timers import skip_task

    skip_task(desk, task_id, reason)


def _use_setter(task_id: int) -> Callable[[Desk, int, str], None]:
    def set_use(desk: Desk, consumable_id: int, quantity_text: str) -> None:
        from bench.work.tasks import set_task_use

        set_task_use(desk, task_id, consumable_id, quantity_text)

    return set_use
