"""The shop's settings: its name, money, zone and rate; its people, and the stages that units pass."""

from __future__ import annotations

from sqlmodel import col, func, select

from bench.desk import Desk
from bench.domain.durations import read_minutes
from bench.domain.money import minor_digits, read_money
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field, read_whole
from bench.domain.weeks import zone_named
from bench.errors import BadInput, Refused
from bench.store.tables import (
    Channel,
    Comeback,
    Lot,
    Movement,
    Offer,
    Part,
    Person,
    Purchase,
    Route,
    RouteTask,
    Sale,
    Shop,
    Stage,
    Task,
    TimeEntry,
    Trade,
    Unit,
    WayOut,
)
from bench.work.change import Change, change
from bench.work.lookups import shop_of, stages_in_order
from bench.work.names import free_name, tells_if_changed
from bench.work.ordering import place, shift

MOST_TIMES = 100
MOST_LEAST_MINUTES = 10_000

# Every amount that is kept in minor units of the shop's currency, but for its rate, which is typed again.
AMOUNTS = (
    *(Movement.cost_minor, Unit.price_minor, Lot.price_minor, Purchase.expected_minor, Part.cost_minor),
    *(Lot.premium_minor, Lot.freight_minor, Purchase.premium_minor, Purchase.freight_minor),
    *(Offer.asking_minor, Offer.expected_minor, Offer.parts_minor, Channel.fee_fixed_minor),
    *(Offer.freight_minor, Offer.shipping_minor, Purchase.shipping_minor),
    *(Sale.price_minor, Sale.fee_minor, Sale.shipping_minor, Comeback.refund_minor),
    *(Comeback.fee_back_minor, Comeback.postage_minor, WayOut.price_minor, WayOut.proceeds_minor),
    Trade.wanted_margin_minor,
)


def edit_shop(
    desk: Desk,
    *,
    name: str,
    currency: str,
    zone: str,
    rate_text: str,
    forgotten_times_text: str,
    forgotten_least_text: str,
) -> None:
    """Set the shop's settings; all of them, as typed. An empty rate is 0.

    Refused: a currency with other decimals once amounts are kept, since each would mean something else.
    """
    with change(desk, "settings") as made:
        shop = shop_of(made.session)
        code, rate = currency.strip().upper(), rate_text.strip()
        fields = TypedFields()
        fields.read("currency", check_currency, made, shop, code)
        shop.name = fields.read("name", clean_line, name, "The shop's name")
        place = fields.read("zone", zone_named, zone.strip())
        shop.forgotten_times = fields.read(
            "forgotten_times_text", read_whole, forgotten_times_text, "Times the estimate", 1, MOST_TIMES
        )
        shop.forgotten_least_minutes = fields.read("forgotten_least_text", _least, forgotten_least_text)
        fields.check()
        shop.currency, shop.zone = code, place.key
        shop.rate_minor_per_hour = read_field("rate_text", read_money, rate, code) if rate else 0
        tells_if_changed(made, "Changed the shop's settings")


def _least(text: str) -> int:
    least = read_minutes(text)
    if least > MOST_LEAST_MINUTES:
        raise BadInput(f"{least} minutes is too long.", f"Give at most {MOST_LEAST_MINUTES} minutes.")
    return least


def check_currency(made: Change, shop: Shop, code: str) -> None:
    """Pass, or raise Refused where amounts are kept that another currency's decimals would change."""
    if minor_digits(code) == minor_digits(shop.currency):
        return
    if any(made.session.exec(select(column).where(column != 0).limit(1)).first() for column in AMOUNTS):
        raise Refused(
            f"Prices are kept in {shop.currency}, and {code} has other decimals: each would be read wrong.",
            "Begin a new data file for another currency.",
        )


def add_person(desk: Desk, name: str) -> int:
    """Someone new at the bench; answers their number."""
    with change(desk, "add person") as made:
        person = made.add(Person(name=free_name(made, Person, name, "person")))
        made.tells(f"Added {person.name} to the people")
        assert person.id is not None
        return person.id


def rename_person(desk: Desk, person_id: int, name: str) -> None:
    """Write someone's name differently, in everything they did as well."""
    with change(desk, "rename person") as made:
        person = made.get(Person, person_id, "person")
        before, person.name = person.name, free_name(made, Person, name, "person", person_id)
        tells_if_changed(made, f"Renamed {before} to {person.name}")


def remove_person(desk: Desk, person_id: int) -> None:
    """Take someone off the list; what they did stays.

    Refused for oneself, and while a timer of theirs runs.
    """
    with change(desk, "remove person") as made:
        person = made.get(Person, person_id, "person")
        if person_id == desk.person_id:
            raise Refused("You cannot remove yourself.", "Let someone else do it.")
        running = select(TimeEntry).where(
            TimeEntry.person_id == person_id, col(TimeEntry.stopped_us).is_(None)
        )
        if made.session.exec(running).first() is not None:
            raise Refused(f"A timer of {person.name} is still running.", "Stop it first.")
        person.removed = 1
        made.tells(f"Removed {person.name} from the people")


