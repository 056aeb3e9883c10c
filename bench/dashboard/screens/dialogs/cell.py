"""A swollen, punctured or wet cell: reported, with what the shop does next; later cleared with a reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button

from bench.dashboard import use_cases
from bench.dashboard.keys import bindings_for
from bench.dashboard.screens.dialogs.described import FormOf
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.dashboard.widgets.steady import Words
from bench.domain.safety import AFTER_A_BAD_CELL, FINDINGS
from bench.views.safety import SafetyView, read_safety


class CellDialog(Form[bool]):
    """Asks what is wrong with the cell; once one is recorded, what was done about it."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("cell")

    def __init__(self, unit_id: int) -> None:
        super().__init__(
            FormOf(
                heading="What is wrong with the cell?",
                draft=f"cell {unit_id}",
                fields=(TextField("reason", "What was done", hint="such as: handed over"),),
                send="Dealt with",
                reads=lambda desk: read_safety(desk, unit_id),
                does=lambda filled: use_cases.safety.clear_cell(filled.desk, unit_id, **filled.typed),
            )
        )
        self.unit_id = unit_id
        self.finding: str | None = None

    def body(self) -> Iterable[Widget]:
        """What the shop does next, and the field that clears the finding."""
        yield Words(id="finding", markup=False)
        yield Words(Content("\n".join(f"• {line}" for line in AFTER_A_BAD_CELL)), id="next")
        yield from super().body()

    def buttons(self) -> Iterable[Button]:
        """One button a finding, or the one that clears it."""
        for finding in FINDINGS:
            yield self.button(finding.capitalize(), finding, variant="error")
        yield from super().buttons()

    def begin(self, facts: SafetyView) -> None:
        """Show the finding that is recorded, or ask for one."""
        self.finding = facts.cell_finding
        recorded = self.finding is not None
        self.set_class(recorded, "recorded")
        self.tell("finding", f"{FINDINGS[self.finding].capitalize()} is recorded." if self.finding else "")
        asked = f"What is wrong with the cell of {facts.tag}?"
        self.tell("heading", f"Cell of {facts.tag}" if recorded else asked)
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
        return super().work()

    def _report(self, finding: str) -> None:
        desk, unit_id = self.desk, self.unit_id
        self.change(
            lambda: use_cases.safety.report_cell(desk, unit_id, finding), self.sent, failed=self.refused
        )
