"""The quote of a repair: its lines, given and answered, on paper; and on which terms the shop repairs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_or_save
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk

Text = str | None


def quote(
    ctx: typer.Context,
    tag: Annotated[
        str | None, typer.Argument(metavar="TAG", help="The owner's machine; without it, the shop's terms.")
    ] = None,
    line: Annotated[Text, typer.Option(metavar="TEXT", help="One more line: what it is for.")] = None,
    kind: Annotated[
        str, typer.Option(metavar="KIND", help="One of: parts, labour, other, allowance.")
    ] = "parts",
    number: Annotated[str, typer.Option(metavar="NUMBER", help="Pieces, or hours of labour; else 1.")] = "",
    price: Annotated[
        str, typer.Option(metavar="AMOUNT", help="Of one, without tax; of labour else the hourly rate.")
    ] = "",
    tax: Annotated[str, typer.Option(metavar="PERCENT", help="Its tax rate; else the shop's own.")] = "",
    remove: Annotated[
        int | None, typer.Option(metavar="LINE", help="Take the line of this number out.")
    ] = None,
    give: Annotated[bool, typer.Option("--give", help="Note that the quote was given.")] = False,
    until: Annotated[str, typer.Option(metavar="DAY", help="Until when it holds.")] = "",
    warranty: Annotated[str, typer.Option(metavar="DAYS", help="Warranty on the repair.")] = "",
    accepted: Annotated[bool, typer.Option("--accepted", help="The owner accepted it.")] = False,
    declined: Annotated[bool, typer.Option("--declined", help="The owner declined it.")] = False,
    on: Annotated[str, typer.Option(metavar="DAY", help="On which day, else today.")] = "",
    how: Annotated[str, typer.Option(metavar="TEXT", help="How: in person, by phone, in writing.")] = "",
    paper: Annotated[
        str, typer.Option(metavar="PAPER", help="Show quote, bill or hand-back as a paper.")
    ] = "",
    to: Annotated[
        str, typer.Option(metavar="FILE", help="Write the paper: .txt, .html, .pdf or .json.")
    ] = "",
    valid: Annotated[str, typer.Option(metavar="DAYS", help="Terms: how long a quote holds.")] = "",
    uncollected: Annotated[
        str, typer.Option(metavar="DAYS", help="Terms: ready so long, a machine is uncollected; 0 never.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Show or change the quote of a repair, or print its papers.

    Without a TAG, the terms on which the shop repairs: --tax, --valid,
    --warranty, --uncollected.
    """
    from bench.domain.repair_jobs import ACCEPTED, DECLINED

    if tag is None:
        _terms(ctx, tax, valid, warranty, uncollected, as_json)
        return
    if sum((line is not None, remove is not None, give, accepted, declined, bool(paper or to))) > 1:
        raise BadInput("Only one thing can be done at a time.", "Give one of the options.")
    acts = line is not None or remove is not None or give or accepted or declined
    desk = desk_for(ctx, acts=acts)
    unit_id, job_id = _job(desk, tag)
    if not acts:
        _paper(desk, unit_id, paper or "quote", to, as_json)
        return
    from bench.work.quotes import add_line, answer_quote, give_quote, remove_line

    if line is not None:
        quoted = add_line(
            desk, job_id, what=line, kind=kind, quantity_text=number, price_text=price, tax_text=tax
        )
    elif remove is not None:
        _is_its_line(desk, unit_id, remove)
        quoted = remove_line(desk, remove)
    elif give:
        quoted = give_quote(desk, job_id, on_text=on, until_text=until, warranty_text=warranty)
    else:
        quoted = answer_quote(desk, job_id, answer=ACCEPTED if accepted else DECLINED, on_text=on, how=how)
    if as_json:
        say_json(desk, "quoted", quoted)
        return
    from bench.commands.repair_jobs import say_job

    say_job(desk, unit_id, as_json=False)


def _job(desk: Desk, tag: str) -> tuple[int, int]:
    from bench.views.particulars import unit_by_tag
    from bench.views.repair_jobs import the_job

    unit_id = unit_by_tag(desk, tag)
    return unit_id, the_job(desk, unit_id).job.job_id


def _is_its_line(desk: Desk, unit_id: int, line_id: int) -> None:
    from bench.views.repair_jobs import the_job

    if line_id not in {one.line_id for one in the_job(desk, unit_id).lines}:
        raise BadInput(f"The quote has no line {line_id}.", "`bench job TAG` shows their numbers.")


def _paper(desk: Desk, unit_id: int, paper: str, to: str, as_json: bool) -> None:
    from bench.reports.forms import repair_forms
    from bench.views.repair_papers import PAPERS, read_repair_paper

    name = paper.replace("-", "_")
    if name not in PAPERS:
        raise BadInput(f"There is no paper {paper}.", "Give quote, bill or hand-back.")
    say_or_save(read_repair_paper(desk, unit_id, name), repair_forms(), to, as_json=as_json)


def _terms(ctx: typer.Context, tax: str, valid: str, warranty: str, uncollected: str, as_json: bool) -> None:
    from bench.domain.percent import show_percent
    from bench.views.trade import read_trade
    from bench.work.repair_terms import edit_repair_terms

    changes = any((tax, valid, warranty, uncollected))
    desk = desk_for(ctx, acts=changes)
    found = read_trade(desk)
    if changes:
        edit_repair_terms(
            desk,
            tax_text=tax or show_percent(found.repair_tax_per_10000),
            quote_days_text=valid or str(found.quote_days),
            warranty_text=warranty or str(found.repair_warranty_days),
            uncollected_text=uncollected or str(found.uncollected_days),
        )
        found = read_trade(desk)
    if as_json:
        say_json(desk, "trade", found)
        return
    say(f"Tax on repairs  {show_percent(found.repair_tax_per_10000)}")
    say(f"Quote valid     {found.quote_days} days")
    say(f"Warranty        {found.repair_warranty_days} days")
    say(
        f"Uncollected     after {found.uncollected_days} days"
        if found.uncollected_days
        else "Uncollected     never"
    )
