"""Which of several readings is meant."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.condition_rows import reading_words
from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog
from bench.domain.condition.sheet import ReadingLine


class ChooseReading(PickDialog):
    """Answers the number of the reading chosen."""

    def __init__(self, readings: Sequence[ReadingLine], zone: str) -> None:
        super().__init__("Which reading?")
        self.readings = tuple(readings)
        self.zone = zone

    def read(self) -> Sequence[Choosable]:
        """The readings that were handed in."""
        return [Choosable(one.reading_id, reading_words(one, self.zone)) for one in self.readings]
