"""A swollen, punctured or wet cell: reported, with what the shop does next; later cleared with a reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import PurePath
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.domain.safety import AFTER_A_BAD_CELL, FINDINGS
from bench.views.safety import SafetyView


class CellDialog(Form[bool]):
    """Asks what is wrong with the cell; once one is recorded, what was done about it."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss", "cell.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("cell")
    send_label = "Dealt with"

    def __init__(self, unit_id: int) -> None:
        super().__init__("What is wrong with the cell?", draft=f"cell {unit_id}")
        self.unit_id = unit_id
        self.finding: str | None = None

    def fields(self) -> Sequence[Field]:
        """What was done, asked for once a finding is recorded."""
        return (TextField("reason", "What was done", hint="such as: handed over"),)

    def body(self) -> Iterable[Widget]:
        """What the shop does next, and the field that clears the finding."""
        yield Static(id="finding", markup=False)
        yield Static(Content("\n".join(f"• {line}" for line in AFTER_A_BAD_CELL)), id="next")
        yield from super().body()

    def buttons(self) -> Iterable[Button]:
        """One button a finding, or the one that clears it."""
        for finding in FINDINGS:
            yield self.button(finding.capitalize(), finding, variant="error")
        yield from super().buttons()

    def read(self) -> SafetyView:
        """What is recorded."""
        from bench.views.safety import read_safety

        return read_safety(self.desk, self.unit_id)

    def begin(self, facts: SafetyView) -> None:
        """Show the finding that is recorded, or ask for one."""
        self.finding = facts.cell_finding
        recorded = self.finding is not None
        self.set_class(recorded, "recorded")
        words = f"{FINDINGS[self.finding].capitalize()} is recorded." if self.finding else ""
        self.query_one("#finding", Static).update(Content(words))
        self.query_one("#heading", Static).update(
            Content(f"Cell of {facts.tag}" if recorded else f"What is wrong with the cell of {facts.tag}?")
        )
        if recorded:
            self.field("reason").take_focus()
        else:
            self.query_one("#do-swollen").focus()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A finding is reported once; only a recorded one is cleared."""
        if action in FINDINGS:
            return self.finding is None
        return super().check_action(action, parameters)

    def action_swollen(self) -> None:
        """A swollen cell."""
        self._report("swollen")

    def action_punctured(self) -> None:
        """A punctured cell."""
        self._report("punctured")

    def action_wet(self) -> None:
        """A wet cell."""
        self._report("wet")

    def work(self) -> Callable[[], Any] | None:
        """Clear the finding with what was done."""
        if self.finding is None:
            self.say("Choose what is wrong, or leave.")
            return None
        desk, unit_id, reason = self.desk, self.unit_id, self.value("reason")

        def clear() -> SafetyView:
            from bench.work.safety import clear_cell

            return clear_cell(desk, unit_id, reason)

        return clear

    def _report(self, finding: str) -> None:
        desk, unit_id = self.desk, self.unit_id

        def work() -> SafetyView:
            from bench.work.safety import report_cell

            return report_cell(desk, unit_id, finding)

        self.change(work, self.sent, failed=self.refused)
