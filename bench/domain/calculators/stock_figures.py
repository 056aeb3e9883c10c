"""Stock sums: what to order, when, and how long it lasts. The functions are the stock panel's own."""

from __future__ import annotations

from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits.shelf import LIMITS
from bench.domain.quantities import THOUSANDTHS
from bench.domain.reorder import (
    days_of_cover,
    economic_order_quantity,
    order_and_holding_cost,
    reorder_point,
    safety_stock,
)

DAYS_A_YEAR = 365

CAUTION_FLAMMABLE_STOCK = (
    "More isopropyl on the shelf is more to burn: local fire rules say how much may be kept and how. "
    "They come before any cheapest quantity."
)


def _reorder(figures: Figures) -> tuple[Answer, ...]:
    demand = (figures["demand"], figures["demand_sd"], figures["lead"], figures["lead_sd"])
    service = figures["service"] / 100
    based_on = "in the unit of the use; use and delivery independent, normal"
    return (
        Answer("point", "Order at", reorder_point(*demand, service), "", 1, based_on, noted=True),
        Answer("safety", "of it held for safety", safety_stock(*demand, service), "", 1),
    )


def _cover(figures: Figures) -> tuple[Answer, ...]:
    on_hand, used = (
        round(figures["on_hand"] * THOUSANDTHS),
        round(figures["demand"] * DAYS_A_YEAR * THOUSANDTHS),
    )
    days = days_of_cover(on_hand, used, DAYS_A_YEAR)
    return (Answer("cover", "Days of cover", days, "days", 1, "at the mean use", noted=True),)


def _order(figures: Figures) -> tuple[Answer, ...]:
    yearly = figures["demand"] * DAYS_A_YEAR
    quantity = economic_order_quantity(yearly, figures["order_cost"], figures["holding"])
    cost = order_and_holding_cost(quantity, yearly, figures["order_cost"], figures["holding"])
    return (
        Answer(
            "quantity",
            "Order",
            quantity,
            "",
            1,
            "whole packs cost hardly more",
            noted=True,
        ),
        Answer("orders", "Orders a year", yearly / quantity, "", 1),
        Answer("cost", "Ordering and holding a year", cost, "", 2, "shop's money, steady prices"),
    )


STOCK = Calculator(
    name="stock",
    title="Stock",
    line="When to order, how much, and how many days are left",
    givens=(
        Given("demand", "Used a day, mean", "", 0.0001, 1_000_000),
        Given("demand_sd", "Used a day, std deviation", "", 0, 1_000_000),
        Given("lead", "Delivery time, mean", "days", 0.1, 365),
        Given("lead_sd", "Delivery time, std deviation", "days", 0, 365, "0"),
        Given("service", "Wanted without running out", "%", 50, 99.99, LIMITS["stock.service_percent"].typed),
        Given("on_hand", "On hand", "", 0, 1_000_000_000),
        Given("order_cost", "One order costs", "", 0.01, 1_000_000),
        Given("holding", "Holding one for a year costs", "", 0.0001, 1_000_000),
    ),
    sums=(
        Sum("Reorder point", ("demand", "demand_sd", "lead", "lead_sd", "service"), _reorder),
        Sum("Days of cover", ("demand", "on_hand"), _cover),
        Sum("Order quantity", ("demand", "order_cost", "holding"), _order),
    ),
    formulas=(
        "order at = demand × delivery time + z √(delivery × sd² + demand² × delivery sd²)",
        "order = √(2 × demand a year × cost of an order ÷ holding cost)",
        "days of cover = on hand ÷ mean use a day",
    ),
    sources=(
        "Reorder point: Stevenson, Operations Management, 14th ed., reorder point models",
        "Order quantity: Harris 1913, as in Snyder and Shen, Fundamentals of Supply Chain Theory, 3.2",
    ),
    cautions=(CAUTION_FLAMMABLE_STOCK,),
)
