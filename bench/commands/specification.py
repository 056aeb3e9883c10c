"""What a unit is made of: shown, or typed where no stick is used."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput


def specification(
    ctx: typer.Context,
    tag: Tag,
    fields: Annotated[
        list[str] | None,
        typer.Argument(metavar="FIELD=VALUE", help='Such as memory="16 GB"; a wrong field lists them.'),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Show what a unit is made of, or type it."""
    from bench.views.particulars import unit_by_tag

    if fields:
        from bench.reports.specification import change_lines
        from bench.work.specification import set_specification

        desk = desk_for(ctx, acts=True)
        typed = dict(_pair(field) for field in fields)
        kept = set_specification(desk, unit_by_tag(desk, tag), typed)
        if as_json:
            say_json(desk, "specification_kept", kept)
            return
        say(f"Kept the specification of {kept.tag}:")
        for line in change_lines(kept.changes):
            say_sheet(line)
        return
    from bench.reports.specification import specification_json, specification_text
    from bench.views.specification import read_specification

    desk = desk_for(ctx)
    sheet = read_specification(desk, unit_by_tag(desk, tag))
    say_sheet(specification_json(sheet) if as_json else specification_text(sheet))


def _pair(field: str) -> tuple[str, str]:
    name, equals, value = field.partition("=")
    if not equals:
        from bench.domain.text import quoted

        raise BadInput(f"{quoted(field)} has no = in it.", "Write each field as name=value.")
    return name.strip(), value
