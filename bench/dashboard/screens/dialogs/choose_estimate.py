"""What was measured of a task, to choose the new estimate from."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.week_rows import new_estimates
from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog
from bench.views.week import TaskEstimate


class ChooseEstimate(PickDialog):
    """Answers the minutes chosen."""

    def __init__(self, estimate: TaskEstimate) -> None:
        super().__init__(f"{estimate.task}: {estimate.estimate_minutes} min now")
        self.estimate = estimate

    def read(self) -> Sequence[Choosable]:
        """The median and the 80th percentile."""
        return [Choosable(minutes, words) for minutes, words in new_estimates(self.estimate)]
