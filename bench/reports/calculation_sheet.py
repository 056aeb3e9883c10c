"""A calculator's sheet as text and JSON: what was given, the answers, how and from what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bench.domain.calculators.shape import Answer, Calculator, Figure, Given
from bench.domain.calculators.worked import Part, Sheet
from bench.reports.plain_tables import sections, table, under, wrapped
from bench.reports.plain_values import Facts, json_text


def calculation_text(sheet: Sheet) -> str:
    """The answers in plain text. Cautions are `caution_lines`, for whoever prints them to make stand out."""
    calculator = sheet.calculator
    return sections(
        wrapped(f"{calculator.title}: {calculator.line}"),
        under("Given", "\n".join(_given_lines(sheet))),
        *(under(part.title, _part(part)) for part in sheet.parts),
        _explained(calculator),
    )


def caution_lines(calculator: Calculator) -> tuple[str, ...]:
    """The calculator's cautions, a paragraph each."""
    return tuple(wrapped(f"Caution: {caution}", indent=2) for caution in calculator.cautions)


def about_text(calculator: Calculator) -> str:
    """What a calculator takes, in which units and limits, and what it is based on."""
    takes = "\n".join(wrapped(_taken(given), start=2, indent=4) for given in calculator.givens)
    return sections(
        wrapped(f"{calculator.title}: {calculator.line}"), under("Inputs", takes), _explained(calculator)
    )


def list_text(calculators: Sequence[Calculator]) -> str:
    """Every calculator and what it answers."""
    rows = [(one.name, one.line) for one in calculators]
    return sections(table(("name", "answers"), rows, words=(0, 1)))


def calculation_json(sheet: Sheet, put: Facts | None = None) -> str:
    """The sheet as a JSON document: figures in the unit named beside them, unrounded.

    `put`: the unit and the line of its note on which the result was put.
    """
    facts = _about(sheet.calculator)
    facts["given"] = [
        _given_facts(given, sheet.figures[given.name])
        for given in sheet.calculator.givens
        if given.name in sheet.figures
    ]
    facts["parts"] = [_part_facts(part) for part in sheet.parts]
    facts["put"] = put
    return json_text("calculation", facts)


def list_json(calculators: Iterable[Calculator]) -> str:
    """Every calculator with the figures it takes, as a JSON document."""
    return json_text(
        "calculators", {"calculators": [{**_about(one), "inputs": _inputs(one)} for one in calculators]}
    )


def _taken(given: Given) -> str:
    default = f"; if not given, {given.default}" if given.default else ""
    return f"{given.name}: {given.label}, {given.limits()}{default}"


def _given_lines(sheet: Sheet) -> Iterable[str]:
    for given in sheet.calculator.givens:
        if given.name in sheet.figures:
            figure = sheet.figures[given.name]
            yield wrapped(f"{given.label}: {_figure(figure)}", start=2, indent=4)


def _figure(figure: Figure) -> str:
    return figure.words or f"{figure.value:.12g} {figure.unit}".rstrip()


def _part(part: Part) -> str:
    if part.wrong:
        return wrapped(part.wrong, start=2, indent=4)
    if part.lacks:
        return wrapped(f"waits for: {', '.join(part.lacks)}", start=2, indent=4)
    return "\n".join(wrapped(_answer(answer), start=2, indent=4) for answer in part.answers)


def _answer(answer: Answer) -> str:
    mark = "! " if answer.alert else ""
    return f"{mark}{answer.label}: {answer.shown()}" + (f" ({answer.based_on})" if answer.based_on else "")


def _explained(calculator: Calculator) -> str:
    formulas = [wrapped(line, start=2, indent=4) for line in calculator.formulas]
    sources = [wrapped(line, start=2, indent=4) for line in calculator.sources]
    return "\n".join(("Formula", *formulas, "Source", *sources))


def _about(calculator: Calculator) -> Facts:
    return {
        "name": calculator.name,
        "title": calculator.title,
        "line": calculator.line,
        "formulas": list(calculator.formulas),
        "sources": list(calculator.sources),
        "cautions": list(calculator.cautions),
    }


def _inputs(calculator: Calculator) -> list[Facts]:
    return [
        {
            "name": given.name,
            "label": given.label,
            "unit": given.unit,
            **_limits(given),
            "default": given.default or None,
        }
        for given in calculator.givens
    ]


def _limits(given: Given) -> Facts:
    return {"choices": list(given.choices)} if given.choices else {"least": given.least, "most": given.most}


def _given_facts(given: Given, figure: Figure) -> Facts:
    return {
        "name": given.name,
        "label": given.label,
        "value": figure.words or figure.value,
        "unit": figure.unit,
    }


def _part_facts(part: Part) -> Facts:
    return {
        "title": part.title,
        "waits_for": list(part.lacks),
        "wrong": part.wrong or None,
        "answers": [
            {
                "name": answer.name,
                "label": answer.label,
                "value": answer.value,
                "unit": answer.unit,
                "shown": answer.shown(),
                "based_on": answer.based_on,
                "alert": answer.alert,
            }
            for answer in part.answers
        ],
    }
