"""The safety panel for the unit under the cursor."""

from __future__ import annotations

from collections.abc import Sequence

from textual.reactive import reactive

from bench.dashboard.presenters.pieces import Line
from bench.dashboard.presenters.safety_lines import safety_lines
from bench.dashboard.widgets.painted import Painted
from bench.views.safety import SafetyView


class SafetyPanel(Painted):
    """Cover, battery, lists and caution; with the class -alarm while something there can hurt."""

    BORDER_TITLE = "Safety"

    safety: reactive[SafetyView | None] = reactive(None, init=False, repaint=False)

    def watch_safety(self, safety: SafetyView | None) -> None:
        """Show the lists as they are now."""
        self.set_class(safety is not None and (safety.alarm or safety.cell_finding is not None), "-alarm")
        self.repaint(layout=True)

    def paint(self, width: int) -> Sequence[Line]:
        """The panel's lines."""
        return safety_lines(self.safety, width)
