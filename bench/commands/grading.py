"""Grades, and the buyer's sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_or_save, say_sheet
from bench.domain.grading import FUNCTION, LOOKS, PARTS

if TYPE_CHECKING:
    from bench.desk import Desk


def grade(
    ctx: typer.Context,
    tag: Annotated[
        str | None, typer.Argument(metavar="[TAG]", help="The unit's tag; without it, the shop's scale.")
    ] = None,
    part: Annotated[
        str | None, typer.Argument(metavar="PART", help=f"{', '.join(PARTS)}.".capitalize())
    ] = None,
    function: Annotated[str, typer.Option(metavar="STEP", help="How it works, a step of the scale.")] = "",
    looks: Annotated[str, typer.Option(metavar="STEP", help="How it looks, a step of the scale.")] = "",
    sentence: Annotated[
        str, typer.Option("--say", metavar="TEXT", help="What a buyer will find, in a plain sentence.")
    ] = "",
    untested: Annotated[bool, typer.Option("--untested", help="It was not tested.")] = False,
    clear: Annotated[bool, typer.Option("--clear", help="Say nothing of the part any more.")] = False,
    as_json: AsJson = False,
) -> None:
    """Grade a unit's parts, or show the grades."""
    from bench.reports.condition_sheet import grades_json, grades_text
    from bench.views.grades import read_grades
    from bench.views.particulars import unit_by_tag
    from bench.views.tables.buyer_sheet import function_words, looks_words
    from bench.work.grades import remove_grade, set_grade

    desk = desk_for(ctx, acts=part is not None)
    if tag is None:
        _say_scale(desk, as_json=as_json)
        return
    unit_id = unit_by_tag(desk, tag)
    if part is None:
        sheet = read_grades(desk, unit_id)
        say_sheet(grades_json(sheet) if as_json else grades_text(sheet))
        return
    code = part.strip().casefold()
    if clear:
        remove_grade(desk, unit_id, code)
        say(f"Nothing is said of {code} any more.")
        return
    line = set_grade(
        desk,
        unit_id,
        code,
        function_step_id=_step(desk, FUNCTION, function),
        looks_step_id=_step(desk, LOOKS, looks),
        sentence=sentence,
        tested=not untested,
    )
    if as_json:
        say_json(desk, "grade", line)
    else:
        said = f"function {function_words(line)}, looks {looks_words(line)}"
        say(f"{line.label}: {said}. {line.sentence}".rstrip())


def sheet(
    ctx: typer.Context,
    tag: Tag,
    to: Annotated[
        str, typer.Option(metavar="FILE", help="Write it: a name that ends in .txt, .html or .json.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Print the buyer's sheet of a unit."""
    from bench.reports.forms import buyer_sheet_forms
    from bench.views.buyer_sheet import read_buyer_sheet
    from bench.views.particulars import unit_by_tag

    desk = desk_for(ctx)
    made = read_buyer_sheet(desk, unit_by_tag(desk, tag))
    say_or_save(made, buyer_sheet_forms(), to, as_json=as_json)


def _say_scale(desk: Desk, *, as_json: bool) -> None:
    from bench.reports.condition_sheet import scale_text
    from bench.views.grades import read_scale

    scale = read_scale(desk)
    if as_json:
        say_json(desk, "scale", scale)
    else:
        say_sheet(scale_text(scale))


def _step(desk: Desk, side: str, text: str) -> int | None:
    if not text:
        return None
    from bench.commands.named import the_one
    from bench.views.grades import read_scale

    steps = [step for step in read_scale(desk) if step.side == side]
    return the_one(text, steps, lambda step: step.name, f"step for {side}").step_id
