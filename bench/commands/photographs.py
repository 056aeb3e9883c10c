"""Photographs of a unit: kept, listed, told of, removed, erased."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.named import task_named, the_one
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json, say_sheet
from bench.domain.grading import PARTS
from bench.errors import BadInput, NotFound, Refused

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.photographs import PhotographErased, PhotographsKept

Number = int | None


def photo(
    ctx: typer.Context,
    tag: Tag,
    files: Annotated[
        list[Path] | None, typer.Argument(metavar="FILE", help="JPEG, PNG or WebP pictures to keep.")
    ] = None,
    caption: Annotated[str | None, typer.Option(metavar="TEXT", help="What is said under it.")] = None,
    shown: Annotated[
        bool | None, typer.Option("--shown/--not-shown", help="Whether it goes into papers.")
    ] = None,
    task: Annotated[str, typer.Option(metavar="TASK", help="The task that it shows.")] = "",
    grade: Annotated[str, typer.Option(metavar="PART", help="The graded part that it shows.")] = "",
    fault: Annotated[str, typer.Option(metavar="FAULT", help="The fault that it shows: f7.")] = "",
    model: Annotated[
        bool | None, typer.Option("--model/--no-model", help="It stands on the page of the unit's model.")
    ] = None,
    step: Annotated[
        str, typer.Option(metavar="STEP", help="The step of that page that it shows: its place or words.")
    ] = "",
    move: Annotated[bool, typer.Option("--move", help="Delete the originals once kept.")] = False,
    edit: Annotated[
        Number, typer.Option("--set", metavar="NUMBER", help="Say of this one what is given besides.")
    ] = None,
    remove: Annotated[
        Number, typer.Option(metavar="NUMBER", help="Take this one off the unit; undo brings it back.")
    ] = None,
    erase: Annotated[
        Number, typer.Option(metavar="NUMBER", help="Delete this one for good, after asking.")
    ] = None,
    yes: Annotated[bool, typer.Option("--yes", help="Erase without asking.")] = False,
    folder: Annotated[bool, typer.Option("--folder", help="Print the unit's folder of photographs.")] = False,
    as_json: AsJson = False,
) -> None:
    """Keep a unit's photographs without their place, or list them.

    They lie in a folder beside the data file. Copies of the data file do not hold them.
    """
    ways = [bool(files), edit is not None, remove is not None, erase is not None, folder]
    if sum(ways) > 1:
        raise BadInput("Only one thing can be done with photographs at once.", "Give one of them.")
    desk = desk_for(ctx, acts=any(ways[:4]))
    unit_id = _unit(desk, tag)
    about = _subject(desk, unit_id, task, grade, fault, step, model=model)
    if files:
        _keep(desk, unit_id, files, caption or "", shown=bool(shown), move=move, as_json=as_json, **about)
        return
    if edit is not None:
        _set(desk, unit_id, edit, caption, shown=shown, **about)
    elif remove is not None:
        _remove(desk, unit_id, remove)
    elif erase is not None:
        _erase(desk, unit_id, erase, sure=yes, as_json=as_json)
        return
    _list(desk, unit_id, folder=folder, as_json=as_json)


def _keep(
    desk: Desk,
    unit_id: int,
    files: list[Path],
    caption: str,
    *,
    shown: bool,
    move: bool,
    as_json: bool,
    **about: int | bool | None,
) -> None:
    from bench.work.photographs import attach_photographs

    paths = [str(one) for one in files]
    kept = attach_photographs(desk, unit_id, paths, caption=caption, shown=shown, move=move, **about)
    if as_json:
        say_json(desk, "photographs_kept", kept)
    else:
        _say_kept(kept)


def _say_kept(kept: PhotographsKept) -> None:
    from bench.domain.photographs import OUTCOMES

    for one in kept.photographs:
        say(f"{kept.tag}: {one.photograph_id} {one.name} {OUTCOMES[one.outcome]}.")
    for left in kept.left:
        say(f"The original could not be deleted: {left}.", style=CAUTION)


def _set(
    desk: Desk,
    unit_id: int,
    number: int,
    caption: str | None,
    *,
    shown: bool | None,
    **about: int | bool | None,
) -> None:
    from bench.views.photographs import read_photographs
    from bench.work.change import together
    from bench.work.photographs import point_photograph, say_of_photograph, show_photograph

    if caption is None and shown is None and not about:
        raise BadInput(
            "Nothing is said of the photograph.", "Give --caption, --shown, --not-shown, or what it shows."
        )
    read_photographs(desk, unit_id).line(number)
    with together(desk) as joint:
        if caption is not None:
            say_of_photograph(joint, number, caption)
        if shown is not None:
            show_photograph(joint, number, shown=shown)
        if about:
            point_photograph(joint, number, **about)


def _remove(desk: Desk, unit_id: int, number: int) -> None:
    from bench.views.photographs import read_photographs
    from bench.work.photographs import remove_photograph

    read_photographs(desk, unit_id).line(number)
    remove_photograph(desk, number)


def _erase(desk: Desk, unit_id: int, number: int, *, sure: bool, as_json: bool) -> None:
    from bench.views.photographs import read_on_record
    from bench.work.photograph_erasing import erase_photograph

    unit_tag, _, known = read_on_record(desk, unit_id)
    one = next((one for one in known.values() if one.photograph_id == number), None)
    if one is None:
        raise NotFound(
            f"Unit {unit_tag} has no photograph with number {number} to erase.", "Its list shows the numbers."
        )
    if not sure:
        _ask(f"{unit_tag}: {number} {one.name}")
    erased = erase_photograph(desk, number)
    if as_json:
        say_json(desk, "photograph_erased", erased)
    else:
        _say_erased(erased)


def _ask(what: str) -> None:
    """Pass where whoever sits there says so. BadInput where nobody does, Refused for any other answer."""
    if not sys.stdin.isatty():
        raise BadInput("Erasing cannot be undone, and nobody is there to ask.", "Give --yes.")
    say(f"{what}: its file and caption are deleted for good. Type erase to go on:")
    if sys.stdin.readline().strip().casefold() != "erase":
        raise Refused("Nothing was erased.")


def _say_erased(erased: PhotographErased) -> None:
    say(f"Erased photograph {erased.photograph_id} of {erased.tag}. It cannot be undone.")
    if erased.left:
        say(f"Its file could not be deleted: {erased.left}. Delete it by hand.", style=CAUTION)
    if erased.not_rewritten:
        say(
            f"Old bytes of its caption may be left in the file ({erased.not_rewritten}). "
            "Close other programs on it, then run: bench erase again",
            style=CAUTION,
        )
    if erased.copies:
        word = "copy" if erased.copies == 1 else "copies"
        say(f"{erased.copies} {word} of the data file may hold its caption; none holds the picture.")


def _list(desk: Desk, unit_id: int, *, folder: bool, as_json: bool) -> None:
    from bench.reports.photograph_list import photographs_text
    from bench.views.photographs import read_photographs

    found = read_photographs(desk, unit_id)
    if folder:
        say(found.folder)
    elif as_json:
        say_json(desk, "photographs", found)
    else:
        say_sheet(photographs_text(found))


def _unit(desk: Desk, tag: str) -> int:
    from bench.views.particulars import unit_by_tag

    return unit_by_tag(desk, tag)


def _subject(
    desk: Desk, unit_id: int, task: str, grade: str, fault: str, step: str, *, model: bool | None
) -> dict[str, int | bool | None]:
    """What the photographs show besides the unit, as far as it was said."""
    from bench.commands.faults import fault_number

    said = {
        "task_id": _task(desk, unit_id, task),
        "grade_id": _grade(desk, unit_id, grade),
        "fault_id": fault_number(fault) if fault else None,
        "model": model,
        "model_step_id": _step(desk, unit_id, step),
    }
    return {name: value for name, value in said.items() if value is not None}


def _step(desk: Desk, unit_id: int, text: str) -> int | None:
    from bench.views.model_page import read_written_page

    if not text:
        return None
    page = read_written_page(desk, unit_id)
    steps = () if page is None else page.steps
    placed = next((one.step_id for one in steps if str(one.position) == text.strip()), None)
    return placed if placed is not None else the_one(text, steps, lambda one: one.words, "step").step_id


def _task(desk: Desk, unit_id: int, text: str) -> int | None:
    from bench.views.unit import read_unit

    return task_named(read_unit(desk, unit_id), text).task_id if text else None


def _grade(desk: Desk, unit_id: int, text: str) -> int | None:
    from bench.views.grades import read_grades

    if not text:
        return None
    said = [line for line in read_grades(desk, unit_id).lines if line.grade_id is not None]
    return the_one(text, said, lambda line: PARTS[line.part], "graded part").grade_id
