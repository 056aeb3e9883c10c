"""Battery first: ticking a unit's lists, and a bad cell."""

from __future__ import annotations

from typing import Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json
from bench.domain.safety import AFTER_A_BAD_CELL, FINDINGS, LIST_NAMES, LISTS, OPENING
from bench.errors import BadInput
from bench.views.safety import SafetyView


def tick(
    ctx: typer.Context,
    tag: Tag,
    which: Annotated[str, typer.Argument(metavar="LIST", help="opening or closing.")],
    items: Annotated[
        list[str] | None,
        typer.Argument(metavar="ITEM", help="What was done: how its words begin, or its code."),
    ] = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Every item: you have done each of them.")
    ] = False,
    off: Annotated[bool, typer.Option("--off", help="Take these ticks off again.")] = False,
    screws: Annotated[int | None, typer.Option(metavar="N", help="Screws counted out, or back in.")] = None,
    note: Annotated[str, typer.Option(metavar="TEXT", help="Why the screws differ.")] = "",
    without: Annotated[str, typer.Option(metavar="REASON", help="Go on without the list; kept.")] = "",
    as_json: AsJson = False,
) -> None:
    """Tick a unit's opening or closing checklist, or show it."""
    from bench.commands.named import item_of, which_list
    from bench.views.particulars import unit_by_tag
    from bench.views.safety import read_safety

    chosen = which_list(which)
    codes = list(LISTS[chosen]) if everything else [item_of(chosen, item) for item in items or ()]
    if without and (codes or off):
        raise BadInput("Ticks and --without were both given.", "Give one of them.")
    desk = desk_for(ctx, acts=bool(codes or without or screws is not None))
    unit_id = unit_by_tag(desk, tag)
    if without:
        from bench.work.safety import go_on_without

        safety = go_on_without(desk, unit_id, chosen, without)
    elif codes and off:
        from bench.work.safety import untick

        safety = untick(desk, unit_id, chosen, *codes)
    elif codes or screws is not None:
        from bench.work.safety import tick as tick_items

        safety = tick_items(desk, unit_id, chosen, codes, screws=screws, note=note)
    else:
        safety = read_safety(desk, unit_id)
    if as_json:
        say_json(desk, "safety", safety)
    else:
        _say_list(safety, chosen)


def cell(
    ctx: typer.Context,
    tag: Tag,
    finding: Annotated[
        str | None, typer.Argument(metavar="FINDING", help=f"What was found: {', '.join(FINDINGS)}.")
    ] = None,
    dealt_with: Annotated[
        str,
        typer.Option("--dealt-with", metavar="REASON", help="What was done about it; opens the unit again."),
    ] = "",
) -> None:
    """Report a swollen, punctured or wet cell: work stops."""
    from bench.views.particulars import unit_by_tag
    from bench.work.safety import clear_cell, report_cell

    if (finding is None) == (not dealt_with):
        raise BadInput("Say what was found, or what was done about it.", "Give a FINDING or --dealt-with.")
    desk = desk_for(ctx, acts=True)
    unit_id = unit_by_tag(desk, tag)
    if finding is None:
        safety = clear_cell(desk, unit_id, dealt_with)
        say(f"Kept for {safety.tag}: {dealt_with}. Its opening checklist starts again.")
        return
    safety = report_cell(desk, unit_id, finding.strip().casefold())
    say(f"Unit {safety.tag} is on hold: {FINDINGS[safety.cell_finding or finding]}.", style=CAUTION)
    for line in AFTER_A_BAD_CELL:
        say(line, style=CAUTION)


def _say_list(safety: SafetyView, which: str) -> None:
    ticks = safety.opening if which == OPENING else safety.closing
    without = safety.without_opening if which == OPENING else safety.without_closing
    say(f"{LIST_NAMES[which].capitalize()} of {safety.tag} {safety.model}")
    for one in ticks:
        done = f"[x] {one.label} ({one.person})" if one.at_us is not None else f"[ ] {one.label}"
        say(f"  {done}{f': {one.note}' if one.note else ''}")
    if without is not None:
        say(f"  Going on without it: {without}")
    say(safety.caution, style=CAUTION)
