"""What the keys of the week do: other weeks, corrections, new estimates, saving the sheet."""

from __future__ import annotations

from abc import abstractmethod

from bench.dashboard.doing import Doing, say
from bench.domain.weeks import IsoWeek
from bench.views.entries import EntryLine
from bench.views.week import WeekSheet


class WeekActions(Doing):
    """Mixed into the week's screen, which says what it shows."""

    @abstractmethod
    def sheet_shown(self) -> WeekSheet | None:
        """The week as it was read last."""

    @abstractmethod
    def entry_here(self) -> EntryLine | None:
        """The entry under the cursor."""

    @abstractmethod
    def estimate_here(self) -> str | None:
        """The task under the cursor of the estimates."""

    @abstractmethod
    def go_to_week(self, week: IsoWeek | None) -> None:
        """Show another week."""

    def action_earlier(self) -> None:
        """The week before."""
        sheet = self.sheet_shown()
        if sheet is not None:
            self.go_to_week(sheet.week.previous())

    def action_later(self) -> None:
        """The week after."""
        sheet = self.sheet_shown()
        if sheet is not None:
            self.go_to_week(sheet.week.next())

    def action_this_week(self) -> None:
        """The week we are in."""
        self.go_to_week(None)

    def correct(self, entry_id: int) -> None:
        """Set an entry right."""
        from bench.dashboard.screens.dialogs.time_forms import CorrectEntry

        self.app.push_screen(CorrectEntry(entry_id))

    def action_correct(self) -> None:
        """Set the entry under the cursor right."""
        entry = self._entry_or_say()
        if entry is not None:
            self.correct(entry.entry_id)

    def action_add_time(self) -> None:
        """Time that was worked on the same task but not timed."""
        entry = self._entry_or_say()
        if entry is not None:
            from bench.dashboard.screens.dialogs.time_forms import add_entry_form

            self.app.push_screen(add_entry_form(entry.task_id, f"{entry.task} on {entry.tag}"))

    def action_save(self) -> None:
        """Save the sheet under a name."""
        sheet = self.sheet_shown()
        if sheet is not None:
            from bench.dashboard.screens.dialogs.file_forms import save_document_form
            from bench.reports.forms import week_forms

            title, name = f"week {sheet.week}", f"week-{sheet.week}.txt"
            self.app.push_screen(save_document_form(title, sheet, week_forms(), name))

    def action_take_estimates(self) -> None:
        """Make what was measured the new estimate of the task's routes."""
        sheet, task = self.sheet_shown(), self.estimate_here()
        found = [one for one in sheet.estimates if one.task == task] if sheet else []
        if not found:
            say(self.app, "There is no task under the cursor of the estimates.")
            return
        one, desk = found[0], self.desk
        from bench.dashboard.screens.dialogs.pick import choose_estimate

        def chosen(minutes: int | None) -> None:
            if minutes is None:
                return

            def work() -> None:
                from bench.work.route_tasks import take_estimates

                take_estimates(desk, one.route_task_ids, minutes)

            self.change(work, lambda _: say(self.app, f"{one.task}: {minutes} min from now on."))

        self.app.push_screen(choose_estimate(one), chosen)

    def _entry_or_say(self) -> EntryLine | None:
        entry = self.entry_here()
        if entry is None:
            say(self.app, "There is no entry under the cursor.")
        return entry