def add_stage(desk: Desk, name: str, *, after_stage_id: int | None, lid_off: bool) -> int:
    """A new stage behind the one named, or before all others for None; answers its number."""
    with change(desk, "add stage") as made:
        stages = stages_in_order(made.session)
        at = 0
        if after_stage_id is not None:
            before = made.get(Stage, after_stage_id, "stage")
            if before.final:
                raise Refused(f"Units that reach {before.name} have left.", "Put the new stage before it.")
            at = stages.index(before) + 1
        stage = Stage(name=free_name(made, Stage, name, "stage"), position=at + 1, lid_off=int(lid_off))
        made.session.add(stage)
        place([*stages[:at], stage, *stages[at:]])
        made.session.flush()
        made.tells(f"Added stage {stage.name}")
        assert stage.id is not None
        return stage.id


def rename_stage(desk: Desk, stage_id: int, name: str) -> None:
    """Give a stage another name."""
    with change(desk, "rename stage") as made:
        stage = made.get(Stage, stage_id, "stage")
        before, stage.name = stage.name, free_name(made, Stage, name, "stage", stage_id)
        tells_if_changed(made, f"Renamed stage {before} to {stage.name}")


def reorder_stage(desk: Desk, stage_id: int, steps: int) -> None:
    """Move a stage up (below 0) or down, no further than the ends. Stages at which units leave stay last."""
    with change(desk, "reorder stage") as made:
        stage = made.get(Stage, stage_id, "stage")
        alike = [one for one in stages_in_order(made.session) if one.final == stage.final]
        if shift(alike, stage, steps):
            made.tells(f"Moved stage {stage.name}")


def set_stage_cover(desk: Desk, stage_id: int, lid_off: bool) -> None:
    """Say whether the cover is off at a stage. Refused while units stand there: theirs is as it is."""
    with change(desk, "stage cover") as made:
        stage = made.get(Stage, stage_id, "stage")
        if bool(stage.lid_off) == lid_off:
            return
        _require_empty(made, stage)
        stage.lid_off = int(lid_off)
        made.tells(f"Stage {stage.name} is now cover {'off' if lid_off else 'on'}")


def set_stage_lists(desk: Desk, stage_id: int, lists: bool) -> None:
    """Say whether units are offered for sale from a stage on. Refused while units stand there."""
    with change(desk, "stage lists") as made:
        stage = made.get(Stage, stage_id, "stage")
        if bool(stage.lists) == lists:
            return
        if stage.final:
            raise Refused(f"Units that reach {stage.name} have left.", "Mark a stage before that.")
        _require_empty(made, stage)
        stage.lists = int(lists)
        does = "are" if lists else "are not"
        made.tells(f"Units at stage {stage.name} {does} listed from now on")


def set_stage_sells(desk: Desk, stage_id: int, sells: bool) -> None:
    """Say whether units that leave at a stage are sold. Refused while units stand there, or none leave."""
    with change(desk, "stage sells") as made:
        stage = made.get(Stage, stage_id, "stage")
        if bool(stage.sells) == sells:
            return
        if not stage.final:
            raise Refused(f"Units do not leave at {stage.name}.", "Mark a stage at which they leave.")
        _require_empty(made, stage)
        stage.sells = int(sells)
        does = "are" if sells else "are not"
        made.tells(f"Units that leave at stage {stage.name} {does} sold from now on")


def remove_stage(desk: Desk, stage_id: int) -> None:
    """Take out a stage that nothing needs: no unit stands there, no open task or route's task belongs to it.

    Refused otherwise, and for the only stage at which units leave or come in.
    """
    with change(desk, "remove stage") as made:
        stage = made.get(Stage, stage_id, "stage")
        _require_another(made, stage)
        _require_empty(made, stage)
        _require_no_tasks(made, stage)
        stage.removed = 1
        made.tells(f"Removed stage {stage.name}")


def _require_another(made: Change, stage: Stage) -> None:
    alike = [one for one in stages_in_order(made.session) if one.final == stage.final]
    if len(alike) == 1:
        what = "at which units leave" if stage.final else "at which work is done"
        raise Refused(f"{stage.name} is the only stage {what}.", "Rename it instead.")


def _require_empty(made: Change, stage: Stage) -> None:
    units = select(func.count(col(Unit.id))).where(Unit.stage_id == stage.id, Unit.removed == 0)
    count = made.session.exec(units).one()
    if count:
        stand = "1 unit stands" if count == 1 else f"{count} units stand"
        raise Refused(f"{stand} at {stage.name}.", "Move them to another stage first.")


def _require_no_tasks(made: Change, stage: Stage) -> None:
    open_tasks = (
        select(Unit.tag)
        .join(Task, col(Task.unit_id) == Unit.id)
        .where(Task.stage_id == stage.id, Task.state == "todo", Task.removed == 0, Unit.removed == 0)
    )
    tag = made.session.exec(open_tasks).first()
    if tag is not None:
        raise Refused(f"Unit {tag} still has an open task at {stage.name}.", "Finish or skip it first.")
    routes = (
        select(Route.name)
        .join(RouteTask, col(RouteTask.route_id) == Route.id)
        .where(RouteTask.stage_id == stage.id, RouteTask.removed == 0, Route.removed == 0)
    )
    route = made.session.exec(routes).first()
    if route is not None:
        raise Refused(f"The route {route} has a task at {stage.name}.", "Give it another stage first.")
