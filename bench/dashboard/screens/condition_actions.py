"""What the keys of a unit's condition do: type readings in, read a file, weigh the battery."""

from __future__ import annotations

from abc import abstractmethod

from bench.dashboard.doing import Doing, say
from bench.views.condition import ConditionSheet


class ConditionActions(Doing):
    """Mixed into the condition's screen, which says what it shows."""

    unit_id: int

    @abstractmethod
    def sheet_shown(self) -> ConditionSheet | None:
        """What was read last."""

    @abstractmethod
    def subject_here(self) -> str | None:
        """The subject under the cursor."""

    def action_add_reading(self) -> None:
        """Type in what was measured of the subject under the cursor."""
        subject, sheet = self.subject_here(), self.sheet_shown()
        if subject is not None and sheet is not None:
            from bench.dashboard.screens.dialogs.condition_forms import ReadingForm

            self.app.push_screen(ReadingForm(self.unit_id, subject, sheet.tag), self._stopped)

    def action_read_file(self) -> None:
        """Read a file that was made on the unit."""
        sheet = self.sheet_shown()
        if sheet is not None:
            from bench.dashboard.screens.dialogs.condition_forms import reading_file_form

            self.app.push_screen(reading_file_form(self.unit_id, sheet.tag), self._stopped)

    def action_weigh(self) -> None:
        """Keep the battery, sell it as it is, or replace it."""
        sheet = self.sheet_shown()
        if sheet is not None and sheet.batteries:
            from bench.dashboard.screens.dialogs.condition_forms import WeighBattery

            self.app.push_screen(WeighBattery(self.unit_id, sheet.currency))
        else:
            say(self.app, "No battery was read yet: read its file, or type its figures in.")

    def action_remove(self) -> None:
        """Take a reading off the records, with the reason."""
        sheet, subject = self.sheet_shown(), self.subject_here()
        lines = next((one for one in sheet.subjects if one.subject == subject), None) if sheet else None
        taken = (*lines.before, *lines.after, *lines.ended) if lines is not None else ()
        if not taken or sheet is None:
            say(self.app, "There is no reading under the cursor.")
            return
        from bench.dashboard.screens.dialogs.pick import choose_reading

        def chosen(reading_id: int | None) -> None:
            if reading_id is not None:
                self._ask_why(reading_id)

        self.app.push_screen(choose_reading(taken, sheet.zone), chosen)

    def _ask_why(self, reading_id: int) -> None:
        from bench.dashboard.screens.dialogs.questions import ReasonDialog

        desk = self.desk

        def given(reason: str | None) -> None:
            if reason is None:
                return

            def work() -> None:
                from bench.work.readings import remove_reading

                remove_reading(desk, reading_id, reason)

            self.change(work, lambda _: say(self.app, "Taken off. It can be undone."))

        self.app.push_screen(
            ReasonDialog("Take the reading off", "Why", draft=f"reading off {reading_id}"), given
        )

    def _stopped(self, cell_finding: bool | None) -> None:
        """A swollen cell that was read stops the work: show what comes next."""
        if cell_finding:
            from bench.dashboard.screens.dialogs.cell import CellDialog

            self.app.push_screen(CellDialog(self.unit_id))
