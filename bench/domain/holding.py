"""How long a finding holds: for the condition in which it was made.

A unit that was with a buyer since, or whose cover came off since, is in another condition. A return ends a
wipe, a test, a reading after the work and a grade; the cover off again ends all of these but the wipe and
what was said of looks.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Instant

WIPE, NO_DRIVE, TEST, READING, GRADE = "wipe", "drive", "test", "reading", "grade"
# What is asked before a unit is listed or sold, in the order in which it is named.
MATTERS = {
    WIPE: "no passed wipe",
    NO_DRIVE: "no drive",
    TEST: "not tested again",
    READING: "not read again",
    GRADE: "not graded again",
}


@dataclass(frozen=True, slots=True)
class Condition:
    """When a unit's cover last came off, and when it last came back to the shop; 0 for never."""

    opened_us: Instant = 0
    back_us: Instant = 0

    @property
    def since_us(self) -> Instant:
        """Since when the unit is in the condition it is in."""
        return max(self.opened_us, self.back_us)

    def holds(self, at_us: int, *, looks: bool = False) -> bool:
        """Whether what was found at that instant still holds. `looks`: opening the unit does not end it."""
        return at_us >= (self.back_us if looks else self.since_us)

    def still_answers(self, matter: str, at_us: int) -> bool:
        """Whether what was said at that instant still answers for a matter: it ends as that would."""
        return at_us >= (self.back_us if matter in (WIPE, NO_DRIVE) else self.since_us)


def is_test(*, unattended: object, lid_off: object, after_cover: object) -> bool:
    """Whether a task is a test of the closed unit: it runs by itself or ends with an outcome, the cover on,
    after the last stage with the cover off. Its name says nothing."""
    return bool(unattended and after_cover and not lid_off)


def condition_of(opened_us: int | None, back_us: int | None) -> Condition:
    """The condition of a unit as its row tells it."""
    return Condition(opened_us or 0, back_us or 0)
