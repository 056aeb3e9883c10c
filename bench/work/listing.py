"""Say what a listing tells besides the records: which tasks, what price, in whose words."""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.listing_template import read_template
from bench.domain.money import read_money
from bench.domain.text import clean_line, task_on
from bench.domain.typed import TypedFields
from bench.store.tables import Route, RouteTask, Task, Unit, UnitListing
from bench.work.change import change
from bench.work.lookups import shop_of
from bench.work.names import tells_if_changed
from bench.work.standing import not_an_owners
from bench.work.trade import trade_of

MOST_WORDS = 500  # characters


def set_task_public(desk: Desk, task_id: int, *, public: bool) -> None:
    """Say whether a listing may name a unit's task."""
    with change(desk, "public task") as made:
        task = made.get(Task, task_id, "task")
        unit = made.get(Unit, task.unit_id, "unit")
        task.public = int(public)
        tells_if_changed(made, f"{task_on(task.name, unit.tag)}: {_words(public)}", unit.id)


def set_route_task_public(desk: Desk, route_task_id: int, *, public: bool) -> None:
    """The same of a route's task; units that were given it keep what they have."""
    with change(desk, "public route task") as made:
        task = made.get(RouteTask, route_task_id, "task of a route")
        route = made.get(Route, task.route_id, "route")
        task.public = int(public)
        tells_if_changed(made, f"{task.name} of route {route.name}: {_words(public)}")


def set_listing(
    desk: Desk, unit_id: int, *, price_text: str | None = None, shipping: str | None = None
) -> None:
    """Set what a unit's listing asks and says of sending; None leaves it, empty is nothing of its own.

    Refused for an owner's machine.
    """
    with change(desk, "listing") as made:
        unit = made.get(Unit, unit_id, "unit")
        not_an_owners(unit)
        statement = select(UnitListing).where(UnitListing.unit_id == unit_id, UnitListing.removed == 0)
        kept = made.session.exec(statement).first()
        price_minor, words = (kept.price_minor, kept.shipping) if kept is not None else (None, "")
        fields = TypedFields()
        if price_text is not None:
            typed, currency = price_text.strip(), shop_of(made.session).currency
            price_minor = fields.read("price_text", read_money, typed, currency) if typed else None
        if shipping is not None:
            words = fields.read("shipping", clean_line, shipping, "Shipping", MOST_WORDS, allow_empty=True)
        fields.check()
        nothing = price_minor is None and not words
        if kept is None and not nothing:
            kept = made.add(UnitListing(unit_id=unit_id))
        if kept is not None:
            kept.price_minor, kept.shipping, kept.removed = price_minor, words, int(nothing)
        tells_if_changed(made, f"Set the listing of {unit.tag}", unit_id)


def set_listing_words(desk: Desk, *, template: str | None = None, shipping: str | None = None) -> None:
    """Set the shop's template of a listing, and what it says of sending; None leaves it.

    An empty template is the built-in one. BadInput for one that names what no listing knows, or leaves the
    faults or what was not tested out.
    """
    with change(desk, "listing words") as made:
        trade, fields = trade_of(made), TypedFields()
        text = (
            trade.listing_template if template is None else fields.read("template", read_template, template)
        )
        sent = trade.listing_shipping
        if shipping is not None:
            sent = fields.read("shipping", clean_line, shipping, "Shipping", MOST_WORDS, allow_empty=True)
        fields.check()
        trade.listing_template, trade.listing_shipping = text, sent
        tells_if_changed(made, "Changed the words of listings")


def _words(public: bool) -> str:
    return "a listing may name it" if public else "no listing names it"
