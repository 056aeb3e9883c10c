"""The forms of a unit: taken in or corrected, set aside; and those of a task, on a unit or in a route."""

from __future__ import annotations

from collections.abc import Sequence

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import YES, ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Choices, Filled, FormOf
from bench.dashboard.screens.dialogs.field import SERIAL, TAG, Field
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import DAY, LENGTH, MONEY, NoteField, NumberField, TextField
from bench.desk import Desk
from bench.domain.durations import MINUTE_US, hours_and_minutes
from bench.domain.money import money_or
from bench.domain.outcomes import KINDS
from bench.domain.party import PartyTyped
from bench.domain.safety import HAZARD_NAMES, HAZARDS
from bench.errors import KnownAlready
from bench.views.routes import RouteLine, RouteSheet, read_route, read_routes
from bench.views.shop import StageLine, read_stages
from bench.views.unit import UnitSheet, read_unit


@form
def unit_form(unit_id: int | None = None, *, serial: str = "") -> FormOf[int]:
    """A unit's particulars; answers its number. Without `unit_id` the unit is new.

    A new unit has a route to choose; one on the bench has its tasks already.
    """
    new = unit_id is None
    serial_field = TextField("serial", "Serial number", takes=SERIAL, value=serial)
    serial_field.started_as = ""
    fields: list[Field] = [
        TextField("maker", "Maker"),
        TextField("model", "Model", hint="must be filled"),
        serial_field,
        *([ChoiceField("route", "Route", none="no route: no tasks", ids=True)] if new else []),
        NumberField("due_text", "Due", like=DAY, hint="2026-11-30, tomorrow or +14"),
        NumberField("price_text", "Price paid", like=MONEY, hint="such as 120 or 99.50"),
        TextField("owner", "Owner", hint="whose it is, brought in for repair only"),
        *([] if new else [TextField("owner_contact", "Owner's contact")]),
        NoteField("note", "Note"),
        TextField("tag_text", "Tag", takes=TAG, hint="empty: the next number"),
    ]
    if unit_id is None:
        return FormOf(
            heading="New unit",
            draft="unit_form",
            fields=fields,
            reads=read_routes,
            begins=lambda routes: Begun(
                choices={"route": route_choices(routes)}, values={"route": usual_route(routes)}
            ),
            does=_add_unit,
            asks=(KnownAlready,),
            answers=int,
        )

    def edit(filled: Filled) -> int:
        typed, unit = filled.typed, filled.facts
        owner = PartyTyped(typed.pop("owner"), "", typed.pop("owner_contact"))
        changed = (owner.name, owner.contact) != (unit.owner, unit.owner_contact)
        use_cases.units.edit_unit(filled.desk, unit_id, owner=owner if changed else None, **typed)
        return unit_id

    return FormOf(
        heading="Unit's particulars",
        draft=f"unit_form {unit_id}",
        fields=fields,
        reads=lambda desk: read_unit(desk, unit_id),
        begins=_begin_unit,
        does=edit,
        asks=(KnownAlready,),
        answers=int,
    )


def _add_unit(filled: Filled) -> int:
    typed = filled.typed
    route_id, owner = typed.pop("route"), PartyTyped(typed.pop("owner"), "", "")
    whose = owner if owner.name.strip() else None
    return use_cases.units.add_unit(filled.desk, route_id=route_id, owner=whose, **typed).unit_id


def _begin_unit(unit: UnitSheet) -> Begun:
    return Begun(
        values={
            "maker": unit.maker,
            "model": unit.model,
            "serial": unit.serial,
            "due_text": unit.due_on.isoformat() if unit.due_on else "",
            "price_text": money_or(unit.price_minor, unit.currency),
            "note": unit.note,
            "tag_text": unit.tag,
            "owner": unit.owner,
            "owner_contact": unit.owner_contact,
        }
    )


def route_choices(routes: Sequence[RouteLine]) -> Choices:
    """Each route with how many tasks it has and the hands-on time they take."""
    return tuple((str(one.route_id), f"{one.name}  ({_extent(one)})") for one in routes)


def usual_route(routes: Sequence[RouteLine]) -> str:
    """The choice to begin with: the shop's oldest route; empty where it has none."""
    return str(min((one.route_id for one in routes), default=""))


def _extent(route: RouteLine) -> str:
    time = hours_and_minutes(route.hands_on_minutes * MINUTE_US)
    return f"{route.tasks} tasks, {time}" if route.tasks != 1 else f"1 task, {time}"


