"""Chargers against printed wire tables and the USB power rules."""

import pytest

from bench.domain.calculators.charger import (
    CABLES,
    deliverable_w,
    lead_drop_v,
    offered_levels,
    wire_bears_a,
    wire_diameter_mm,
    wire_ohm_km,
)
from tests.published.cases import Case

TABLE = "wire table, wp.1728.org/?p=4314"
OTHER_TABLE = "wire table, daycounter.com AWG"
RULES = "USB Power Delivery power rules, as printed by computerlanguage.com"
# Gauge: diameter in mm, ohms a kilometre, as printed.
WIRES = {
    10: (2.5883, 3.28),
    18: (1.0236, 20.94),
    20: (0.8128, 33.29),
    22: (0.6452, 52.94),
    24: (0.5105, 84.20),
}
CHASSIS = (
    "Handbook of Electronic Tables and Formulas, chart for chassis wiring (eol.ucar.edu, electrodragon.com)"
)
CHASSIS_A = {
    10: 55.0,
    12: 41.0,
    14: 32.0,
    16: 22.0,
    18: 16.0,
    20: 11.0,
    22: 7.0,
    24: 3.5,
    26: 2.2,
    28: 1.4,
    30: 0.86,
}

CASES = (
    *(
        Case(
            f"AWG {gauge}, diameter in mm",
            TABLE,
            lambda gauge=gauge: wire_diameter_mm(gauge),
            diameter,
            diameter * 0.003,
            "the table is made of diameters rounded to 0.0001 in: 0.3 %",
        )
        for gauge, (diameter, _) in WIRES.items()
    ),
    *(
        Case(
            f"AWG {gauge}, A in chassis wiring",
            CHASSIS,
            lambda gauge=gauge: wire_bears_a(gauge),
            amps,
            0,
            "a limit",
        )
        for gauge, amps in CHASSIS_A.items()
    ),
    *(
        Case(
            f"AWG {gauge}, ohms a kilometre",
            TABLE,
            lambda gauge=gauge: wire_ohm_km(gauge),
            ohms,
            ohms * 0.005,
            "tables differ by copper grade and rounded diameters: 0.5 %",
        )
        for gauge, (_, ohms) in WIRES.items()
    ),
    Case(
        "AWG 24, ohms a metre",
        OTHER_TABLE,
        lambda: wire_ohm_km(24) / 1000,
        0.0842,
        0.0004,
        "tables differ by 0.5 %",
    ),
    Case(
        "100 ft of paired AWG 18 at 1 A, volts lost",
        "nebulan.net voltage drop chart: 1.27 V a 100 ft",
        lambda: lead_drop_v(18, 30.48, 1),
        1.27,
        0.02,
        "the chart rounds, and copper grades differ by 1 %",
    ),
    Case(
        "65 W at 19.5 V, 1.8 m of AWG 18, volts lost",
        "plain arithmetic with 20.9 Ω/km",
        lambda: lead_drop_v(18, 1.8, 65 / 19.5),
        0.251,
        0.002,
        "20.9 is rounded: 0.5 %",
    ),
    Case(
        "the same in AWG 22",
        "plain arithmetic with 52.7 Ω/km",
        lambda: lead_drop_v(22, 1.8, 65 / 19.5),
        0.632,
        0.005,
        "tables differ by 0.5 %",
    ),
    *(
        Case(
            f"USB-C source of {watts} W",
            RULES,
            lambda watts=watts: offered_levels(watts),
            levels,
            0,
            "a rule",
        )
        for watts, levels in (
            (15, ((5, 3),)),
            (27, ((5, 3), (9, 3))),
            (45, ((5, 3), (9, 3), (15, 3))),
            (50, ((5, 3), (9, 3), (15, 3), (20, 2.5))),
            (60, ((5, 3), (9, 3), (15, 3), (20, 3))),
            (100, ((5, 3), (9, 3), (15, 3), (20, 5))),
            (140, ((5, 3), (9, 3), (15, 3), (20, 5), (28, 5))),
            (180, ((5, 3), (9, 3), (15, 3), (20, 5), (28, 5), (36, 5))),
            (240, ((5, 3), (9, 3), (15, 3), (20, 5), (28, 5), (36, 5), (48, 5))),
        )
    ),
    Case(
        "USB-C source of 240 W, highest level",
        "USB PD 3.1: 28, 36, 48 V at 5 A (240 W)",
        lambda: offered_levels(240)[-1],
        (48, 5),
        0,
        "a rule",
    ),
    Case(
        "140 W at 28 V through a 3 A and a 5 A cable, W",
        "USB Type-C release 2.1, 3.11: 28 V and more through extended-power cables only (cnx-software.com)",
        lambda: [deliverable_w(140, 28, CABLES[name]) for name in ("3 A", "5 A", "240 W")],
        [0.0, 0.0, 140.0],
        0,
        "a rule",
    ),
    Case(
        "100 W through a 3 A cable at 20 V, W",
        "USB PD: over 3 A needs a 5 A cable",
        lambda: deliverable_w(100, 20, CABLES["3 A"]),
        60.0,
        1e-9,
        "exact but for the float",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case)
def test_published(case):
    assert case.holds(), f"{case.got()} instead of {case.expected}"
