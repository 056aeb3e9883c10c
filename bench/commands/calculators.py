"""The bench calculators as one command."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.printing import CAUTION, say, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.domain.calculators.shape import Calculator
    from bench.work.notes import ResultPut


def calculate(
    ctx: typer.Context,
    name: Annotated[
        str | None, typer.Argument(metavar="NAME", help="The calculator; without it, a list of them.")
    ] = None,
    figures: Annotated[
        list[str] | None,
        typer.Argument(metavar="FIGURE=VALUE", help='Such as over="5.5 mm"; without any, its inputs.'),
    ] = None,
    tag: Annotated[
        str, typer.Option("--unit", metavar="TAG", help="Put the result on this unit's note.")
    ] = "",
    task: Annotated[
        str, typer.Option("--task", metavar="TASK", help="Which of the unit's tasks it is for.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Calculate: tubing, paste, solvent air, battery and more."""
    from bench.domain.calculators.registry import CALCULATORS
    from bench.reports import calculation_sheet as document

    if name is None:
        say_sheet(document.list_json(CALCULATORS) if as_json else document.list_text(CALCULATORS))
        return
    from bench.commands.named import the_one

    calculator = the_one(name, CALCULATORS, lambda one: one.name, "calculator")
    if not figures:
        _say_about(calculator, as_json)
        return
    from bench.domain.calculators.worked import require, work

    sheet = require(work(calculator, _typed(figures)))
    put = _put_on_unit(ctx, tag, task, sheet.note()) if tag or task else None
    if as_json:
        say_sheet(document.calculation_json(sheet, {"tag": put.tag, "line": put.line} if put else None))
        return
    _say_cautions(calculator)
    say_sheet(document.calculation_text(sheet))
    if put is not None:
        say(f"Put on {put.tag}: {put.line}")


def _say_about(calculator: Calculator, as_json: bool) -> None:
    from bench.reports import calculation_sheet as document

    if as_json:
        say_sheet(document.list_json([calculator]))
        return
    _say_cautions(calculator)
    say_sheet(document.about_text(calculator))


def _typed(figures: list[str]) -> dict[str, str]:
    typed: dict[str, str] = {}
    for figure in figures:
        name, equals, value = figure.partition("=")
        if not equals:
            from bench.domain.text import quoted

            raise BadInput(f"{quoted(figure)} has no = in it.", "Write each figure as name=value.")
        typed[name.strip()] = value
    return typed


def _say_cautions(calculator: Calculator) -> None:
    from bench.reports.calculation_sheet import caution_lines

    for caution in caution_lines(calculator):
        for line in caution.splitlines():
            say(line, style=CAUTION)


def _put_on_unit(ctx: typer.Context, tag: str, task: str, words: str) -> ResultPut:
    from bench.commands.named import task_named
    from bench.commands.opening import desk_for
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit
    from bench.work.notes import put_result

    if not tag:
        raise BadInput("--task names a task but --unit is missing.", "Say which unit it belongs to.")
    desk = desk_for(ctx)
    unit_id = unit_by_tag(desk, tag)
    task_id = task_named(read_unit(desk, unit_id), task).task_id if task else None
    return put_result(desk, unit_id, task_id, words)
