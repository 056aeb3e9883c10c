"""Which of the drives on record a part is that moves, or that it is none of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bench.dashboard.doing import Doing
from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog
from bench.domain.text import for_display
from bench.errors import WhichDrive

NONE_OF_THEM = 0


class ChooseDrive(PickDialog):
    """Answers the number of the drive, 0 for none of them."""

    def __init__(self, error: WhichDrive) -> None:
        super().__init__(for_display(error.what))
        self.drives = error.drives

    def read(self) -> Sequence[Choosable]:
        """The drives that the part may be."""
        drives = [Choosable(number, name) for number, name in self.drives]
        return [*drives, Choosable(NONE_OF_THEM, "none of them")]


def ask_which_drive(screen: Doing, error: WhichDrive, again: Callable[[int], None]) -> None:
    """Ask over the screen; with the answer, try again."""

    def chosen(drive_id: int | None) -> None:
        if drive_id is not None:
            again(drive_id)

    screen.app.push_screen(ChooseDrive(error), chosen)
