"""Units: the queue, one unit's sheet, adding, moving, holding; and whose they are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands import completing
from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json, say_sheet
from bench.errors import BadInput, NotFound

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.work.moves import OpenTasks


def queue(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Show the queue: units by stage, what comes next, what runs."""
    from bench.reports.queue_sheet import queue_json, queue_text
    from bench.views.queue import read_queue

    view = read_queue(desk_for(ctx))
    say_sheet(queue_json(view) if as_json else queue_text(view))


def unit(ctx: typer.Context, tag: Tag, as_json: AsJson = False) -> None:
    """Show one unit: its tasks, times, consumables and lists."""
    from bench.reports.unit_sheet import unit_json, unit_text
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit

    desk = desk_for(ctx)
    sheet = read_unit(desk, unit_by_tag(desk, tag))
    say_sheet(unit_json(sheet) if as_json else unit_text(sheet))


def add(
    ctx: typer.Context,
    model: Annotated[str, typer.Argument(metavar="MODEL", help="What it is, as on its underside.")],
    maker: Annotated[str, typer.Option(metavar="NAME", help="Who made it.")] = "",
    serial: Annotated[str, typer.Option(metavar="TEXT", help="Its serial number.")] = "",
    route: Annotated[str, typer.Option(metavar="NAME", help="The route whose tasks it gets.")] = "",
    tag: Annotated[str, typer.Option(metavar="TAG", help="A tag of your own; else the next number.")] = "",
    price: Annotated[str, typer.Option(metavar="AMOUNT", help="What was paid for it.")] = "",
    due: Annotated[str, typer.Option(metavar="DAY", help="When it must be ready: 2026-11-30 or +14.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT", help="Anything else.")] = "",
    owner: Annotated[
        str, typer.Option(metavar="NAME", help="Whose it is, brought in for repair and not bought.")
    ] = "",
    contact: Annotated[str, typer.Option(metavar="TEXT", help="How to reach its owner.")] = "",
    again: Annotated[str, typer.Option(metavar="REASON", help="Why, if it seems to be here already.")] = "",
    as_json: AsJson = False,
) -> None:
    """Put a unit into the queue and give it a tag."""
    from bench.domain.party import PartyTyped
    from bench.work.units import add_unit

    desk = desk_for(ctx, acts=True)
    added = add_unit(
        desk,
        maker=maker,
        model=model,
        serial=serial,
        route_id=_route(desk, route) if route else None,
        note=note,
        due_text=due,
        price_text=price,
        tag_text=tag,
        owner=PartyTyped(owner, "", contact) if owner or contact else None,
        again=again,
    )
    if as_json:
        say_json(desk, "added", added)
    else:
        say(f"Added {model} as {added.tag} with {added.tasks} task{'' if added.tasks == 1 else 's'}.")


def move(
    ctx: typer.Context,
    tag: Tag,
    stage: Annotated[
        str | None,
        typer.Argument(
            metavar="STAGE",
            help="Where to; without it, the next stage.",
            autocompletion=completing.stages,
        ),
    ] = None,
    back: Annotated[bool, typer.Option("--back", help="Back one stage.")] = False,
    open_tasks: Annotated[
        str, typer.Option(metavar="done|skip", help="What becomes of unfinished tasks on the way.")
    ] = "ask",
    keep_done: Annotated[
        bool, typer.Option("--keep-done", help="Back: leave done tasks done; else they are to do again.")
    ] = False,
    reason: Annotated[str, typer.Option(metavar="TEXT", help="Why tasks are skipped.")] = "",
    as_json: AsJson = False,
) -> None:
    """Move a unit on to the next stage, or to any other."""
    from bench.views.particulars import unit_by_tag
    from bench.work.moves import move_unit

    desk = desk_for(ctx, acts=True)
    unit_id = unit_by_tag(desk, tag)
    to_stage = _target(desk, unit_id, stage, back=back)
    moved = move_unit(
        desk,
        unit_id,
        to_stage,
        open_tasks=open_tasks_from(open_tasks),
        done_tasks="keep" if keep_done else "reopen",
        reason=reason,
    )
    if as_json:
        say_json(desk, "moved", moved)
        return
    say(f"Moved {moved.tag} from {moved.from_stage} to {moved.to_stage}.")
    if moved.finished or moved.skipped:
        say(f"Marked done: {moved.finished}. Skipped: {moved.skipped}.")
    if moved.reopened:
        say(f"To do again: {moved.reopened}.")
    for name in moved.low:
        say(f"{name} is LOW: restock it.", style=CAUTION)


