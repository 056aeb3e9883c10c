"""The papers of a repair: its quote, its bill, the note when the machine goes back."""

from __future__ import annotations

from collections.abc import Callable

from bench.dashboard.screens.papers import Paper, Papers, PapersScreen, repair_papers


class RepairPapersScreen(PapersScreen):
    """One paper at a time; the first is the one that can be written."""

    def __init__(self, unit_id: int) -> None:
        super().__init__(unit_id, begin="")

    def read(self) -> Callable[[], Papers]:
        """The papers of the unit's newest repair."""
        desk, unit_id = self.desk, self.unit_id
        return lambda: repair_papers(desk, unit_id)

    def show(self, facts: tuple[Paper, ...]) -> None:
        """The paper that is chosen; at first the last one that can be written."""
        if not self.shown:
            written = [paper.title for paper in facts if paper.forms]
            self.shown = written[-1] if written else facts[0].title
        super().show(facts)
