"""Which change of one's own to undo, or to do again: the newest first, each with what stands on it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from textual.widgets import OptionList

from bench.dashboard.screens.dialogs.pick import Choosable, PickDialog
from bench.domain.localtime import day_and_time
from bench.views.undo import UndoOffer


class ChooseUndo(PickDialog):
    """Answers the number of the line chosen. One that something stands on is not taken, and it says why."""

    def __init__(self) -> None:
        super().__init__("Undo which change of yours?")
        self._offers: tuple[UndoOffer, ...] = ()

    def read(self) -> Sequence[Choosable]:
        """The newest lines of one's own; the newest that can be undone is marked."""
        from bench.views.shop import read_shop
        from bench.work.undo import read_offers_to_undo

        self._offers = read_offers_to_undo(self.desk)
        zone = read_shop(self.desk).zone
        next_one = next((one for one in self._offers if not one.again and not one.refusal), None)
        return [Choosable(one.journal_id, _words(one, zone), one is next_one) for one in self._offers]

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written: whoever asked does what follows."""
        at = self.query_one(OptionList).highlighted
        if at is None:
            self.say("There is no change of yours left to undo. The journal shows who did what.")
        elif self._offers[at].refusal:
            self.say(self._offers[at].refusal)
        else:
            self.dismiss(self._offers[at].journal_id)
        return None


def _words(offer: UndoOffer, zone: str) -> str:
    what = "redo" if offer.again else "undo"
    kept = "; something stands on it" if offer.refusal else ""
    return f"{what}: {offer.summary}, {day_and_time(offer.at_us, zone)}{kept}"
