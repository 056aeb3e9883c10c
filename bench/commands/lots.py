"""Lots and donors: units for one price, shared among them, and units kept for their parts."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.channels import (
    Seller,
    SellerAddress,
    SellerFirm,
    SellerPaper,
    parted,
    route_named,
    seller_from,
)
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.domain.text import quoted
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.lots import LotUnit

COLUMNS = ("model", "maker", "serial", "route", "expected", "note", "tag", "donor")
_YES = frozenset(["yes", "true", "1", "x"])


def lot(
    ctx: typer.Context,
    number: Annotated[
        int | None, typer.Argument(metavar="NUMBER", help="One lot; without it, a list of them.")
    ] = None,
    reshare: Annotated[bool, typer.Option("--reshare", help="Share its price again.")] = False,
    expect: Annotated[
        list[str] | None,
        typer.Option(metavar="TAG=AMOUNT", help="What is expected of a unit now; shares again."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Show lots, or share one's price again."""
    from bench.reports.lots import lot_json, lot_text, lots_json, lots_text
    from bench.views.lots import read_lot, read_lots

    if number is None:
        if reshare or expect:
            raise BadInput("Which lot is meant?", "Give its number.")
        book = read_lots(desk_for(ctx))
        say_sheet(lots_json(book) if as_json else lots_text(book))
    elif reshare or expect:
        _reshare(desk_for(ctx, acts=True), number, expect or [], as_json=as_json)
    else:
        sheet = read_lot(desk_for(ctx), number)
        say_sheet(lot_json(sheet) if as_json else lot_text(sheet))


def buy_lot(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="NAME", help="What to call the lot.")],
    price: Annotated[str, typer.Argument(metavar="PRICE", help="What was paid for all of it.")],
    unit: Annotated[
        list[str] | None,
        typer.Option(metavar="MODEL=AMOUNT", help="A unit and its expected price."),
    ] = None,
    units: Annotated[
        Path | None, typer.Option(metavar="FILE", help=f"Units as CSV, columns: {', '.join(COLUMNS)}.")
    ] = None,
    route: Annotated[str, typer.Option(metavar="NAME", help="The route of units without their own.")] = "",
    seller: Seller = "",
    address: SellerAddress = "",
    paper: SellerPaper = "",
    firm: SellerFirm = False,
    on: Annotated[str, typer.Option(metavar="DAY", help="When, if not today: 2026-11-20.")] = "",
    invoice: Annotated[str, typer.Option(metavar="TEXT", help="The invoice's number.")] = "",
    premium: Annotated[
        str, typer.Option(metavar="AMOUNT", help="A buyer's premium on the price, as at an auction.")
    ] = "",
    freight: Annotated[str, typer.Option(metavar="AMOUNT", help="What bringing it here cost.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT", help="Anything else.")] = "",
    again: Annotated[str, typer.Option(metavar="REASON", help="Why, if it seems to be here already.")] = "",
    as_json: AsJson = False,
) -> None:
    """Buy several units for one price, shared among them."""
    from bench.domain.money import show_money
    from bench.work.lots import buy_lot as buy

    desk = desk_for(ctx, acts=True)
    route_id = route_named(desk, route)
    typed = [_typed(one, route_id) for one in unit or []]
    typed += [_from_row(desk, row, route_id) for row in _rows(units)] if units else []
    made = buy(
        desk,
        name=name,
        price_text=price,
        units=typed,
        seller=seller_from(seller, address, paper, firm),
        bought_on_text=on,
        invoice=invoice,
        note=note,
        premium_text=premium,
        freight_text=freight,
        again=again,
    )
    if as_json:
        say_json(desk, "lot_bought", made)
        return
    say(f"Bought lot {made.lot_id}, {made.name}, for {show_money(made.price_minor, made.currency)}.")
    for one in made.shares:
        say(f"  {one.tag}  {show_money(one.new_minor, made.currency)}")


def donor(
    ctx: typer.Context,
    tag: Tag,
    worth: Annotated[str, typer.Option(metavar="AMOUNT", help="What its parts are worth; else 0.")] = "",
    whole: Annotated[
        str, typer.Option(metavar="AMOUNT", help="No donor after all: its expected price.")
    ] = "",
    reshare: Annotated[bool, typer.Option("--reshare", help="Share its lot's price again with it.")] = False,
    as_json: AsJson = False,
) -> None:
    """Keep a unit for its parts; nothing moves by that."""
    from bench.domain.money import show_money
    from bench.views.particulars import unit_by_tag
    from bench.work.lots import end_donor, make_donor

    if worth and whole:
        raise BadInput("--worth and --whole were both given.", "Give one of them.")
    desk = desk_for(ctx, acts=True)
    unit_id = unit_by_tag(desk, tag)
    if whole:
        made = end_donor(desk, unit_id, expected_text=whole, reshare=reshare)
    else:
        made = make_donor(desk, unit_id, expected_text=worth, reshare=reshare)
    if as_json:
        say_json(desk, "donor", made)
        return
    what = "is now a donor, its parts worth" if made.donor else "is no longer a donor, expected at"
    say(f"Unit {made.tag} {what} {show_money(made.expected_minor, made.currency)}.")
    if made.shares:
        from bench.reports.lots import shares_text

        say_sheet(shares_text(made.shares, made.currency))
    elif made.lot_id is not None:
        say(f"Its lot is shared as before; `bench lot {made.lot_id} --reshare` shares it again.")


def _reshare(desk: Desk, number: int, expect: list[str], *, as_json: bool) -> None:
    from bench.reports.lots import shares_text
    from bench.views.particulars import unit_by_tag
    from bench.work.lots import reshare_lot

    pairs = [parted(one, "10014=250") for one in expect]
    expected = {unit_by_tag(desk, tag): amount for tag, amount in pairs}
    shared = reshare_lot(desk, number, expected=expected)
    if as_json:
        say_json(desk, "lot_shared", shared)
    else:
        say_sheet(shares_text(shared.shares, shared.currency))


def _typed(text: str, route_id: int | None) -> LotUnit:
    from bench.domain.lots import LotUnit

    model, expected = parted(text, "Model A=250") if "=" in text else (text, "")
    return LotUnit("", model, route_id=route_id, expected_text=expected)


def _rows(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV file by their headings; BadInput for one that cannot be read as such."""
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = [
                {str(name).strip().casefold(): str(cell or "") for name, cell in row.items()}
                for row in csv.DictReader(file)
            ]
    except OSError as error:
        raise BadInput(f"{path} cannot be read ({error.strerror}).", "Check the path.") from error
    except (UnicodeDecodeError, csv.Error) as error:
        raise BadInput(f"{path} is not CSV in UTF-8 ({error}).", "Save it as such.") from error
    unknown = sorted({name for row in rows for name in row} - set(COLUMNS))
    if unknown:
        raise BadInput(f"{path} has the unknown column {quoted(unknown[0])}.", f"Use {', '.join(COLUMNS)}.")
    return rows


def _from_row(desk: Desk, row: dict[str, str], route_id: int | None) -> LotUnit:
    from bench.domain.lots import LotUnit

    return LotUnit(
        maker=row.get("maker", ""),
        model=row.get("model", ""),
        serial=row.get("serial", ""),
        route_id=route_named(desk, row.get("route", "")) or route_id,
        expected_text=row.get("expected", ""),
        note=row.get("note", ""),
        tag_text=row.get("tag", ""),
        donor=row.get("donor", "").strip().casefold() in _YES,
    )
