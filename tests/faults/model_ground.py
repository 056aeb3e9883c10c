"""What all parts of the simple shop stand on: units with holds, cells and timers; where parts are."""

from __future__ import annotations

from dataclasses import dataclass, field


class ImpossibleError(AssertionError):
    """An act stands that could not have been done."""


def need(holds: bool, why: str) -> None:
    if not holds:
        raise ImpossibleError(why)


NOWHERE = -1  # a part that is new to the shop


@dataclass
class Bench:
    """Units by number: on hold and why, with a bad cell, listed, out; who times what: entry, unit, inside.

    `parts`: where each move led, `which`: the part it is of; `gone`: the parts that left off the shelf.
    """

    held: dict[int, str] = field(default_factory=dict)
    cells: dict[int, str] = field(default_factory=dict)
    sold: set[int] = field(default_factory=set)
    listed: set[int] = field(default_factory=set)
    running: dict[int, tuple[int, int, bool]] = field(default_factory=dict)
    parts: dict[int, int | None] = field(default_factory=dict)
    which: dict[int, int] = field(default_factory=dict)
    gone: dict[int, str] = field(default_factory=dict)

    def may_work(self, unit: int) -> None:
        need(unit not in self.cells, f"work on {unit} with a bad cell")
        need(unit not in self.held, f"work on {unit} on hold")
        need(unit not in self.sold, f"work on {unit}, which is sold")

    def cell_is_good(self, unit: int | None) -> None:
        need(unit not in self.cells, f"a part or wipe on {unit} with a bad cell")

    def stop_all(self, unit: int) -> None:
        self.running = {person: one for person, one in self.running.items() if one[1] != unit}

    def where(self, component: int) -> int | None:
        """The unit in which a part is, None for the shelf, NOWHERE for one that is new."""
        moves = [part for part, one in self.which.items() if one == component and part in self.parts]
        return self.parts[max(moves)] if moves else NOWHERE

    def moves(self, component: int, part: int, origin: int | None, to: int | None) -> None:
        """A move of a part: from where it is, or where it is new from `origin` (a unit's own)."""
        need(component not in self.gone, f"part {component} moved, which is {self.gone.get(component)}")
        here = self.where(component)
        need(here in (NOWHERE, origin), f"part {component} taken from {origin}, and it is at {here}")
        self.parts[part], self.which[part] = to, component
