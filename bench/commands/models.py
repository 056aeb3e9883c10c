"""Models: the shop's page of each, and its exchange with other shops."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk

NAMED = "Give a unit's tag, or --name with the model's name."


def model(
    ctx: typer.Context,
    tag: Annotated[str | None, typer.Argument(metavar="TAG", help="A unit of the model.")] = None,
    name: Annotated[str, typer.Option(metavar="MODEL", help="The model, where no unit is here.")] = "",
    maker: Annotated[str, typer.Option(metavar="MAKER", help="Its maker.")] = "",
    step: Annotated[str, typer.Option(metavar="TEXT", help="Add a step of taking it apart.")] = "",
    screw: Annotated[str, typer.Option(metavar="PLACE", help="Add screws at this place.")] = "",
    count: Annotated[str, typer.Option(metavar="NUMBER", help="How many screws.")] = "",
    size: Annotated[str, typer.Option(metavar="TEXT", help="Their size, such as M2 x 4.")] = "",
    torque: Annotated[str, typer.Option(metavar="TORQUE", help="Such as 0.2 Nm, if known.")] = "",
    battery: Annotated[str | None, typer.Option(metavar="TEXT", help="The battery it takes.")] = None,
    drives: Annotated[str | None, typer.Option(metavar="TEXT", help="The drives it takes.")] = None,
    memory: Annotated[str | None, typer.Option(metavar="TEXT", help="The memory it takes.")] = None,
    traps: Annotated[str | None, typer.Option(metavar="TEXT", help="What goes wrong easily.")] = None,
    note: Annotated[str | None, typer.Option(metavar="TEXT", help="Anything else.")] = None,
    share: Annotated[Path | None, typer.Option(metavar="FILE", help="Write its page to a new file.")] = None,
    take: Annotated[str, typer.Option(metavar="FILE", help="Take over a page shared so.")] = "",
    instead: Annotated[bool, typer.Option("--instead", help="In place of the shop's own.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show the shop's page of a model, write on it, or share it.

    Without a TAG and a name, every model.
    """
    if take:
        _take(desk_for(ctx, acts=True), take, instead=instead)
        return
    written = {
        field: text
        for field, text in (
            ("battery", battery),
            ("drives", drives),
            ("memory", memory),
            ("traps", traps),
            ("note", note),
        )
        if text is not None
    }
    adds = bool(step or screw or written)
    if tag is not None and name:
        raise BadInput("A tag and a name were both given.", NAMED)
    if tag is None and not name:
        if adds or share:
            raise BadInput("Which model is meant?", NAMED)
        _say_models(desk_for(ctx), as_json)
        return
    desk = desk_for(ctx, acts=adds)
    of = (maker, name) if tag is None else _model_of(desk, tag)
    if written:
        from bench.work.model_pages import edit_model_page

        edit_model_page(desk, *of, **written)
    if step:
        from bench.work.model_pages import add_model_step

        add_model_step(desk, *of, words=step)
    if screw:
        from bench.work.model_pages import add_model_screw

        add_model_screw(desk, *of, place=screw, size=size, count_text=count, torque_text=torque)
    _say_page(desk, of, share, as_json)


def _model_of(desk: Desk, tag: str) -> tuple[str, str]:
    from bench.views.model_page import model_of
    from bench.views.particulars import unit_by_tag

    found = model_of(desk, unit_by_tag(desk, tag))
    return found.maker, found.model


def _say_models(desk: Desk, as_json: bool) -> None:
    from bench.reports.model_page import models_json, models_text
    from bench.views.model_page import read_models

    models = read_models(desk)
    say_sheet(models_json(models) if as_json else models_text(models))


def _say_page(desk: Desk, of: tuple[str, str], share: Path | None, as_json: bool) -> None:
    from bench.reports.model_page import model_page_json, model_page_text
    from bench.views.model_page import read_model_page

    page = read_model_page(desk, *of)
    if share is None:
        say_sheet(model_page_json(page) if as_json else model_page_text(page))
        return
    from bench.domain.model_sharing import shared_text
    from bench.reports.saving import save_new

    if not page.written:
        raise BadInput(f"Nothing is written on the page of {page.name}.", "Write on it first.")
    say(f"Shared as {save_new(shared_text(page), share)}; it tells nothing of units, people or money.")


def _take(desk: Desk, path: str, *, instead: bool) -> None:
    from bench.work.model_pages import take_shared_page

    say(f"Took over the page of {take_shared_page(desk, path, instead=instead)}.")
