"""Tubing, paste and solvent: monotonic where physics is, exact inverses, and figures that mean nothing."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bench.domain.calculators.paste import (
    LoadTest,
    compare,
    jobs_in_tube,
    layer_resistance_k_w,
    layer_volume_ul,
    rise_per_watt,
)
from bench.domain.calculators.solvent_air import (
    Use,
    air_needed_m3_h,
    airing_minutes,
    effective_changes,
    mg_m3_of,
    ppm_of,
    sealed_mg_m3,
    stock_to_take_ml,
)
from bench.domain.calculators.tubing import (
    SIZES,
    build_up_mm,
    cut_length_mm,
    fitting,
    grips,
    margin_percent,
    passes_over,
    ratio_needed,
)
from bench.errors import BadInput

MM = st.floats(0.3, 60)
PERCENT = st.floats(0, 60)
SENSELESS = [0.0, -1.0, math.nan, math.inf]


@given(over=MM, cable=MM, clearance=PERCENT)
def test_what_fits_passes_and_grips_and_nothing_else_does(
    over: float, cable: float, clearance: float
) -> None:
    found = fitting(over, cable, clearance)
    for tube in SIZES:
        assert (tube in found) == (passes_over(tube, over, clearance) and grips(tube, cable))
    for tube in found:
        assert tube.expanded_mm > over
        assert 0 < margin_percent(tube, cable) < 100
        assert tube.expanded_mm / tube.recovered_mm >= ratio_needed(over, cable, clearance) * 0.999


@given(over=MM, cable=MM, clearance=PERCENT, more=st.floats(0, 20))
def test_a_larger_plug_or_a_thinner_cable_never_lets_more_fit(
    over: float, cable: float, clearance: float, more: float
) -> None:
    found = set(fitting(over, cable, clearance))

    assert set(fitting(over + more, cable, clearance)) <= found
    assert set(fitting(over, cable, clearance + more)) <= found
    assert found <= set(fitting(over, cable + more, clearance))


@given(over=MM, clearance=PERCENT)
def test_building_up_helps_exactly_from_there_on(over: float, clearance: float) -> None:
    thicker = build_up_mm(over, clearance)
    if thicker is None:
        assert not fitting(over, 1000, clearance)
    else:
        assert not fitting(over, thicker, clearance)
        assert fitting(over, thicker * 1.01, clearance)


@given(finished=st.floats(1, 1000), shrink=st.floats(0, 90))
def test_cut_and_finished_length_are_inverse(finished: float, shrink: float) -> None:
    cut = cut_length_mm(finished, shrink)

    assert cut >= finished
    assert cut * (1 - shrink / 100) == pytest.approx(finished)


@given(die=st.floats(1, 5000), bond=st.floats(1, 1000), k=st.floats(0.1, 100), more=st.floats(1.01, 10))
def test_a_thicker_layer_and_a_poorer_paste_resist_more(
    die: float, bond: float, k: float, more: float
) -> None:
    here = layer_resistance_k_w(die, bond, k)

    assert layer_resistance_k_w(die, bond * more, k) > here > layer_resistance_k_w(die, bond, k * more)
    assert layer_resistance_k_w(die * more, bond, k) < here
    assert layer_volume_ul(die * more, bond) > layer_volume_ul(die, bond)
    # Volume and resistance come from one thickness: R = V / (k A^2), V in mm^3, k in W/mmK.
    assert here == pytest.approx(layer_volume_ul(die, bond) / (k / 1000) / die**2)


@given(jobs=st.integers(1, 1000), per_job=st.floats(1, 100), density=st.floats(0.5, 12))
def test_a_tube_made_for_so_many_jobs_holds_them(jobs: int, per_job: float, density: float) -> None:
    grams = jobs * per_job / 1000 * density

    assert jobs_in_tube(grams, density, per_job) == jobs
    assert jobs_in_tube(grams * 0.999, density, per_job) == jobs - 1


@given(
    hot=st.floats(40, 110),
    room=st.floats(15, 35),
    power=st.floats(5, 200),
    error=st.floats(0, 5),
    off=st.floats(-4, 4),
)
def test_a_change_that_the_readings_explain_is_never_called_real(
    hot: float, room: float, power: float, error: float, off: float
) -> None:
    found = compare(LoadTest(hot, room, power), LoadTest(hot + off, room, power), error, 0)

    assert found.change * power == pytest.approx(off, abs=1e-9)
    assert found.real == (abs(found.change) > found.uncertainty)
    assert compare(LoadTest(hot, room, power), LoadTest(hot, room, power), error, 0).change == 0
    # One degree either way on four readings explains 2.3 K at equal power; more error explains more.
    assert found.uncertainty * power == pytest.approx(4 / math.sqrt(3) * error)


@given(ppm=st.floats(0, 1e6))
def test_ppm_and_mg_are_inverse(ppm: float) -> None:
    assert ppm_of(mg_m3_of(ppm)) == pytest.approx(ppm)


USES = st.builds(Use, st.floats(0.01, 5000), st.floats(0.02, 8), st.floats(1, 1e5), st.floats(0, 100))


@given(use=USES, hours=st.floats(0.01, 24), more=st.floats(1.01, 10))
def test_the_level_obeys_the_room(use: Use, hours: float, more: float) -> None:
    level, most = use.after_mg_m3(hours), sealed_mg_m3(use.used_g, use.room_m3)

    assert 0 <= level <= most * (1 + 1e-12)
    assert use.mean_mg_m3(hours) <= most * (1 + 1e-9)
    assert use._replace(changes_h=use.changes_h * more + 0.1).after_mg_m3(hours) <= level
    assert use._replace(room_m3=use.room_m3 * more).after_mg_m3(hours) <= level
    assert use._replace(used_g=use.used_g * more).after_mg_m3(hours) == pytest.approx(level * more)
    assert use.after_mg_m3(use.over_h) >= use.after_mg_m3(use.over_h * more)


@given(
    start=st.floats(1, 1e5),
    target=st.floats(0.1, 1000),
    changes=st.floats(0.01, 100),
    factor=st.floats(1, 10),
)
def test_airing_lasts_until_exactly_the_target(
    start: float, target: float, changes: float, factor: float
) -> None:
    rate = effective_changes(changes, factor)
    minutes = airing_minutes(start, target, rate)

    assert minutes is not None
    assert minutes >= 0
    if start > target:
        assert start * math.exp(-rate * minutes / 60) == pytest.approx(target)
        longer = airing_minutes(start, target, rate / 2)
        assert longer == pytest.approx(2 * minutes)


def test_without_air_it_never_clears() -> None:
    assert airing_minutes(100, 20, 0) is None
    assert airing_minutes(10, 20, 0) == 0


@given(grams=st.floats(0.1, 1000), room=st.floats(5, 500), limit=st.floats(1, 1000))
def test_the_air_needed_holds_a_steady_use_at_the_limit(grams: float, room: float, limit: float) -> None:
    # After very long the box model stands still at G/Q.
    air = air_needed_m3_h(grams, limit, 1)
    hours = 200 * room / air + 1
    steady = Use(grams * hours, hours, room, air / room).after_mg_m3(hours)

    assert ppm_of(steady) == pytest.approx(limit, rel=1e-6)


@given(have=st.floats(1, 100), want=st.floats(1, 100), total=st.floats(1, 1e5))
def test_a_dilution_keeps_the_alcohol(have: float, want: float, total: float) -> None:
    assume(want <= have)
    take = stock_to_take_ml(have, want, total)

    assert take <= total * (1 + 1e-12)
    assert take * have == pytest.approx(total * want)


def test_no_dilution_makes_it_stronger() -> None:
    with pytest.raises(BadInput, match=r"99 % cannot be made from 70 %\. Start from a stronger alcohol"):
        stock_to_take_ml(70, 99, 1000)


@pytest.mark.parametrize("value", SENSELESS)
def test_figures_that_mean_nothing(value: float) -> None:
    tests = LoadTest(80, 20, 45)
    calls = [
        lambda: passes_over(SIZES[0], value, 20),
        lambda: grips(SIZES[0], value),
        lambda: cut_length_mm(value, 10),
        lambda: layer_volume_ul(value, 50),
        lambda: layer_resistance_k_w(100, 50, value),
        lambda: jobs_in_tube(value, 2.5, 10),
        lambda: rise_per_watt(80, 20, value),
        lambda: sealed_mg_m3(value, 30),
        lambda: Use(10, value, 30, 1).after_mg_m3(1),
        lambda: air_needed_m3_h(10, value, 1),
        lambda: effective_changes(1, value),
        lambda: stock_to_take_ml(99, 70, value),
    ]
    if value != 0:
        calls += [
            lambda: ppm_of(value),
            lambda: effective_changes(value, 3),
            lambda: compare(tests, tests, value, 5),
            lambda: compare(tests, tests, 1, value),
            lambda: build_up_mm(5, value),
        ]
    for call in calls:
        with pytest.raises(BadInput) as caught:
            call()
        assert caught.value.remedy


@pytest.mark.parametrize(("hot", "room"), [(20, 20), (20, 25), (math.nan, 20), (80, math.inf)])
def test_a_chip_colder_than_the_room(hot: float, room: float) -> None:
    with pytest.raises(BadInput, match="cannot be"):
        rise_per_watt(hot, room, 45)
