"""The demo's orders, repairs of owners' machines, general expenses and pages of models, act by act."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from bench.desk import Desk
from bench.domain.model_page import WRITTEN
from bench.store.demo_data import demo_folder
from bench.store.demo_repairs import DemoExpense, DemoRepair, DemoRepairs, read_repairs
from bench.store.demo_trade import DemoOrder
from bench.work.arrivals import refund_order, send_back, take_in
from bench.work.expenses import add_expense
from bench.work.machine_power import set_power
from bench.work.model_pages import add_model_screw, add_model_step, edit_model_page
from bench.work.orders import order_consumable, order_part
from bench.work.quotes import add_line, answer_quote, give_quote
from bench.work.repair_jobs import open_job
from bench.work.repair_terms import edit_repair_terms
from tests.work.demo_faults import Found


@dataclass
class Ordered(Found):
    """The acts; `orders` by their place in the file, `jobs` by unit number."""

    orders: dict[int, int] = field(default_factory=dict)
    jobs: dict[int, int] = field(default_factory=dict)
    repairs: DemoRepairs = field(default_factory=lambda: read_repairs(demo_folder()))

    def settings(self) -> None:
        """The terms of repairs, electricity and pages of models, besides all else."""
        super().settings()
        told = self.repairs.settings
        edit_repair_terms(
            self.desk,
            tax_text=told["tax"],
            quote_days_text=str(told["quote_days"]),
            warranty_text=str(told["warranty_days"]),
            uncollected_text=str(told["uncollected_days"]),
        )
        set_power(self.desk, watts_text=str(told["machine_watts"]), kwh_price_text=told["kwh_price"])
        for page in self.demo.models:
            self._write_page(page)

    def _write_page(self, page: dict[str, Any]) -> None:
        maker, model = page["maker"], page["model"]
        edit_model_page(self.desk, maker, model, **{name: page.get(name, "") for name in WRITTEN})
        for words in page["steps"]:
            add_model_step(self.desk, maker, model, words=words)
        for screw in page["screws"]:
            torque = screw.get("torque_mnm")
            add_model_screw(
                self.desk,
                maker,
                model,
                place=screw["place"],
                size=screw["size"],
                count_text=str(screw["count"]),
                torque_text="" if torque is None else f"{torque} mNm",
                note=screw.get("note", ""),
            )

    def day(self, days_ago: int | None) -> date:
        """The day so many days before the story ends."""
        return self.today() - timedelta(days=days_ago or 0)

    def order(self, desk: Desk, number: int, one: DemoOrder) -> None:
        due = "" if one.due_in_days is None else self.day(-one.due_in_days).isoformat()
        told = {"supplier": one.supplier, "price_text": one.price, "freight_text": one.freight}
        told |= {"due_text": due, "note": "" if one.found else one.note}
        wanted = one.state == "wanted"
        if one.consumable:
            kept = order_consumable(
                desk,
                self._number("consumable", one.consumable),
                quantity_text=one.quantity,
                wanted=wanted,
                **told,
            )
        else:
            kept = order_part(
                desk,
                self.unit_ids[one.unit] if one.unit else None,
                what=one.what,
                maker_number=one.maker_number,
                wanted=wanted,
                task_ids=[self._task(one.unit, one.task)] if one.unit and one.task else [],
                instead_of_id=self._before(number, one),
                **told,
            )
        self.orders[number] = kept.order_id

    def _before(self, number: int, one: DemoOrder) -> int | None:
        """The order in whose place it comes."""
        orders = enumerate(self.demo.trade.orders[:number])
        return next((self.orders[at] for at, other in orders if one.instead == other.what), None)

    def arrive(self, desk: Desk, number: int, one: DemoOrder) -> None:
        note = one.note if one.found else ""
        take_in(desk, self.orders[number], place=one.place, found=one.found, note=note)

    def return_order(self, desk: Desk, number: int) -> None:
        send_back(desk, self.orders[number])

    def refund(self, desk: Desk, number: int, one: DemoOrder) -> None:
        refund_order(desk, self.orders[number], refund_text=one.refund)

    def take_repair(self, desk: Desk, one: DemoRepair) -> None:
        self.jobs[one.unit] = job = open_job(
            desk,
            self.unit_ids[one.unit],
            complaint=one.complaint,
            came_along=one.came_along,
            arrival=one.arrival,
            data_consent=one.data,
            diagnosis=one.diagnosis,
        ).job_id
        for row in one.lines:
            add_line(
                desk,
                job,
                what=row["what"],
                kind=row["kind"],
                quantity_text=row["number"],
                price_text=row["price"],
            )

    def quote(self, desk: Desk, one: DemoRepair) -> None:
        give_quote(desk, self.jobs[one.unit])

    def answer(self, desk: Desk, one: DemoRepair) -> None:
        assert one.answer is not None
        answer_quote(desk, self.jobs[one.unit], answer=one.answer, how=one.how)

    def spend(self, desk: Desk, one: DemoExpense) -> None:
        add_expense(
            desk,
            category=one.category,
            amount_text=one.amount,
            side=one.side,
            party=one.party,
            note=one.note,
            tax_text=one.tax,
        )
