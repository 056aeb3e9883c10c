"""Battery, drive, charger, screen, stock, touch: monotonic, exact inverses, and figures that mean nothing."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.calculators.battery import (
    Fade,
    below_small_battery_lines,
    health_percent,
    own_fade,
    passenger_rule,
    runtime_h,
    watt_hours,
)
from bench.domain.calculators.charger import (
    CABLES,
    Cable,
    deliverable_w,
    lead_drop_v,
    offered_levels,
    voltages_apart_percent,
    wire_diameter_mm,
    wire_ohm_km,
)
from bench.domain.calculators.drive_wear import (
    bytes_written,
    drive_writes_a_day,
    percent_left,
    years_by_rating,
    years_by_wear,
)
from bench.domain.calculators.screen_area import (
    SPACES,
    Point,
    area,
    area_ratio,
    coverage,
    pixels_an_inch,
)
from bench.domain.calculators.touch import air_needed_m3_h, air_rise_k, touch_limit_c
from bench.domain.reorder import economic_order_quantity, order_and_holding_cost
from bench.errors import BadInput

SENSELESS = [0.0, -1.0, math.nan, math.inf]
FACTOR = st.floats(1.01, 10)


@given(mah=st.floats(50, 1e5), volts=st.floats(1, 60), more=FACTOR)
def test_watt_hours_and_back(mah: float, volts: float, more: float) -> None:
    wh = watt_hours(mah, volts)

    assert wh / volts * 1000 == pytest.approx(mah)
    assert watt_hours(mah * more, volts) > wh
    assert runtime_h(wh, 10) * 10 == pytest.approx(wh)
    assert runtime_h(wh, 10 * more) < runtime_h(wh, 10)


@given(full=st.floats(1, 200), design=st.floats(1, 200))
def test_health_does_not_depend_on_the_unit(full: float, design: float) -> None:
    assert health_percent(full * 1000, design * 1000) == pytest.approx(health_percent(full, design))


@given(health=st.floats(1, 110), rated=st.integers(50, 5000), end=st.floats(10, 95), less=st.floats(0, 50))
def test_cycles_left_fall_with_health_and_stop_at_nothing(
    health: float, rated: int, end: float, less: float
) -> None:
    fade = Fade(rated, end)
    left = fade.cycles_left(health)

    assert left >= 0
    assert fade.cycles_left(max(0.5, health - less)) <= left
    assert fade.cycles_left(100) == pytest.approx(rated)
    assert fade.cycles_left(end) == 0


@given(cycles=st.integers(50, 5000), health=st.floats(20, 95), end=st.floats(10, 95))
def test_the_own_line_goes_through_new_and_now(cycles: int, health: float, end: float) -> None:
    fade = own_fade(health, cycles, end)

    assert fade is not None
    assert 100 - fade.percent_a_cycle() * cycles == pytest.approx(health)


def test_no_own_line_without_cycles_or_fade() -> None:
    assert own_fade(85, 0, 80) is None
    assert own_fade(101, 300, 80) is None
    # One cycle over 99.9 % would say twenty cycles to 98; a gauge is off by more than that.
    assert own_fade(95.01, 300, 80) is None
    assert own_fade(95, 300, 80) is not None
    assert own_fade(85, 49, 80) is None
    assert own_fade(85, 50, 80) is not None


@given(st.floats(0.1, 1000), FACTOR)
def test_a_larger_battery_is_never_under_a_laxer_rule(wh: float, more: float) -> None:
    rules = ["up to 100 Wh", "100 to 160 Wh: with the airline's approval", "over 160 Wh: not as baggage"]

    assert rules.index(passenger_rule(wh)) <= rules.index(passenger_rule(wh * more))
    assert below_small_battery_lines(wh, wh / 6) >= below_small_battery_lines(wh * more, wh * more / 6)


@given(st.integers(0, 10**15))
def test_bytes_are_exact(units: int) -> None:
    assert bytes_written(units) // 512_000 == units


@given(used=st.integers(0, 255))
def test_life_left_never_below_nothing(used: int) -> None:
    assert percent_left(used) == (100 - used if used < 100 else 0)


@given(writes=st.floats(0.01, 100), capacity=st.floats(0.05, 100), years=st.floats(0.5, 20))
def test_writes_a_day_and_rating_are_inverse(writes: float, capacity: float, years: float) -> None:
    rated = writes * capacity * years * 365

    assert drive_writes_a_day(rated, capacity, years) == pytest.approx(writes)
    # At exactly the rated pace it lasts exactly the warranty.
    assert years_by_rating(rated, 0, writes * capacity * 1000) == pytest.approx(years)


@given(tb=st.floats(0.1, 1000), used=st.integers(1, 255), pace=st.floats(0.1, 1000), more=FACTOR)
def test_more_writes_a_day_leave_fewer_years(tb: float, used: int, pace: float, more: float) -> None:
    here, faster = years_by_wear(tb, used, pace), years_by_wear(tb, used, pace * more)

    assert here is not None
    assert faster is not None
    assert faster.low <= here.low
    assert here.low >= 0
    assert here.high is None or here.high >= here.low
    assert years_by_wear(tb, 0, pace) is None


@given(gauge=st.integers(0, 39), length=st.floats(0.1, 20), amps=st.floats(0.1, 30), more=FACTOR)
def test_thin_and_long_leads_lose_more(gauge: int, length: float, amps: float, more: float) -> None:
    drop = lead_drop_v(gauge, length, amps)

    assert wire_diameter_mm(gauge + 1) < wire_diameter_mm(gauge)
    assert wire_ohm_km(gauge + 1) > wire_ohm_km(gauge)
    assert lead_drop_v(gauge, length * more, amps) == pytest.approx(drop * more)
    assert lead_drop_v(gauge, length, amps * more) == pytest.approx(drop * more)


@given(watts=st.floats(2.5, 240))
def test_a_usb_source_never_offers_more_than_its_rating_or_its_cable_bears(watts: float) -> None:
    levels = offered_levels(watts)

    assert [level.volts for level in levels] == sorted({level.volts for level in levels})
    for volts, amps in levels:
        assert amps <= 5
        assert amps <= 3 or volts >= 20
        assert volts * amps <= watts + 1e-9
        assert (
            deliverable_w(watts, volts, CABLES["3 A"])
            <= deliverable_w(watts, volts, CABLES["5 A"])
            <= deliverable_w(watts, volts, CABLES["240 W"])
            <= watts + 1e-9
        )
    assert max(volts * amps for volts, amps in levels) == pytest.approx(watts)
    assert deliverable_w(watts, 12, CABLES["240 W"]) == 0


@given(one=st.floats(2.5, 240), more=st.floats(0, 200))
def test_a_stronger_usb_source_delivers_no_less_at_any_voltage(one: float, more: float) -> None:
    stronger = min(240.0, one + more)
    for volts, _ in offered_levels(one):
        assert deliverable_w(stronger, volts, CABLES["240 W"]) >= (
            deliverable_w(one, volts, CABLES["240 W"]) - 1e-9
        )


@given(width=st.integers(100, 10_000), height=st.integers(100, 10_000), inches=st.floats(1, 100))
def test_sharpness_and_diagonal_are_inverse(width: int, height: int, inches: float) -> None:
    density = pixels_an_inch(width, height, inches)

    assert pixels_an_inch(width, height, density) == pytest.approx(inches)
    assert pixels_an_inch(height, width, inches) == pytest.approx(density)


COORDINATE = st.floats(0.01, 0.99)
POINT = st.builds(Point, COORDINATE, COORDINATE)
TRIANGLE = st.tuples(POINT, POINT, POINT).filter(lambda corners: area(corners) > 1e-3)


@given(panel=TRIANGLE, space=st.sampled_from(list(SPACES.values())))
def test_coverage_is_a_share_and_no_more_than_the_ratio(
    panel: tuple[Point, Point, Point], space: tuple[Point, Point, Point]
) -> None:
    found = coverage(panel, space)

    assert 0 <= found <= 1
    assert found <= area_ratio(panel, space) + 1e-9
    assert coverage(panel, panel) == pytest.approx(1)
    # Whichever way round the corners are named.
    assert coverage((panel[1], panel[0], panel[2]), space) == pytest.approx(found, abs=1e-9)
    # What both share is the same from either side.
    assert coverage(space, panel) * area(panel) == pytest.approx(found * area(space), abs=1e-9)


def test_triangles_apart_share_nothing() -> None:
    corner = (Point(0.9, 0.9), Point(0.95, 0.9), Point(0.95, 0.95))
    assert coverage(corner, SPACES["sRGB"]) == 0


@pytest.mark.parametrize(
    "panel",
    [
        (Point(0.1, 0.1), Point(0.2, 0.2), Point(0.3, 0.3)),
        (Point(math.nan, 0.1), Point(0.2, 0.2), Point(0.3, 0.4)),
        (Point(1.2, 0.1), Point(0.2, 0.2), Point(0.3, 0.4)),
    ],
)
def test_primaries_that_span_nothing(panel: tuple[Point, Point, Point]) -> None:
    with pytest.raises(BadInput, match="Copy the primaries again"):
        coverage(panel, SPACES["sRGB"])


@given(watts=st.floats(0.1, 2000), rise=st.floats(0.5, 100), more=FACTOR)
def test_air_and_rise_are_inverse(watts: float, rise: float, more: float) -> None:
    air = air_needed_m3_h(watts, rise)

    assert air_rise_k(watts, air) == pytest.approx(rise)
    assert air_needed_m3_h(watts * more, rise) > air > air_needed_m3_h(watts, rise * more)


def test_no_limit_for_what_the_table_lacks() -> None:
    with pytest.raises(BadInput, match="There is no limit for wood"):
        touch_limit_c("wood", "over 1 min")


@given(
    demand=st.floats(0.1, 1e6),
    order=st.floats(0.01, 1e4),
    holding=st.floats(0.001, 1e4),
    off=st.floats(0.1, 10),
)
def test_no_other_quantity_costs_less(demand: float, order: float, holding: float, off: float) -> None:
    best = economic_order_quantity(demand, order, holding)
    cost = order_and_holding_cost(best, demand, order, holding)

    assert cost == pytest.approx(math.sqrt(2 * demand * order * holding))
    assert order_and_holding_cost(best * off, demand, order, holding) >= cost * (1 - 1e-12)


@pytest.mark.parametrize("value", SENSELESS)
def test_figures_that_mean_nothing(value: float) -> None:
    calls = [
        lambda: health_percent(value, 50),
        lambda: watt_hours(4400, value),
        lambda: passenger_rule(value),
        lambda: Fade(value, 80).percent_a_cycle(),
        lambda: Fade(500, value).percent_a_cycle(),
        lambda: runtime_h(50, value),
        lambda: years_by_wear(10, 3, value),
        lambda: years_by_rating(value, 0, 20),
        lambda: drive_writes_a_day(600, value, 5),
        lambda: lead_drop_v(18, value, 3),
        lambda: offered_levels(value),
        lambda: deliverable_w(65, 20, Cable(value, 20)),
        lambda: voltages_apart_percent(19.5, value),
        lambda: pixels_an_inch(1920, 1080, value),
        lambda: air_needed_m3_h(45, value),
        lambda: economic_order_quantity(value, 8, 0.2),
        lambda: order_and_holding_cost(value, 1300, 8, 0.2),
    ]
    for call in calls:
        with pytest.raises(BadInput) as caught:
            call()
        assert caught.value.remedy


@pytest.mark.parametrize(
    "call", [lambda: bytes_written(-1), lambda: percent_left(256), lambda: wire_ohm_km(41)]
)
def test_whole_figures_outside_their_range(call: object) -> None:
    assert callable(call)
    with pytest.raises(BadInput):
        call()
