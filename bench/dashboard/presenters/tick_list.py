"""The opening or closing checklist as lines to tick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.safety import LIST_NAMES, OPENING
from bench.views.safety import SafetyView

BATTERY_OUT = "battery_out"
BATTERY_IN = "battery_in"
SCREWS_BACK = "screws_back"


@dataclass(frozen=True, slots=True)
class TickShown:
    """One line of a list, and who ticked it ("" while nobody did)."""

    number: int
    item: str
    label: str
    ticked: bool
    by: str

    @property
    def words(self) -> str:
        """The line without its mark."""
        return f"{self.number}  {self.label}" + (f"  ({self.by})" if self.by else "")


def shown_ticks(view: SafetyView, which: str) -> tuple[TickShown, ...]:
    """The list's lines. The disconnected battery counts as open again once it was reconnected."""
    ticks = view.opening if which == OPENING else view.close_up
    back_in = which == OPENING and battery_back_in(view)
    return tuple(
        TickShown(number, one.item, one.label, ticked, _by(one.person, one.note) if ticked else "")
        for number, one in enumerate(ticks, start=1)
        for ticked in (one.at_us is not None and not (back_in and one.item == BATTERY_OUT),)
    )


def battery_back_in(view: SafetyView) -> bool:
    """Whether the close-up list says that the battery is connected again."""
    return any(one.item == BATTERY_IN and one.at_us is not None for one in view.close_up)


def passed(view: SafetyView, which: str, items: Sequence[str]) -> bool:
    """Whether these items of the list are ticked, or it was gone on without for a reason."""
    without = view.without_opening if which == OPENING else view.without_close_up
    return without is not None or all(one.ticked for one in shown_ticks(view, which) if one.item in items)


def still_open(view: SafetyView, which: str, items: Sequence[str]) -> str:
    """The sentence that names what is not ticked yet."""
    names = "; ".join(one.label for one in shown_ticks(view, which) if one.item in items and not one.ticked)
    return f"The {LIST_NAMES[which]} is not ticked through: {names}."


def screws_known(view: SafetyView, which: str) -> str:
    """The count of screws that is kept already, as text."""
    count = view.screws_out if which == OPENING else view.screws_back
    return "" if count is None else str(count)


def _by(person: str | None, note: str) -> str:
    return f"{person or ''}: {note}" if note else person or ""
