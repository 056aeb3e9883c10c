"""Selling and after: the listing, the sale, the hand-over note, the return."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.channels import channel_named
from bench.commands.opening import desk_for
from bench.commands.printing import CAUTION, say, say_json, say_or_save
from bench.commands.units import open_tasks_from

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.selling import Sold


def sell(
    ctx: typer.Context,
    tag: Tag,
    price: Annotated[str, typer.Argument(metavar="PRICE", help="What it was sold for.")],
    channel: Annotated[str, typer.Option(metavar="NAME", help="Where; its fees are counted.")] = "",
    buyer: Annotated[str, typer.Option(metavar="NAME", help="Who bought it.")] = "",
    address: Annotated[str, typer.Option(metavar="TEXT", help="Where the buyer lives.")] = "",
    contact: Annotated[str, typer.Option(metavar="TEXT", help="How to reach the buyer.")] = "",
    firm: Annotated[
        bool, typer.Option("--business", help="The buyer is a business: its data are never due for erasing.")
    ] = False,
    on: Annotated[str, typer.Option(metavar="DAY", help="When, if not today: 2026-11-20.")] = "",
    shipping: Annotated[str, typer.Option(metavar="AMOUNT", help="What sending it costs the shop.")] = "",
    invoice: Annotated[str, typer.Option(metavar="TEXT", help="The invoice's number.")] = "",
    warranty: Annotated[
        str, typer.Option(metavar="DAYS", help="How long, if not as in the settings; 0 for none.")
    ] = "",
    along: Annotated[str, typer.Option("--with", metavar="TEXT", help="What goes along: charger.")] = "",
    open_tasks: Annotated[
        str, typer.Option(metavar="done|skip", help="What becomes of unfinished tasks.")
    ] = "ask",
    reason: Annotated[str, typer.Option(metavar="TEXT", help="Why tasks are skipped.")] = "",
    as_json: AsJson = False,
) -> None:
    """Sell a unit: it leaves the queue as by a move."""
    from bench.views.particulars import unit_by_tag
    from bench.work.selling import sell_unit

    desk = desk_for(ctx, acts=True)
    sold = sell_unit(
        desk,
        unit_by_tag(desk, tag),
        price_text=price,
        channel_id=_channel(desk, channel) if channel else None,
        buyer_name=buyer,
        buyer_address=address,
        buyer_contact=contact,
        private=not firm,
        sold_on_text=on,
        shipping_text=shipping,
        invoice=invoice,
        warranty_days_text=warranty,
        note=along,
        open_tasks=open_tasks_from(open_tasks),
        reason=reason,
    )
    if as_json:
        say_json(desk, "sold", sold)
    else:
        _say_sold(sold)


def handover(
    ctx: typer.Context,
    tag: Tag,
    to: Annotated[
        str, typer.Option(metavar="FILE", help="Write it: a name that ends in .txt, .html or .json.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Print the note that goes along with a sold unit."""
    from bench.reports.forms import hand_over_forms
    from bench.views.hand_over import read_hand_over
    from bench.views.particulars import unit_by_tag

    desk = desk_for(ctx)
    note = read_hand_over(desk, unit_by_tag(desk, tag))
    say_or_save(note, hand_over_forms(), to, as_json=as_json)


def take_back_unit(
    ctx: typer.Context,
    tag: Tag,
    reason: Annotated[str, typer.Argument(metavar="REASON", help="Why it came back.")],
    refund: Annotated[str, typer.Option(metavar="AMOUNT", help="What was given back; else nothing.")] = "",
    fee_back: Annotated[
        str, typer.Option(metavar="AMOUNT", help="What the channel gave back of its fee; else nothing.")
    ] = "",
    postage: Annotated[
        str, typer.Option(metavar="AMOUNT", help="What its way back cost the shop; 0 for nothing.")
    ] = "",
    ours: Annotated[
        bool | None,
        typer.Option(
            "--ours/--buyers", help="The sale is undone, or stands; else by the refund.", show_default=False
        ),
    ] = None,
    stage: Annotated[str, typer.Option(metavar="NAME", help="Where it goes; else the first stage.")] = "",
    correct: Annotated[bool, typer.Option("--correct", help="Set the last return right instead.")] = False,
    as_json: AsJson = False,
) -> None:
    """Take a sold unit back into the queue, to repair or for good."""
    from bench.domain.money import show_money
    from bench.views.particulars import unit_by_tag
    from bench.work.comebacks import correct_return, take_return

    desk = desk_for(ctx, acts=True)
    unit_id = unit_by_tag(desk, tag)
    typed = {"reason": reason, "refund_text": refund, "fee_back_text": fee_back, "postage_text": postage}
    if correct:
        back = correct_return(desk, unit_id, ours=ours, **typed)
    else:
        back = take_return(desk, unit_id, stage_id=_stage(desk, stage), ours=ours, **typed)
    if as_json:
        say_json(desk, "returned", back)
        return
    given = show_money(back.refund_minor, back.currency)
    say(f"{back.tag} is back at {back.stage}, refunded {given}. Its hours count against the sale.")
    say("The sale is undone: sell it again." if back.undoes else "The sale stands: hand it back when done.")


