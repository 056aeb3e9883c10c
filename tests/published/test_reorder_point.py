"""Safety stock and reorder point against printed examples and two reference libraries.

Sources: scipy.stats.norm.ppf; stockpyl (Snyder and Shen, Fundamentals of Supply Chain Theory), base-stock
level for normal demand; Stevenson, Operations Management 14e, chapter 12, example 8; the ice cream of the
dairy, reorder point 8.39 (brainmass.com, problem 115846); demand 30, deviation 3, delivery 7 days,
deviation 4, z 1.28: safety stock 153.94 (worked answer, qammunity.org/7302931); demand 150 and so on:
plain arithmetic.
Tolerances: z to 1e-9, two good approximations of one function differ by no more; examples to half a unit of
the last digit printed, their z having two decimals (given as the share that z covers).
"""

from math import sqrt
from statistics import NormalDist

import pytest
from scipy.stats import norm
from stockpyl.newsvendor import newsvendor_normal

from bench.domain.reorder import reorder_from_use, reorder_point, safety_stock, z_value


@pytest.mark.parametrize("service", [0.5, 0.6, 0.75, 0.9, 0.95, 0.97, 0.975, 0.99, 0.999, 0.9999, 0.001])
def test_z_agrees_with_scipy(service):
    assert z_value(service) == pytest.approx(norm.ppf(service), abs=1e-9)


@pytest.mark.parametrize(
    ("service", "z"), [(0.90, 1.28155), (0.95, 1.64485), (0.975, 1.95996), (0.99, 2.32635)]
)
def test_z_agrees_with_the_printed_table(service, z):
    assert z_value(service) == pytest.approx(z, abs=5e-6)


def test_demand_over_the_delivery_time_known():
    # Stevenson 14e example 8: 50 tons, standard deviation 5, risk 3 %, z 1.88: 9.40 and 59.40.
    share = NormalDist().cdf(1.88)

    assert safety_stock(50, 5, 1, 0, share) == pytest.approx(9.40, abs=0.005)
    assert reorder_point(50, 5, 1, 0, share) == pytest.approx(59.40, abs=0.005)


@pytest.mark.parametrize(
    ("demand", "sd", "lead", "sd_lead", "z", "held", "level"),
    [
        (30, 3, 7, 4, 1.28, 153.94, 30 * 7 + 153.94),
        (150, 16, 10, 1, 1.65, 261.20, 1761.20),
    ],
)
def test_demand_and_delivery_both_vary(demand, sd, lead, sd_lead, z, held, level):
    share = NormalDist().cdf(z)

    assert safety_stock(demand, sd, lead, sd_lead, share) == pytest.approx(held, abs=0.005)
    assert reorder_point(demand, sd, lead, sd_lead, share) == pytest.approx(level, abs=0.005)


def test_demand_a_week_turned_into_demand_a_day():
    # Dairy: 21 gallons a week, sd 3.5, seven days open, delivery in 2 days, 90 %: 8.39 with z 1.28.
    level = reorder_point(21 / 7, 3.5 / sqrt(7), 2, 0, NormalDist().cdf(1.28))

    assert level == pytest.approx(8.39, abs=0.005)


@pytest.mark.parametrize("service", [0.8, 0.9, 0.95, 0.99])
def test_the_level_is_the_base_stock_level_of_the_reference_library(service):
    # With holding cost 1 - service and stockout cost service, the newsvendor's critical ratio is the service
    # level, and its base-stock level over the delivery time is the reorder point. Tolerance 1e-6, relative.
    demand, sd, lead = 40.0, 9.0, 6
    base_stock, _ = newsvendor_normal(1 - service, service, demand * lead, sd * sqrt(lead))

    assert reorder_point(demand, sd, lead, 0, service) == pytest.approx(base_stock, rel=1e-6)


def test_the_level_from_daily_use_agrees_with_scipy():
    daily = [12_000, 0, 30_500, 18_000, 0, 22_000, 9_500]
    mean = sum(daily) / 7
    sd = sqrt(sum((use - mean) ** 2 for use in daily) / 6)
    exact = mean * 5 + norm.ppf(0.95) * sd * sqrt(5)

    # Rounded up to a whole thousandth.
    assert exact <= reorder_from_use(daily, 5) < exact + 1
