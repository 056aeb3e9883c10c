"""What is typed into the calculators, kept in the file for each unit until the figures are emptied."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing
from bench.domain.calculators.registry import CALCULATORS

Typed = Mapping[str, Mapping[str, str]]


class FiguresKept:
    """The figures typed for one unit, by calculator and name; those that are as they began are not kept."""

    def __init__(self, screen: Doing, unit_id: int | None) -> None:
        self._screen = screen
        self._draft = "calculators" if unit_id is None else f"calculators {unit_id}"
        self._kept: dict[str, str] = {}

    def read(self, then: Callable[[Typed], None]) -> None:
        """Hand over what was kept, once it is read."""

        def read(kept: dict[str, str]) -> None:
            self._kept = kept
            then(_by_calculator(kept))

        self._screen.do(partial(call, "bench.views.shop:read_draft", self._screen.desk, self._draft), read)

    def keep(self, typed: Typed) -> None:
        """Keep these figures, if they are others than those kept."""
        values = _flat(typed)
        if values == self._kept:
            return
        self._kept = values
        self._screen.run_use_case("bench.work.drafts:save_draft", self._draft, values)


def _flat(typed: Typed) -> dict[str, str]:
    return {
        f"{calculator.name}.{given.name}": typed[calculator.name][given.name]
        for calculator in CALCULATORS
        for given in calculator.givens
        if typed.get(calculator.name, {}).get(given.name, given.default) != given.default
    }


def _by_calculator(kept: Mapping[str, str]) -> dict[str, dict[str, str]]:
    figures: dict[str, dict[str, str]] = {}
    for name, value in kept.items():
        calculator, _, given = name.partition(".")
        figures.setdefault(calculator, {})[given] = value
    return figures
