"""What the keys of the first screen do to the unit under the cursor, the stock and the person's own work."""

from __future__ import annotations

from abc import abstractmethod

from bench.dashboard.doing import say
from bench.dashboard.presenters.choices import entry_of_task, entry_to_stop, task_to_finish
from bench.dashboard.screens.more import OpensMore, UnitMeant
from bench.dashboard.screens.moving import move
from bench.dashboard.screens.starting import start
from bench.dashboard.screens.undoing import choose_and_undo
from bench.domain.durations import hours_and_minutes
from bench.domain.safety import CLOSE_UP, OPENING
from bench.views.queue import QueueRow
from bench.views.tasks import TaskLine

NO_UNIT = "There is no unit under the cursor."


class FirstActions(OpensMore):
    """Mixed into the first screen, which says what stands under its cursors."""

    @abstractmethod
    def unit_here(self) -> QueueRow | None:
        """The unit under the cursor."""

    @abstractmethod
    def consumable_here(self) -> int | None:
        """The consumable under the stock panel's cursor while that panel has the focus."""

    @abstractmethod
    def task_here(self) -> TaskLine | None:
        """The task under the tasks panel's cursor while that panel has the focus."""

    @abstractmethod
    def go_to_unit(self, unit_id: int) -> None:
        """Put the cursor on this unit as soon as it is shown."""

    def unit_meant(self) -> UnitMeant | None:
        """The unit whose other sheets are opened."""
        row = self.unit_here()
        return UnitMeant(row.unit_id, row.tag) if row is not None else None

    def unit_or_say(self) -> QueueRow | None:
        """The unit under the cursor; a sentence on the screen when there is none."""
        row = self.unit_here()
        if row is None:
            say(self.app, NO_UNIT)
        return row

    def action_start_stop(self) -> None:
        """Stop what one is timing here, else start the task under the cursor or the unit's next one."""
        task = self.task_here()
        if task is not None:
            self.start_stop_task(task)
            return
        row = self.unit_or_say()
        if row is None:
            return
        entry = entry_to_stop(row, self.desk.person_id)
        if entry is not None:
            self.stop_entry(entry.entry_id)
        elif row.next_task_id is not None:
            start(self, row.next_task_id)
        else:
            say(self.app, f"{row.tag} has no task left to start.")

    def start_stop_task(self, task: TaskLine) -> None:
        """Stop the task's timer, or start one."""
        entry = entry_of_task(task, self.desk.person_id)
        if entry is None:
            start(self, task.task_id)
        else:
            self.stop_entry(entry.entry_id)

    def stop_entry(self, entry_id: int) -> None:
        """Stop a timer and say how long it ran."""
        desk = self.desk

        def work() -> str:
            from bench.work.timers import stop_entry

            told = stop_entry(desk, entry_id)
            note = f" {told.clock_note}" if told.clock_note else ""
            return f"{told.task} on {told.tag}: {hours_and_minutes(told.length_us)}.{note}"

        self.change(work, lambda sentence: say(self.app, sentence))

    def action_finish(self) -> None:
        """Finish the task under the cursor, or the one that runs here, or the next one."""
        task, row = self.task_here(), self.unit_or_say()
        task_id = task.task_id if task else task_to_finish(row, self.desk.person_id) if row else None
        if task_id is not None:
            from bench.dashboard.screens.dialogs.finish import FinishDialog

            self.app.push_screen(FinishDialog(task_id))
        elif row is not None:
            say(self.app, f"{row.tag} has no task left to finish.")

    def action_move_on(self) -> None:
        """To the next stage."""
        self._move_one(forward=True)

    def action_move_back(self) -> None:
        """To the stage before."""
        self._move_one(forward=False)

    def _move_one(self, *, forward: bool) -> None:
        row = self.unit_or_say()
        if row is None:
            return
        desk, unit_id = self.desk, row.unit_id

        def work() -> int | None:
            from bench.views.tasks import next_stage_of, previous_stage_of

            return next_stage_of(desk, unit_id) if forward else previous_stage_of(desk, unit_id)

        def then(stage_id: int | None) -> None:
            if stage_id is None:
                say(self.app, f"{row.tag} stands at the {'last' if forward else 'first'} stage.")
            else:
                move(self, unit_id, stage_id)

        self.do(work, then)

    def action_go_to(self) -> None:
        """To any stage."""
        row = self.unit_or_say()
        if row is None:
            return
        from bench.dashboard.screens.dialogs.pick import choose_stage

        def chosen(stage_id: int | None) -> None:
            if stage_id is not None:
                move(self, row.unit_id, stage_id)

        self.app.push_screen(choose_stage(row.unit_id), chosen)

    def action_hold(self) -> None:
        """Hold with a reason, or release."""
        row = self.unit_or_say()
        if row is None:
            return
        if row.held is None:
            from bench.dashboard.screens.dialogs.unit_forms import hold_form

            self.app.push_screen(hold_form(row.unit_id, row.tag))
            return
        desk, unit_id = self.desk, row.unit_id

        def work() -> None:
            from bench.work.moves import release_unit

            release_unit(desk, unit_id)

        self.change(work, lambda _: say(self.app, f"{row.tag} is released."))

    def action_opening_list(self) -> None:
        """The list before the cover comes off."""
        self._safety_list(OPENING)

    def action_close_up_list(self) -> None:
        """The list before the cover goes on."""
        self._safety_list(CLOSE_UP)

    def _safety_list(self, which: str) -> None:
        row = self.unit_or_say()
        if row is not None:
            from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog

            self.app.push_screen(SafetyListDialog(row.unit_id, which))

    def action_bad_cell(self) -> None:
        """Report a swollen, punctured or wet cell, or clear it."""
        row = self.unit_or_say()
        if row is not None:
            from bench.dashboard.screens.dialogs.cell import CellDialog

            self.app.push_screen(CellDialog(row.unit_id))

    def action_add_unit(self) -> None:
        """A new unit; the cursor goes to it."""
        from bench.dashboard.screens.dialogs.unit_forms import unit_form

        def added(unit_id: int | None) -> None:
            if unit_id is not None:
                self.go_to_unit(unit_id)

        self.app.push_screen(unit_form(None), added)

    def action_edit_unit(self) -> None:
        """The unit's particulars."""
        row = self.unit_or_say()
        if row is not None:
            from bench.dashboard.screens.dialogs.unit_forms import unit_form

            self.app.push_screen(unit_form(row.unit_id))

    def action_restock(self) -> None:
        """Book a delivery, of the consumable under the cursor if the stock panel has the focus."""
        from bench.dashboard.screens.dialogs.stock_forms import restock_form

        self.app.push_screen(restock_form(self.consumable_here()))

    def action_count(self) -> None:
        """Count what is there."""
        from bench.dashboard.screens.dialogs.stock_forms import count_form

        self.app.push_screen(count_form(self.consumable_here()))

    def action_calculators(self) -> None:
        """The sums of the trade; a result can go on the unit under the cursor."""
        from bench.dashboard.screens.calculators import CalculatorsScreen

        row = self.unit_here()
        self.app.push_screen(CalculatorsScreen(row.unit_id, row.tag) if row else CalculatorsScreen())

    def action_undo(self) -> None:
        """Choose which change of one's own to undo, or to do again."""
        choose_and_undo(self)

    def action_person(self) -> None:
        """Who acts from now on."""
        from bench.dashboard.screens.dialogs.pick import choose_person

        def chosen(person_id: int | None) -> None:
            if person_id is not None:
                self.bench.act_as(person_id)

        self.app.push_screen(choose_person(), chosen)
