"""When to order and how much: safety stock, reorder point, days of cover.

Floats are right here: these are statistics about stock, never stock itself.
"""

import math
from collections.abc import Sequence

from bench.errors import BadInput

LEAST_SERVICE = 0.5


def z_value(service: float) -> float:
    """How many standard deviations cover this share of cases (0 < service < 1) of a normal distribution."""
    if not 0 < service < 1:
        raise BadInput(
            f"A service level of {service} is not a share.", "Give one between 0 and 1, such as 0.95."
        )
    from statistics import NormalDist  # loads ten modules; the first screen needs none of them

    return NormalDist().inv_cdf(service)


def safety_stock(
    mean_demand_per_day: float,
    sd_demand_per_day: float,
    mean_lead_days: float,
    sd_lead_days: float,
    service: float,
) -> float:
    """The stock held against demand and delivery both varying, in the unit of the demand.

    z * sqrt(lead * sd_demand^2 + demand^2 * sd_lead^2), the two independent and normal.
    Source: Stevenson, Operations Management, 14th ed., inventory management, reorder point models.
    BadInput for negative or endless figures and for a service level below a half.
    """
    figures = (mean_demand_per_day, sd_demand_per_day, mean_lead_days, sd_lead_days)
    if not all(math.isfinite(figure) and figure >= 0 for figure in figures):
        raise BadInput("Demand, delivery time and their spread cannot be negative.", "Correct the figures.")
    if service < LEAST_SERVICE:
        raise BadInput(
            f"A service level of {service} would lower the stock.", "Give 0.5 or more, such as 0.95."
        )
    variance = mean_lead_days * sd_demand_per_day**2 + (mean_demand_per_day * sd_lead_days) ** 2
    return z_value(service) * math.sqrt(variance)


def reorder_point(
    mean_demand_per_day: float,
    sd_demand_per_day: float,
    mean_lead_days: float,
    sd_lead_days: float,
    service: float,
) -> float:
    """The level at which to order: demand over the delivery time plus safety stock (source as there)."""
    held = safety_stock(mean_demand_per_day, sd_demand_per_day, mean_lead_days, sd_lead_days, service)
    return mean_demand_per_day * mean_lead_days + held


def reorder_from_use(daily_use: Sequence[int], lead_days: int, service: float = 0.95) -> int:
    """The reorder point in thousandths, rounded up, from thousandths used each day; 0 where no day is known.

    Uses the sample standard deviation (0 for a single day) and takes the delivery time as certain.
    """
    if not daily_use:
        return 0
    mean = math.fsum(daily_use) / len(daily_use)
    squares = math.fsum((use - mean) ** 2 for use in daily_use)
    spread = math.sqrt(squares / (len(daily_use) - 1)) if len(daily_use) > 1 else 0.0
    level = reorder_point(mean, spread, lead_days, 0.0, service)
    # Rounded first, so that the last bits of a float never add a thousandth.
    return math.ceil(round(level, 6))


def economic_order_quantity(demand_a_year: float, order_cost: float, holding_cost_a_year: float) -> float:
    """How much to order at once so that ordering and holding together cost least, in the unit of the demand.

    sqrt(2 * demand * cost of an order / cost of holding one for a year), both costs in the same money.
    Source: Snyder and Shen, Fundamentals of Supply Chain Theory, section 3.2. BadInput unless all exceed 0.
    """
    figures = (demand_a_year, order_cost, holding_cost_a_year)
    if not all(math.isfinite(figure) and figure > 0 for figure in figures):
        raise BadInput("Demand and both costs are to be above 0.", "Correct the figures.")
    return math.sqrt(2 * demand_a_year * order_cost / holding_cost_a_year)


def order_and_holding_cost(
    quantity: float, demand_a_year: float, order_cost: float, holding_cost_a_year: float
) -> float:
    """What ordering that much at a time costs a year: orders placed, half a lot held (source as above)."""
    if not (math.isfinite(quantity) and quantity > 0):
        raise BadInput("The quantity to order is to be above 0.", "Correct it.")
    return order_cost * demand_a_year / quantity + holding_cost_a_year * quantity / 2


def days_of_cover(on_hand_thousandths: int, used_thousandths: int, over_days: int) -> float | None:
    """How many days the stock lasts at the pace of the last over_days days; None if nothing was used."""
    _check_days(over_days)
    if used_thousandths <= 0:
        return None
    return on_hand_thousandths * over_days / used_thousandths


def suggest_packs(
    on_hand: int,
    reorder_point_thousandths: int,
    pack_thousandths: int,
    used_thousandths: int,
    over_days: int,
    lead_days: int,
) -> int:
    """How many whole packs to order, at least one; quantities in thousandths.

    Enough to stand, with what is on hand, at the reorder point plus the use of two delivery times: one passes
    until the packs arrive, one until the next order would. Common practice, no source.
    """
    _check_days(over_days)
    if pack_thousandths <= 0:
        raise BadInput("A pack holds nothing.", "Give how much one pack holds.")
    # Both sides times over_days, to stay in whole numbers.
    short = (reorder_point_thousandths - on_hand) * over_days + 2 * lead_days * used_thousandths
    return max(1, -(-short // (pack_thousandths * over_days)))


def _check_days(over_days: int) -> None:
    if over_days <= 0:
        raise BadInput(f"Use over {over_days} days says nothing.", "Look back at least one day.")
