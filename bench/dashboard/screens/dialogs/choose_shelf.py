"""Which part on the shelf is meant."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.presenters.part_rows import shelf_words
from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog
from bench.errors import NotFound


class ChooseFromShelf(PickDialog):
    """Answers the number of the part chosen."""

    send_label = "Fit it"

    def __init__(self) -> None:
        super().__init__("Fit which part from the shelf?")

    def read(self) -> Sequence[Choosable]:
        """The parts that were taken out and kept; NotFound when there are none."""
        from bench.views.parts import read_shelf

        shelf = read_shelf(self.desk)
        if not shelf.lines:
            raise NotFound("No part lies on the shelf.", "Take one out of a unit first.")
        return [Choosable(one.part_id, shelf_words(one, shelf)) for one in shelf.lines]
