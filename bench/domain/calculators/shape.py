"""The shape all calculators share, so that one screen and one command show every one of them.

A calculator takes figures (`Given`), works one or more `Sum`s and gives `Answer`s. A sum is worked as soon as
all that it needs is there: half a form already answers its half.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from bench.domain.calculators.measures import read_figure
from bench.domain.text import quoted
from bench.errors import BadInput


class Limits(NamedTuple):
    """The least and the most that may be given in another unit."""

    unit: str
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Given:
    """A figure to give: `least` to `most` in `unit`, or one of `choices`.

    `default`: what holds while nothing is typed, empty for nothing. `also`: another unit it may come in.
    """

    name: str
    label: str
    unit: str = ""
    least: float = 0.0
    most: float = 0.0
    default: str = ""
    whole: bool = False
    also: Limits | None = None
    choices: tuple[str, ...] = ()

    def limits(self) -> str:
        """What may be given, such as 0.5 to 50 mm."""
        if self.choices:
            return " / ".join(self.choices)
        ways = [Limits(self.unit, self.least, self.most), *([self.also] if self.also else [])]
        return " or ".join(f"{way.least:.15g} to {way.most:.15g} {way.unit}".rstrip() for way in ways)


@dataclass(frozen=True, slots=True)
class Figure:
    """What was read: a number in `unit`, or the words chosen."""

    value: float
    unit: str
    words: str = ""


class Figures:
    """All that was read, by name."""

    def __init__(self, figures: Mapping[str, Figure]) -> None:
        self._figures = dict(figures)

    def __getitem__(self, name: str) -> float:
        """The number given under that name, in its unit."""
        return self._figures[name].value

    def __contains__(self, name: object) -> bool:
        return name in self._figures

    def get(self, name: str) -> float | None:
        """The number given under that name; None where nothing was."""
        return self._figures[name].value if name in self._figures else None

    def unit(self, name: str) -> str:
        """The unit the number came in: the figure's own or the other one it may have."""
        return self._figures[name].unit

    def choice(self, name: str) -> str:
        """The words chosen under that name."""
        return self._figures[name].words


@dataclass(frozen=True, slots=True)
class Answer:
    """One result. `value` None: there is none, `words` say why.

    `based_on`: how far to trust it. `alert`: it is past a limit. `noted`: it belongs on the unit's note.
    """

    name: str
    label: str
    value: float | str | None
    unit: str = ""
    decimals: int = 0
    based_on: str = ""
    alert: bool = False
    noted: bool = False
    words: str = ""

    def shown(self) -> str:
        """The value as it is read, such as 35.3 mm."""
        if self.value is None:
            return self.words or "–"
        value = self.value if isinstance(self.value, str) else f"{self.value:.{self.decimals}f}"
        return f"{value} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Sum:
    """One sum: worked once every name in `needs` is given."""

    title: str
    needs: tuple[str, ...]
    work: Callable[[Figures], tuple[Answer, ...]]


@dataclass(frozen=True, slots=True)
class Calculator:
    """A calculator as it is listed, filled in and explained. `formulas` and `sources`: a line each."""

    name: str
    title: str
    line: str
    givens: tuple[Given, ...]
    sums: tuple[Sum, ...]
    formulas: tuple[str, ...]
    sources: tuple[str, ...]
    cautions: tuple[str, ...]

    def given(self, name: str) -> Given:
        """The figure of that name; BadInput lists them all for any other name."""
        for given in self.givens:
            if given.name == name:
                return given
        names = ", ".join(given.name for given in self.givens)
        raise BadInput(f"{self.title} takes no {quoted(name)}.", f"It takes {names}.")


def read_given(given: Given, text: str) -> Figure:
    """What was typed for a figure; BadInput for text, a wrong unit or a figure outside its limits."""
    if given.choices:
        return _chosen(given, text)
    units = (given.unit, given.also.unit) if given.also else (given.unit,)
    value, unit = read_figure(text, given.label, units, whole=given.whole)
    if given.whole and value != int(value):
        raise BadInput(f"{given.label} {quoted(text)} is not a whole number.", f"Give {given.limits()}.")
    limits = given.also if given.also and unit == given.also.unit else given
    if not limits.least <= value <= limits.most:
        why = _why_not(value, limits.least)
        raise BadInput(f"{given.label} {quoted(text)} {why}.", f"Give {given.limits()}.")
    return Figure(value, unit)


def _chosen(given: Given, text: str) -> Figure:
    typed = text.strip().casefold()
    for choice in given.choices:
        if choice.casefold() == typed:
            return Figure(0.0, "", choice)
    raise BadInput(f"{given.label} {quoted(text)} is not one of its choices.", f"Give {given.limits()}.")


def _why_not(value: float, least: float) -> str:
    if least >= 0 and value < 0:
        return "is negative"
    if value == 0:
        return "is nothing"
    return "is too small" if value < least else "is too large"
