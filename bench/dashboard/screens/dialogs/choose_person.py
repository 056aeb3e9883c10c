"""Who acts from now on."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog


class ChoosePerson(PickDialog):
    """Answers the number of the person chosen."""

    def __init__(self) -> None:
        super().__init__("Who acts?")

    def read(self) -> Sequence[Choosable]:
        """Everyone at the bench."""
        from bench.views.shop import read_people

        desk = self.desk
        return [
            Choosable(one.person_id, one.name, now=one.person_id == desk.person_id)
            for one in read_people(desk)
        ]