def shipping(
    ctx: typer.Context,
    tag: Tag,
    amount: Annotated[str, typer.Argument(metavar="AMOUNT", help="What sending it cost; 0 for nothing.")],
    through: Annotated[
        bool,
        typer.Option(
            "--through", help="TAG is a channel, empty for none: all its sales of which it is not known."
        ),
    ] = False,
) -> None:
    """Type what sending a sold unit cost, where that came later."""
    from bench.views.particulars import unit_by_tag
    from bench.work.selling import set_shipping, set_shipping_through

    desk = desk_for(ctx, acts=True)
    if not through:
        set_shipping(desk, unit_by_tag(desk, tag), amount)
        say(f"Shipping of {tag} is noted.")
        return
    count = set_shipping_through(desk, channel_named(desk, tag), amount)
    say(f"Shipping of {count} sale{'' if count == 1 else 's'} is noted.")


def leave(
    ctx: typer.Context,
    tag: Tag,
    way: Annotated[str, typer.Argument(metavar="WAY", help="One of handed-back, kept, scrapped, parts.")],
    reason: Annotated[str, typer.Argument(metavar="REASON", help="Why; open tasks are skipped with it.")],
    price: Annotated[
        str, typer.Option(metavar="AMOUNT", help="What its owner pays for the repair; 0 for nothing.")
    ] = "",
    proceeds: Annotated[str, typer.Option(metavar="AMOUNT", help="Proceeds of scrap; else nothing.")] = "",
    as_json: AsJson = False,
) -> None:
    """Let a unit leave otherwise than by a sale."""
    from bench.domain.ways_out import left_words
    from bench.views.particulars import unit_by_tag
    from bench.work.leaving import leave_unit

    desk = desk_for(ctx, acts=True)
    left = leave_unit(
        desk,
        unit_by_tag(desk, tag),
        way=way.replace("-", " "),
        reason=reason,
        price_text=price,
        proceeds_text=proceeds,
    )
    if as_json:
        say_json(desk, "left", left)
    else:
        say(left_words(left))


def _say_sold(sold: Sold) -> None:
    from bench.domain.money import show_money

    shown = {
        "fees": sold.fee_minor,
        "shipping": sold.shipping_minor or 0,
        "tax on the margin (not advice)": sold.tax_minor,
    }
    costs = ", ".join(
        f"{words} {show_money(minor, sold.currency)}" for words, minor in shown.items() if minor
    )
    say(f"Sold {sold.tag} for {show_money(sold.price_minor, sold.currency)}{f'; {costs}' if costs else ''}.")
    if sold.shipping_minor is None:
        say("What sending it costs is not known yet: its margin is at most as shown until it is typed.")
    say(f"Warranty until {sold.warranty_until}." if sold.warranty_until else "No warranty.")
    if sold.finished or sold.skipped:
        say(f"Marked done: {sold.finished}. Skipped: {sold.skipped}.")
    for name in sold.low:
        say(f"{name} is LOW: restock it.", style=CAUTION)
    say(f"The note for the buyer: bench handover {sold.tag}")


def _channel(desk: Desk, text: str) -> int:
    from bench.commands.named import the_one
    from bench.views.trade import read_channels

    return the_one(text, read_channels(desk), lambda line: line.name, "channel").channel_id


def _stage(desk: Desk, text: str) -> int:
    from bench.commands.named import the_one
    from bench.views.shop import read_stages

    stages = read_stages(desk)
    return the_one(text, stages, lambda line: line.name, "stage").stage_id if text else stages[0].stage_id
