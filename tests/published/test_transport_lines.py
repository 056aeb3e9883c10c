"""Watt-hours and the lines of the transport rules.

Sources: 4400 mAh at 14.4 V = 63.36 Wh (gas-gauge manual TI SLUUBT5C); 7.2 V 680 mAh = 4.9 Wh (printed
on packs); 20 Wh a cell and 100 Wh a battery (49 CFR 173.185(c)(1)(i), ADR SP 188). Tolerance: none.
"""

from __future__ import annotations

import pytest

from bench.domain.shipping import (
    BATTERY_LIMIT_UWH,
    CELL_LIMIT_UWH,
    CHECK,
    NO_CLEARANCE,
    PackEnergy,
    pack_energy,
    shipping_lines,
)


def test_the_lines_are_the_published_ones() -> None:
    assert (CELL_LIMIT_UWH, BATTERY_LIMIT_UWH) == (20 * 10**6, 100 * 10**6)


@pytest.mark.parametrize(
    ("uah", "uv", "uwh", "shown"),
    [(4_400_000, 14_400_000, 63_360_000, "63.36 Wh"), (680_000, 7_200_000, 4_896_000, "4.90 Wh")],
)
def test_watt_hours_from_capacity_and_nominal_voltage(uah: int, uv: int, uwh: int, shown: str) -> None:
    pack = pack_energy("", {"design_uah": uah, "voltage_min_design_uv": uv})
    assert (pack.uwh, pack.shown) == (uwh, shown)
    assert "estimate" in shipping_lines([pack])[0]


def test_the_gauges_own_energy_goes_before_a_reckoned_one() -> None:
    figures = {"design_uwh": 57_020_000, "design_uah": 1, "voltage_min_design_uv": 1, "full_uwh": 9}
    assert pack_energy("BAT0", figures).uwh == 57_020_000


@pytest.mark.parametrize(
    "figures", [{}, {"design_uah": 1}, {"full_uwh": 40_000_000, "voltage_uv": 11_000_000}]
)
def test_what_is_not_told_is_not_known(figures: dict[str, int]) -> None:
    pack = pack_energy("BAT0", figures)
    assert (pack.uwh, pack.shown) == (None, "not known")
    assert "Battery BAT0: watt-hours not known" in shipping_lines([pack])[0]


@pytest.mark.parametrize(
    ("uwh", "over", "cell"),
    [
        (20_000_000, False, "neither is a cell in it"),
        (20_000_001, False, "see its label"),
        (100_000_000, False, "see its label"),
        (100_000_001, True, ""),
    ],
)
def test_each_side_of_each_line(uwh: int, over: bool, cell: str) -> None:
    lines = shipping_lines([PackEnergy("", uwh, "as read")])
    assert ("OVER 100 Wh" in lines[0]) == over
    assert ("At or under the 100 Wh line" in lines[0]) != over
    assert cell in " ".join(lines)
    assert any("20 Wh" in line for line in lines) != over


def test_every_pack_is_told_and_when_it_was_read() -> None:
    packs = [PackEnergy("BAT0", 23_000_000, "x"), PackEnergy("BAT1", 120_000_000, "x", before_work=True)]
    lines = shipping_lines(packs)
    assert lines[0].startswith("Battery BAT0: 23.00 Wh")
    assert "Battery BAT1: 120.00 Wh (x, read before the work). OVER" in lines[2]


@pytest.mark.parametrize("packs", [(), (PackEnergy("", None, ""),), (PackEnergy("", 50_000_000, "x"),)])
def test_the_carriers_and_local_rules_come_first_and_nothing_is_called_safe(
    packs: tuple[PackEnergy, ...],
) -> None:
    for lines in (shipping_lines(packs), shipping_lines(packs, "swollen")):
        assert lines[-2:] == (NO_CLEARANCE, CHECK)
        assert "check the carrier's and local rules" in lines[-1]
        assert "100 Wh" in " ".join(lines) or "STOP" in lines[0]
        assert not any(word in " ".join(lines).casefold() for word in ("safe", "allowed", "permitted"))


def test_a_bad_cell_stops_it() -> None:
    lines = shipping_lines([PackEnergy("", 50_000_000, "x")], "punctured")
    assert lines[0].startswith("STOP: a punctured cell is on record. It is not sent")
    assert len(lines) == 3


def test_the_air_and_the_mark_are_told_as_their_rules_stand() -> None:
    # IATA Dangerous Goods Regulations, edition 67, packing instructions 966 and 967, as summed up in the
    # trade: from 1 January 2026 packed with equipment, over 2.7 Wh, at no more than 30 %; contained: advised.
    told = " ".join(shipping_lines([PackEnergy("", 50_000_000, "x")]))
    assert "contained in equipment a charge of at most 30 % is recommended" in told
    assert "over 2.7 Wh packed with equipment it is asked since 1 January 2026" in told
    # 49 CFR 173.185(c)(3): two packages or fewer, each of no more than four cells or two batteries.
    assert "at most 2 packages, each with at most 2 batteries or 4 cells" in told
    assert "(49 CFR 173.185(c)(3))" in told