def hold(
    ctx: typer.Context,
    tag: Tag,
    reason: Annotated[str, typer.Argument(metavar="REASON", help="Why, such as a part on order.")],
) -> None:
    """Set a unit aside where it is, with a reason."""
    from bench.views.particulars import unit_by_tag
    from bench.work.moves import hold_unit

    desk = desk_for(ctx, acts=True)
    hold_unit(desk, unit_by_tag(desk, tag), reason)
    say(f"{tag.strip()} is on hold.")


def release(ctx: typer.Context, tag: Tag) -> None:
    """Let a unit on hold go on."""
    from bench.views.particulars import unit_by_tag
    from bench.work.moves import release_unit

    desk = desk_for(ctx, acts=True)
    release_unit(desk, unit_by_tag(desk, tag))
    say(f"Released {tag.strip()}.")


def _route(desk: Desk, text: str) -> int:
    from bench.commands.named import the_one
    from bench.views.routes import read_routes

    return the_one(text, read_routes(desk), lambda line: line.name, "route").route_id


def _target(desk: Desk, unit_id: int, stage: str | None, *, back: bool) -> int:
    if stage is not None and back:
        raise BadInput("A stage and --back were both given.", "Give one of them.")
    if stage is not None:
        from bench.commands.named import the_one
        from bench.views.shop import read_stages

        return the_one(stage, read_stages(desk), lambda line: line.name, "stage").stage_id
    from bench.views.tasks import next_stage_of, previous_stage_of

    target = previous_stage_of(desk, unit_id) if back else next_stage_of(desk, unit_id)
    if target is None:
        where = "first" if back else "last"
        raise NotFound(f"The unit is at the {where} stage already.", "Name the stage to move it to.")
    return target


def open_tasks_from(text: str) -> OpenTasks:
    """What is to become of unfinished tasks, from --open-tasks."""
    if text == "done":
        return "done"
    if text == "skip":
        return "skip"
    if text == "ask":
        return "ask"
    raise BadInput(f"--open-tasks {text} is not understood.", "Give done or skip.")


def owner(
    ctx: typer.Context,
    tag: Tag,
    name: Annotated[str, typer.Argument(metavar="NAME", help="Whose it is; without it, shown.")] = "",
    contact: Annotated[str, typer.Option(metavar="TEXT", help="How to reach its owner.")] = "",
    shops: Annotated[bool, typer.Option("--shops", help="It is the shop's own, and nobody else's.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show or correct whose a unit is that was brought in."""
    from bench.domain.party import PartyTyped, Whose
    from bench.views.particulars import unit_by_tag
    from bench.views.unit import read_unit
    from bench.work.parties import set_owner

    if shops and (name or contact):
        raise BadInput("An owner and --shops were both given.", "Give one of them.")
    acts = bool(shops or name or contact)
    desk = desk_for(ctx, acts=acts)
    unit_id = unit_by_tag(desk, tag)
    if acts:
        set_owner(desk, unit_id, PartyTyped(name, "", contact))
    sheet = read_unit(desk, unit_id)
    if as_json:
        say_json(desk, "owner", Whose(unit_id, sheet.tag, sheet.owner, sheet.owner_contact))
        return
    known = ", ".join(word for word in (sheet.owner, sheet.owner_contact) if word)
    whose = known or "the shop's own"
    say(f"{sheet.tag}: {whose}")
