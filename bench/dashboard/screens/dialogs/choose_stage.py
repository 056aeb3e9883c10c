"""Which stage a unit goes to."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.stage_lines import stage_words
from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog


class ChooseStage(PickDialog):
    """Answers the number of the stage chosen; the unit's own is marked."""

    def __init__(self, unit_id: int) -> None:
        super().__init__("Move to which stage?")
        self.unit_id = unit_id

    def read(self) -> Sequence[Choosable]:
        """The stages in order."""
        from bench.views.shop import read_stages
        from bench.views.unit import read_unit

        here = read_unit(self.desk, self.unit_id).stage_id
        return [
            Choosable(one.stage_id, stage_words(one), now=one.stage_id == here)
            for one in read_stages(self.desk)
        ]