@form
def hold_form(unit_id: int, tag: str) -> FormOf[bool]:
    """Why a unit is set aside where it is; its hands-on timers stop, machine-time ones run on."""
    return FormOf(
        heading=f"Hold {tag}",
        draft=f"hold {unit_id}",
        fields=(TextField("reason", "Reason", hint="such as: waits for a part"),),
        does=lambda filled: use_cases.moves.hold_unit(filled.desk, unit_id, **filled.typed),
        send="Hold",
        enter=True,
    )


@form
def task_form(unit_id: int, task_id: int | None = None) -> FormOf[bool]:
    """A unit's task; without `task_id` it is new. An existing one gets a name and an estimate."""
    if task_id is None:
        return FormOf(
            heading="New task",
            draft=f"task_form {unit_id} new",
            fields=(*_name_and_estimate(), *_stage_and_marks()),
            reads=lambda desk: (
                read_stages(desk),
                read_unit(desk, unit_id).stage_id,
            ),
            begins=lambda facts: Begun(
                choices={"stage": stage_choices(facts[0])}, values={"stage": str(facts[1])}
            ),
            does=lambda filled: use_cases.tasks.add_task(
                filled.desk, unit_id, stage_id=filled.typed.pop("stage"), **filled.typed
            ),
        )

    def begin(unit: UnitSheet) -> Begun:
        task = next((one for one in unit.tasks if one.task_id == task_id), None)
        if task is None:
            return Begun()
        return Begun(
            values={
                "name": task.name,
                "estimate_text": str(task.estimate_minutes),
                "public": YES if task.public else "",
            }
        )

    return FormOf(
        heading="Task",
        draft=f"task_form {unit_id} {task_id}",
        fields=(*_name_and_estimate(), _public()),
        reads=lambda desk: read_unit(desk, unit_id),
        begins=begin,
        does=lambda filled: use_cases.tasks.rename_task(filled.desk, task_id, **filled.typed),
    )


@form
def route_task_form(route_id: int, route_task_id: int | None = None) -> FormOf[bool]:
    """A route's task; without `route_task_id` it is new."""

    def read(desk: Desk) -> tuple[Sequence[StageLine], RouteSheet]:
        return read_stages(desk), read_route(desk, route_id)

    def begin(facts: tuple[Sequence[StageLine], RouteSheet]) -> Begun:
        stages, route = facts
        values = {}
        for task in route.tasks:
            if task.route_task_id == route_task_id:
                values = {
                    "stage": str(task.stage_id),
                    "name": task.name,
                    "estimate_text": str(task.estimate_minutes),
                    "unattended": YES if task.unattended else "",
                    "lid_off": YES if task.lid_off else "",
                    "opens": YES if task.opens else "",
                    "hazard": task.hazard,
                    "test": task.test,
                    "public": YES if task.public else "",
                }
        return Begun(choices={"stage": stage_choices(stages)}, values=values)

    def write(filled: Filled) -> object:
        typed = filled.typed
        stage_id = typed.pop("stage")
        if route_task_id is None:
            return use_cases.route_tasks.add_route_task(filled.desk, route_id, stage_id=stage_id, **typed)
        use_cases.route_tasks.edit_route_task(filled.desk, route_task_id, stage_id=stage_id, **typed)
        return route_task_id

    return FormOf(
        heading="New task of the route" if route_task_id is None else "Task of the route",
        draft=f"route_task_form {route_id} {route_task_id or 'new'}",
        fields=(*_name_and_estimate(), *_stage_and_marks()),
        reads=read,
        begins=begin,
        does=write,
    )


def _name_and_estimate() -> tuple[Field, ...]:
    return (
        TextField("name", "Task"),
        NumberField("estimate_text", "Estimate", like=LENGTH, hint="minutes, such as 90, or 1h30"),
    )


def _stage_and_marks() -> tuple[Field, ...]:
    return (
        ChoiceField("stage", "Stage", none="choose", ids=True, needed=True),
        MarkField("unattended", "Machine time", "nobody's hands on it while it runs"),
        MarkField("lid_off", "Cover off", "only after the opening checklist"),
        MarkField("opens", "Takes it off", "opens the machine: the battery comes out in it"),
        ChoiceField("hazard", "Can hurt", tuple((kind, HAZARD_NAMES[kind]) for kind in HAZARDS)),
        ChoiceField(
            "test", "Is a test", tuple((name, kind.label) for name, kind in KINDS.items()), none="no"
        ),
        _public(),
    )


def _public() -> Field:
    return MarkField("public", "Public", "a listing may name it")


def stage_choices(stages: Sequence[StageLine]) -> Choices:
    """The stages at which work goes on."""
    return tuple((str(one.stage_id), one.name) for one in stages if not one.final)
