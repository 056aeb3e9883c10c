"""Timers and tasks: start, stop, done, skip, and what was forgotten."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag, TaskName
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json
from bench.domain.text import task_on
from bench.errors import BadInput, NotFound

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.views.unit import UnitSheet
    from bench.work.timers import Finished, Started


def start(
    ctx: typer.Context,
    tag: Tag,
    task: TaskName = None,
    anyway: Annotated[
        str, typer.Option(metavar="REASON", help="Why it goes on without a part it waits for.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Start a unit's next task, or the one named."""
    from bench.work.timers import start_task

    desk = desk_for(ctx, acts=True)
    sheet = _sheet(desk, tag)
    started = start_task(desk, _named_or_next(desk, sheet, task), anyway=anyway)
    _say_started(desk, started, as_json=as_json)


def stop(
    ctx: typer.Context,
    tag: Annotated[
        str | None,
        typer.Argument(metavar="TAG", help="A unit, to stop what runs on it; else your own timer."),
    ] = None,
    task: TaskName = None,
    as_json: AsJson = False,
) -> None:
    """Stop your timer, or what runs on a unit."""
    from bench.work.timers import stop_entry, stop_person

    desk = desk_for(ctx, acts=True)
    stopped = stop_person(desk) if tag is None else stop_entry(desk, _running(desk, _sheet(desk, tag), task))
    if as_json:
        say_json(desk, "stopped", stopped)
        return
    from bench.domain.durations import hours_and_minutes

    say(f"Stopped {task_on(stopped.task, stopped.tag)} after {hours_and_minutes(stopped.length_us)}.")
    if stopped.clock_note:
        say(stopped.clock_note, style=CAUTION)


def resume(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Go on with what you were at before."""
    from bench.views.interrupted import read_before
    from bench.work.timers import start_task

    desk = desk_for(ctx, acts=True)
    _say_started(desk, start_task(desk, read_before(desk).task_id), as_json=as_json)


def done(
    ctx: typer.Context,
    tag: Tag,
    task: TaskName = None,
    use: Annotated[
        list[str] | None,
        typer.Option(
            "--used",
            metavar="NAME=AMOUNT",
            help='Consumables it used up, such as "isopropyl=5 ml"; 0 for none.',
        ),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Finish a task: stop its timer and issue what it took."""
    from bench.work.timers import finish_task

    desk = desk_for(ctx, acts=True)
    sheet = _sheet(desk, tag)
    task_id = _named_or_running(sheet, task)
    uses = _uses(desk, sheet, task_id, use) if use else None
    finished = finish_task(desk, task_id, uses=uses)
    if as_json:
        say_json(desk, "done", finished)
    else:
        _say_finished(finished)


def skip(
    ctx: typer.Context,
    tag: Tag,
    task: Annotated[
        str, typer.Argument(metavar="TASK", help="The task: its number, name or how that begins.")
    ],
    reason: Annotated[str, typer.Argument(metavar="REASON", help="Why it is left out.")],
) -> None:
    """Leave a task out, with the reason."""
    from bench.commands.named import task_named
    from bench.work.timers import skip_task

    desk = desk_for(ctx, acts=True)
    line = task_named(_sheet(desk, tag), task)
    skip_task(desk, line.task_id, reason)
    say(f"Skipped {line.name}.")


def say_caution(desk: Desk, unit_id: int) -> None:
    """The one caution that matters on the unit now, unless that is only that its cover is on."""
    from bench.domain.safety import CAUTION_COVER_ON
    from bench.views.safety import read_safety

    caution = read_safety(desk, unit_id).caution
    if caution != CAUTION_COVER_ON:
        say(caution, style=CAUTION)


def _sheet(desk: Desk, tag: str) -> UnitSheet:
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit

    return read_unit(desk, unit_by_tag(desk, tag))


def _named_or_next(desk: Desk, sheet: UnitSheet, task: str | None) -> int:
    if task is not None:
        from bench.commands.named import task_named

        return task_named(sheet, task).task_id
    from bench.views.queue import read_queue

    row = read_queue(desk).row(sheet.unit_id)
    if row is None or row.next_task_id is None:
        raise NotFound(f"Unit {sheet.tag} has no task left at this stage.", "Move it on, or name a task.")
    return row.next_task_id


def _named_or_running(sheet: UnitSheet, task: str | None) -> int:
    if task is not None:
        from bench.commands.named import task_named

        return task_named(sheet, task).task_id
    running = [line for line in sheet.tasks if line.running]
    if len(running) == 1:
        return running[0].task_id
    if running:
        names = ", ".join(line.name for line in running)
        raise BadInput(f"Several tasks run on unit {sheet.tag}: {names}.", "Name one.")
    raise NotFound(f"No task runs on unit {sheet.tag}.", "Name the task that is done.")


def _running(desk: Desk, sheet: UnitSheet, task: str | None) -> int:
    from bench.commands.named import task_named

    lines = sheet.tasks if task is None else (task_named(sheet, task),)
    entries = [entry for line in lines for entry in line.running]
    mine = [entry for entry in entries if entry.person_id == desk.person_id] or entries
    if not mine:
        raise NotFound(f"Nothing runs on unit {sheet.tag}.", "`bench queue` shows what runs.")
    if len(mine) > 1:
        names = ", ".join(f"{entry.task} ({entry.person})" for entry in mine)
        raise BadInput(f"Several timers run on unit {sheet.tag}: {names}.", "Name the task, or use --person.")
    return mine[0].entry_id


def _uses(desk: Desk, sheet: UnitSheet, task_id: int, typed: list[str]) -> dict[int, int]:
    """What the route says, with what was typed in its place."""
    from bench.commands.named import the_one
    from bench.domain.quantities import read_quantity
    from bench.domain.text import quoted
    from bench.views.stock import read_stock

    line = next(line for line in sheet.tasks if line.task_id == task_id)
    uses = {one.consumable_id: one.quantity for one in line.uses}
    lines = read_stock(desk).lines
    for part in typed:
        name, equals, amount = part.rpartition("=")
        if not equals:
            raise BadInput(f"{quoted(part)} is not an amount used.", 'Write it as "isopropyl=5 ml".')
        found = the_one(name, lines, lambda one: one.name, "consumable")
        uses[found.consumable_id] = read_quantity(amount, found.base_unit, allow_zero=True)
    return uses


def _say_finished(finished: Finished) -> None:
    from bench.domain.quantities import show_quantity

    say(f"Done: {task_on(finished.task, finished.tag)}.")
    for one in finished.issued:
        low = " LOW: restock it." if one.low else ""
        say(
            f"  took {show_quantity(one.quantity, one.base_unit)} {one.name}, "
            f"{show_quantity(one.left, one.base_unit)} left.{low}"
        )
    if finished.stage_clear:
        say(f"Nothing is left to do at this stage: bench move {finished.tag}")


def _say_started(desk: Desk, started: Started, *, as_json: bool) -> None:
    if as_json:
        say_json(desk, "started", started)
        return
    from bench.domain.localtime import clock_time
    from bench.views.shop import read_shop

    for stopped in started.stopped:
        say(f"Stopped {stopped}.")
    kind = "" if started.attended else " (machine time)"
    at = clock_time(started.at_us, read_shop(desk).zone)
    say(f"Started {task_on(started.task, started.tag)} at {at}{kind}.")
    say_caution(desk, started.unit_id)
