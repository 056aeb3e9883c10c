"""A new unit for the bench, or the particulars of one set right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.presenters.unit_fields import route_choices, unit_values, usual_route
from bench.dashboard.screens.dialogs.ask_twice import AsksTwice
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import (
    DAY,
    MONEY,
    SERIAL,
    TAG,
    Field,
    NoteField,
    NumberField,
    TextField,
)
from bench.domain.party import PartyTyped
from bench.views.routes import RouteLine
from bench.views.unit import UnitSheet

ROUTE = "route"


class UnitForm(AsksTwice[int]):
    """Asks for a unit's particulars and answers its number. Without `unit_id` the unit is new."""

    def __init__(self, unit_id: int | None = None, *, serial: str = "") -> None:
        super().__init__(
            "New unit" if unit_id is None else "Unit's particulars",
            draft="unit_form" if unit_id is None else f"unit_form {unit_id}",
        )
        self.unit_id = unit_id
        self._serial = serial
        self._owner = ("", "")

    def fields(self) -> Sequence[Field]:
        """A new unit has a route to choose; one on the bench has its tasks already."""
        route = [ChoiceField(ROUTE, "Route", none="no route: no tasks")] if self.unit_id is None else []
        contact = [] if self.unit_id is None else [TextField(CONTACT, "Owner's contact")]
        return (
            TextField("maker", "Maker"),
            TextField("model", "Model"),
            TextField("serial", "Serial number", takes=SERIAL),
            *route,
            NumberField("due_text", "Due", like=DAY, hint="2026-11-30, tomorrow or +14"),
            NumberField("price_text", "Price paid", like=MONEY, hint="such as 120 or 99.50"),
            TextField(OWNER, "Owner", hint=OWNERS_ONLY),
            *contact,
            NoteField("note", "Note"),
            TextField("tag_text", "Tag", takes=TAG, hint="empty: the next number"),
        )

    def read(self) -> tuple[RouteLine, ...] | UnitSheet:
        """The routes to choose from, or the unit as it is."""
        if self.unit_id is None:
            from bench.views.routes import read_routes

            return read_routes(self.desk)
        from bench.views.unit import read_unit

        return read_unit(self.desk, self.unit_id)

    def begin(self, facts: tuple[RouteLine, ...] | UnitSheet) -> None:
        """Offer the routes, the shop's oldest one chosen, or show what is known of the unit."""
        if isinstance(facts, UnitSheet):
            for name, value in unit_values(facts).items():
                self.field(name).start(value)
            self._owner = (facts.owner, facts.owner_contact)
            return
        route = self.field(ROUTE)
        assert isinstance(route, ChoiceField)
        route.offer(route_choices(facts))
        route.start(usual_route(facts))
        if self._serial:
            self.field("serial").put(self._serial)

    def work(self) -> Callable[[], Any]:
        """Add the unit, or edit it."""
        desk, unit_id = self.desk, self.unit_id
        typed: dict[str, str] = {name: self.value(name) for name in PARTICULARS} | {"again": self.again}
        route = self.value(ROUTE) if unit_id is None else ""
        contact = "" if unit_id is None else self.value(CONTACT)
        owner, before = PartyTyped(self.value(OWNER), "", contact), self._owner

        def add() -> int:
            from bench.work.units import add_unit

            route_id, whose = int(route) if route else None, owner if owner.name.strip() else None
            return add_unit(desk, route_id=route_id, owner=whose, **typed).unit_id

        def edit() -> int:
            from bench.work.units import edit_unit

            assert unit_id is not None
            changed = (owner.name, owner.contact) != before
            edit_unit(desk, unit_id, owner=owner if changed else None, **typed)
            return unit_id

        return add if unit_id is None else edit

    def answer(self, unit_id: int) -> int:
        """The number of the unit."""
        return unit_id


OWNER, CONTACT = "owner", "owner_contact"
OWNERS_ONLY = "whose it is, brought in for repair only"
PARTICULARS = ("maker", "model", "serial", "due_text", "price_text", "note", "tag_text")
