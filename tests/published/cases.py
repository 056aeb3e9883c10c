"""A published case as data: the tests run it, and `python -m tests.published.table` lists it for the docs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Case:
    """What `got` must give: `expected`, within `tolerance` (absolute; 0: exactly that), and why so close.

    `source` says where `expected` was read or which library computed it.
    """

    case: str
    source: str
    got: Callable[[], object]
    expected: object
    tolerance: float
    why: str

    def holds(self) -> bool:
        """Whether the program agrees with the source."""
        found = self.got()
        if self.tolerance == 0:
            return found == self.expected
        assert isinstance(found, (int, float))
        assert isinstance(self.expected, (int, float))
        return abs(found - self.expected) <= self.tolerance
