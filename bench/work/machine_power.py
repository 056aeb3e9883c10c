"""Set what machines draw while tasks run by themselves, and what electricity costs."""

from __future__ import annotations

from sqlmodel import select

from bench.desk import Desk
from bench.domain.machine_power import MOST_WATTS, read_kwh_price
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_whole
from bench.store.tables import TaskPower
from bench.work.change import change
from bench.work.lookups import shop_of
from bench.work.names import LONGEST, tells_if_changed
from bench.work.trade import trade_of


def set_power(desk: Desk, *, watts_text: str, kwh_price_text: str) -> None:
    """The shop's usual watts of a machine, and the price of a kilowatt hour; nothing typed is not set."""
    with change(desk, "electricity") as made:
        trade, fields = trade_of(made), TypedFields()
        trade.machine_watts = (
            fields.read("watts_text", read_whole, watts_text, "Watts", 0, MOST_WATTS)
            if watts_text.strip()
            else None
        )
        trade.mwh_price_minor = (
            fields.read("kwh_price_text", read_kwh_price, kwh_price_text, shop_of(made.session).currency)
            if kwh_price_text.strip()
            else None
        )
        fields.check()
        tells_if_changed(made, "Set watts and price of electricity")


def set_task_watts(desk: Desk, name: str, watts_text: str) -> None:
    """What a machine draws while tasks of that name run; nothing typed: the shop's usual again."""
    with change(desk, "task watts") as made:
        fields = TypedFields()
        task = fields.read("name", clean_line, name, "The task's name", LONGEST)
        watts = (
            fields.read("watts_text", read_whole, watts_text, "Watts", 0, MOST_WATTS)
            if watts_text.strip()
            else None
        )
        fields.check()
        row = made.session.exec(
            select(TaskPower).where(TaskPower.name == task, TaskPower.removed == 0)
        ).first()
        if row is None and watts is not None:
            made.add(TaskPower(name=task, watts=watts))
        elif row is not None and watts is None:
            row.removed = 1
        elif row is not None and watts is not None:
            row.watts = watts
        tells_if_changed(made, f"Set the watts of {task}")
