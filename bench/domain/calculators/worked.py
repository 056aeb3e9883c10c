"""Working a calculator: what was typed becomes a sheet of answers for screen, command and a unit's note."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bench.domain.calculators.shape import Answer, Calculator, Figure, Figures, Sum, read_given
from bench.errors import BadInput


@dataclass(frozen=True, slots=True)
class Part:
    """One sum's answers; where there are none, `lacks` names what it waits for or `wrong` says why not."""

    title: str
    answers: tuple[Answer, ...] = ()
    lacks: tuple[str, ...] = ()
    wrong: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A calculator worked with what was typed. `wrong`: the sentence for each figure that cannot be used."""

    calculator: Calculator
    figures: Mapping[str, Figure]
    wrong: Mapping[str, str]
    parts: tuple[Part, ...]

    @property
    def answers(self) -> tuple[Answer, ...]:
        """All answers, in order."""
        return tuple(answer for part in self.parts for answer in part.answers)

    def note(self) -> str:
        """The results worth keeping, as one line for a unit's note; BadInput while there are none."""
        noted = [f"{answer.label} {answer.shown()}" for answer in self.answers if answer.noted]
        if not noted:
            raise BadInput(f"{self.calculator.title} has no result yet.", "Give the figures it needs first.")
        return f"{self.calculator.title}: {'; '.join(noted)}"


def work(calculator: Calculator, typed: Mapping[str, str]) -> Sheet:
    """The sheet for what was typed by name, defaults for the rest; BadInput for an unknown name."""
    for name in typed:
        calculator.given(name)
    figures: dict[str, Figure] = {}
    wrong: dict[str, str] = {}
    for given in calculator.givens:
        text = typed.get(given.name, given.default)
        if not text.strip():
            continue
        try:
            figures[given.name] = read_given(given, text)
        except BadInput as error:
            wrong[given.name] = str(error)
    parts = tuple(_part(calculator, one, Figures(figures)) for one in calculator.sums)
    return Sheet(calculator, figures, wrong, parts)


def require(sheet: Sheet) -> Sheet:
    """The same sheet, if every figure could be used and at least one sum was worked; BadInput otherwise."""
    for sentence in sheet.wrong.values():
        raise BadInput(sentence)
    for part in sheet.parts:
        if part.wrong:
            raise BadInput(part.wrong)
    if not sheet.answers:
        first = sheet.calculator.sums[0]
        lacking = [name for name in first.needs if name not in sheet.figures]
        names = ", ".join(f"{sheet.calculator.given(name).label} ({name}=)" for name in lacking)
        raise BadInput(f"{sheet.calculator.title} needs more to work with.", f"Give {names}.")
    return sheet


def _part(calculator: Calculator, one: Sum, figures: Figures) -> Part:
    lacks = tuple(calculator.given(name).label for name in one.needs if name not in figures)
    if lacks:
        return Part(one.title, lacks=lacks)
    try:
        return Part(one.title, one.work(figures))
    except BadInput as error:
        return Part(one.title, wrong=str(error))
