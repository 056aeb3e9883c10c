"""The consumables the shop keeps: their names, packs, delivery times, shelf lives and reorder points."""

from __future__ import annotations

from sqlmodel import col, func, select

from bench.desk import Desk
from bench.domain.quantities import check_unit, read_quantity, show_quantity
from bench.domain.tags import read_code
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields, read_field, read_whole
from bench.errors import BadInput, Refused
from bench.store.tables import Consumable, Movement, RouteUse, Task, TaskUse
from bench.work.change import Change, change
from bench.work.issuing import layers_of
from bench.work.names import free_name, tells_if_changed

MOST_LEAD_DAYS = 365
MOST_SHELF_DAYS = 36_500


def add_consumable(
    desk: Desk,
    *,
    name: str,
    base_unit: str,
    pack_text: str,
    lead_days_text: str,
    shelf_life_text: str = "",
    reorder_text: str = "",
    hazard: str = "",
    code: str = "",
) -> int:
    """Something else that jobs use up, at zero stock; answers its number.

    No shelf life typed: it keeps. No reorder point typed: it is calculated from use and delivery time.
    """
    with change(desk, "add consumable") as made:
        consumable = consumable_within(
            made,
            name=name,
            base_unit=base_unit,
            pack_text=pack_text,
            lead_days_text=lead_days_text,
            shelf_life_text=shelf_life_text,
            reorder_text=reorder_text,
            hazard=hazard,
            code=code,
        )
        made.tells(f"Added {consumable.name} to the stock")
        assert consumable.id is not None
        return consumable.id


def consumable_within(
    made: Change,
    *,
    name: str,
    base_unit: str,
    pack_text: str,
    lead_days_text: str,
    shelf_life_text: str = "",
    reorder_text: str = "",
    hazard: str = "",
    code: str = "",
) -> Consumable:
    """The same inside a transaction that does more."""
    fields = TypedFields()
    unit = check_unit(base_unit.strip())
    consumable = Consumable(name="", base_unit=unit, pack_quantity=1)
    consumable.name = fields.read("name", free_name, made, Consumable, name, "consumable")
    new_code = fields.read("code", _free_code, made, code, None)
    _fill(consumable, fields, pack_text, lead_days_text, shelf_life_text, reorder_text, hazard)
    consumable.code = new_code
    return made.add(consumable)


def edit_consumable(
    desk: Desk,
    consumable_id: int,
    *,
    name: str,
    base_unit: str,
    pack_text: str,
    lead_days_text: str,
    shelf_life_text: str = "",
    reorder_text: str = "",
    hazard: str = "",
    code: str = "",
) -> None:
    """Set a consumable's particulars right; what is typed replaces what was.

    Refused: another base unit once it has movements or something takes it, as the figures would mean others.
    """
    with change(desk, "edit consumable") as made:
        consumable = made.get(Consumable, consumable_id, "consumable")
        fields = TypedFields()
        new_name = fields.read("name", free_name, made, Consumable, name, "consumable", consumable_id)
        unit = check_unit(base_unit.strip())
        if unit != consumable.base_unit:
            _require_unused(made, consumable)
            consumable.base_unit = unit
        new_code = fields.read("code", _free_code, made, code, consumable_id)
        _fill(consumable, fields, pack_text, lead_days_text, shelf_life_text, reorder_text, hazard)
        consumable.code = new_code
        consumable.name = new_name
        tells_if_changed(made, f"Edited {consumable.name}")


def set_code(desk: Desk, consumable_id: int, code: str) -> str:
    """Give a consumable the code that a scanner reads off its pack, empty for none; answers it as it is kept.

    BadInput for an EAN-13 whose check digit does not fit, and for a code that another consumable has.
    """
    with change(desk, "edit consumable") as made:
        consumable = made.get(Consumable, consumable_id, "consumable")
        consumable.code = read_field("code", _free_code, made, code, consumable_id)
        tells_if_changed(made, f"Edited {consumable.name}")
        return consumable.code


def remove_consumable(desk: Desk, consumable_id: int) -> None:
    """Take a consumable off the list, and out of the routes and open tasks that take it; its movements stay.

    Refused while some is on hand.
    """
    with change(desk, "remove consumable") as made:
        consumable = made.get(Consumable, consumable_id, "consumable")
        left = sum(layer.quantity for layer in layers_of(made.session, consumable_id))
        if left:
            amount = show_quantity(left, consumable.base_unit)
            raise Refused(f"{amount} of {consumable.name} is on hand.", "Count it to 0 first.")
        uses = [*_route_uses(made, consumable_id), *_open_task_uses(made, consumable_id)]
        for use in uses:
            made.session.delete(use)
        consumable.removed = 1
        made.tells(f"Removed {consumable.name} from the stock" + (f" and {len(uses)} tasks" if uses else ""))


def _fill(
    consumable: Consumable,
    fields: TypedFields,
    pack_text: str,
    lead_days_text: str,
    shelf_life_text: str,
    reorder_text: str,
    hazard: str,
) -> None:
    unit = consumable.base_unit
    consumable.pack_quantity = fields.read("pack_text", read_quantity, pack_text, unit)
    consumable.lead_days = fields.read(
        "lead_days_text", read_whole, lead_days_text, "The delivery time in days", 0, MOST_LEAD_DAYS
    )
    consumable.shelf_life_days = fields.read("shelf_life_text", _shelf_life, shelf_life_text.strip())
    reorder = reorder_text.strip()
    consumable.reorder_quantity = (
        fields.read("reorder_text", read_quantity, reorder, unit, allow_zero=True) if reorder else None
    )
    consumable.hazard = fields.read("hazard", clean_line, hazard, "The hazard note", allow_empty=True)
    fields.check()


def _free_code(made: Change, text: str, besides_id: int | None) -> str:
    code = read_code(text)
    with made.session.no_autoflush:
        same = made.session.exec(
            select(Consumable).where(func.lower(Consumable.code) == code.lower(), Consumable.removed == 0)
        ).all()
    other = next((one for one in same if one.id != besides_id), None)
    if code and other is not None:
        raise BadInput(f"The code {quoted(code)} is {other.name}'s already.", "Give this one another code.")
    return code


def _shelf_life(typed: str) -> int | None:
    return read_whole(typed, "The shelf life in days", 1, MOST_SHELF_DAYS) if typed else None


def _require_unused(made: Change, consumable: Consumable) -> None:
    tables: tuple[type[Movement | RouteUse | TaskUse], ...] = (Movement, RouteUse, TaskUse)
    for table in tables:
        if made.session.exec(select(table).where(table.consumable_id == consumable.id).limit(1)).first():
            raise Refused(
                f"{consumable.name} is kept in {consumable.base_unit}: movements or tasks say so.",
                "Add it as a new consumable instead.",
            )


def _route_uses(made: Change, consumable_id: int) -> list[RouteUse]:
    return list(made.session.exec(select(RouteUse).where(RouteUse.consumable_id == consumable_id)))


def _open_task_uses(made: Change, consumable_id: int) -> list[TaskUse]:
    statement = (
        select(TaskUse)
        .join(Task, col(Task.id) == TaskUse.task_id)
        .where(TaskUse.consumable_id == consumable_id, Task.state == "todo")
    )
    return list(made.session.exec(statement))
