"""Every row of the table of limits against the figure as its source prints it.

What a sum or a verdict makes of them is tested where the sum is: this file holds the table to the outside, so
that no row goes without a check. `python -m tests.published.mutate` changes each row and says who noticed.
"""

from __future__ import annotations

from datetime import date

import pytest

from bench.domain.limits.record import COMMON_PRACTICE, Limit, Source, by_id
from bench.domain.limits.table import whole_table
from tests.domain.condition.test_file_ranges import RANGES

INCH_MM = 25.4
TABLE = whole_table()

RULE_SMALL = "49 CFR 173.185(c)(1)(i): 20 Wh for a cell, 100 Wh for a battery"
RULE_MARK = "49 CFR 173.185(c)(3): two packages or fewer, each of not more than four cells or two batteries"
FAA = "FAA: over 100 and up to 160 Wh with the airline's approval"
AIR_2026 = "IATA edition 67, packing instruction 966: over 2.7 Wh at no more than 30 % from 1 January 2026"
SECONDARY = "often stated: 300 to 500 cycles to about 80 % (secondary)"
CHART = (
    "chart after the Handbook of Electronic Tables and Formulas (electrodragon.com, oocities.org/dtmcbride)"
)
PD = "USB Power Delivery power rules, as printed by computerlanguage.com; 28, 36 and 48 V at 5 A above 100 W"
LETTERS = "IEC product safety list, 13 Jan 2020 (77, at 25 °C ambient) and 2 Sep 2021 (48 to 94)"
OURS = COMMON_PRACTICE
MEMORY = "from memory"

# Row: the figure as printed, in the row's unit, and where.
PRINTED: dict[str, tuple[float, str]] = {
    "pack.cell_wh": (20, RULE_SMALL),
    "pack.battery_wh": (100, RULE_SMALL),
    "pack.approval_wh": (160, FAA),
    "pack.mark_packages": (2, RULE_MARK),
    "pack.mark_cells": (4, RULE_MARK),
    "pack.mark_batteries": (2, RULE_MARK),
    "pack.air_charge_percent": (30, AIR_2026),
    "pack.air_from_wh": (2.7, AIR_2026),
    "pack.air_from_year": (2026, AIR_2026),
    "pack.rated_cycles": (500, SECONDARY),
    "pack.end_percent": (80, SECONDARY),
    "pack.tired_cycles": (300, SECONDARY),
    "pack.keep_percent": (80, OURS),
    "pack.poor_percent": (50, OURS),
    "pack.spent_percent": (30, OURS),
    "pack.least_fade_percent": (5, OURS),
    "pack.least_cycles": (50, OURS),
    "pack.most_health_percent": (150, OURS),
    "pack.clipped_minutes": (5, OURS),
    "pack.screwed_minutes": (20, OURS),
    "pack.glued_minutes": (60, OURS),
    "pack.glued_risk_percent": (20, OURS),
    # ASTM B258: AWG 36 is 0.0050 in, 0000 is 0.4600 in, 39 steps apart: the ratio is 92.
    "wire.gauge_36_mm": (0.0050 * INCH_MM, "ASTM B258: AWG 36 is 0.0050 in"),
    "wire.ratio": (0.4600 / 0.0050, "ASTM B258: AWG 0000 is 0.4600 in"),
    "wire.steps": (36 - -3, "ASTM B258: AWG 0000 (-3) to 36"),
    "wire.copper_m_ohm_mm2": (1 / 0.017241, "annealed copper 0.017241 Ωmm²/m at 20 °C, as tables print it"),
    **{
        f"wire.amps_{gauge}": (amps, CHART)
        for gauge, amps in (
            *((10, 55), (12, 41), (14, 32), (16, 22), (18, 16), (20, 11)),
            *((22, 7), (24, 3.5), (26, 2.2), (28, 1.4), (30, 0.86)),
        )
    },
    "adapter.volts_apart_percent": (5, OURS),
    "lead.drop_percent": (5, OURS),
    **{f"usb.volts_{n}": (volts, PD) for n, volts in enumerate((5, 9, 15, 20, 28, 36, 48), start=1)},
    # The rating up to which a voltage is the highest: 3 A to 15 V, 5 A from 20 V on.
    **{f"usb.watts_{n}": (volts * 3, PD) for n, volts in enumerate((5, 9, 15), start=1)},
    **{f"usb.watts_{n}": (volts * 5, PD) for n, volts in enumerate((20, 28, 36, 48), start=4)},
    "usb.thin_cable_a": (3, "every USB-C cable bears 3 A, up to 20 V and 60 W (adafruit.com on USB PD)"),
    "usb.thick_cable_a": (5, "USB Type-C release 2.1, 3.11.1: 50 V and 5 A (quoted by cnx-software.com)"),
    "air.molar_mass_g_mol": (3 * 12.011 + 8 * 1.008 + 15.999, "IUPAC atomic weights, C3H8O"),
    "air.molar_volume_l": (8.314462618 * 298.15 / 101.325, "CODATA gas constant at 25 °C and one atmosphere"),
    "air.lower_flammable_ppm": (2.0 * 10_000, "2 % by volume, 50 g/m³: data sheets after IEC 60079-20-1"),
    "air.flammable_share_percent": (
        10,
        "OSHA shipyard guide, flammable atmospheres: 10 % or more of the lower limit",
    ),
    "air.shift_ppm": (200, "ACGIH: TWA 200 ppm, 8 hours (a maker's safety data sheet of 2009)"),
    "air.short_ppm": (400, "ACGIH: STEL 400 ppm, 15 minutes (the same)"),
    "air.shift_hours": (8, "ACGIH: TWA 200 ppm, 8 hours (the same)"),
    "air.least_mixing": (1, "MMWR 43 (RR-13), 1994, note to table S3-1"),
    "air.most_mixing": (10, "MMWR 43 (RR-13), 1994, note to table S3-1"),
    "air.closed_changes": (0.5, "0.41 per h in a house, windows closed (Howard-Reed, 2002); 0.5 is " + OURS),
    "air.mixing": (3, OURS),
    "air.minutes": (15, OURS),
    "air.target_ppm": (20, OURS),
    **{
        f"touch.{material}.{time}": (
            celsius,
            LETTERS if material == "plastic" and time != "shortly" else MEMORY,
        )
        for material, row in (
            ("metal", (48, 51, 60, 70)),
            ("glass", (48, 56, 71, 85)),
            ("plastic", (48, 60, 77, 94)),
        )
        for time, celsius in zip(("held", "shortly", "touched", "brushed"), row, strict=True)
    },
    "touch.room_c": (25, LETTERS),
    "touch.least_room_c": (15, OURS),
    "touch.most_room_c": (35, OURS),
    "fan.air_kg_m3": (101_325 / (287.05 * 293.15), "ideal gas, 287.05 J/kgK, at 20 °C and one atmosphere"),
    "fan.air_j_kgk": (3.5 * 287.05, "ideal gas of two atoms: 7/2 R, 287.05 J/kgK"),
    "load.coverage_factor": (2, "JCGM 100:2008 6.3.3: k = 2, about 95 %"),
    "load.reading_error_k": (1, OURS),
    "load.power_error_percent": (5, OURS),
    "paste.bond_um": (50, "makers' notes: 25 to 75 µm, the middle"),
    "paste.excess": (2, OURS),
    "paste.density_g_cm3": (2.5, OURS),
    "drive.data_unit_bytes": (1000 * 512, "NVM Express base specification: thousands of 512 byte units"),
    "drive.most_percent_used": (2**8 - 1, "NVM Express base specification: one byte, more than 254 is 255"),
    "drive.worn_out_percent": (
        100,
        "NVM Express base specification: 100 is the estimated endurance consumed",
    ),
    "drive.state_from_percent": (80, OURS),
    "drive.most_years": (20, OURS),
    "drive.warranty_years": (5, OURS),
    **{
        f"colour.{space}.{primary}_{axis}": (value, source)
        for space, source, printed in (
            ("sRGB", "ITU-R BT.709-6, 1.3", (0.640, 0.330, 0.300, 0.600, 0.150, 0.060)),
            ("NTSC 1953", "ITU-R BT.470-6, M/NTSC", (0.67, 0.33, 0.21, 0.71, 0.14, 0.08)),
            ("P3", "SMPTE RP 431-2", (0.680, 0.320, 0.265, 0.690, 0.150, 0.060)),
            ("BT.2020", "ITU-R BT.2020-2, table 3", (0.708, 0.292, 0.170, 0.797, 0.131, 0.046)),
        )
        for (primary, axis), value in zip(
            ((primary, axis) for primary in ("red", "green", "blue") for axis in "xy"), printed, strict=True
        )
    },
    "stock.service_percent": (95, OURS),
    # Inch sizes of AMS-DTL-23053/5, from memory; the two largest as 1 1/2 and 2 in.
    **{
        f"tube.2.{number}.{name}": (inches * INCH_MM, f"AMS-DTL-23053/5, {MEMORY}")
        for number, pair in enumerate(
            (
                *((0.063, 0.031), (0.093, 0.046), (0.125, 0.062), (0.187, 0.093), (0.250, 0.125)),
                *(
                    (0.375, 0.187),
                    (0.500, 0.250),
                    (0.750, 0.375),
                    (1.000, 0.500),
                    (1.500, 0.750),
                    (2.000, 1.000),
                ),
            )
        )
        for name, inches in zip(("expanded", "recovered"), pair, strict=True)
    },
    # What the ratio makes of each size as sold.
    **{
        f"tube.{ratio}.{number}.{name}": (size / ratio if name == "recovered" else size, MEMORY)
        for ratio, sold in ((3, (1.5, 3, 6, 9, 12, 18, 24, 39)), (4, (4, 8, 12, 16, 24)))
        for number, size in enumerate(sold)
        for name in ("expanded", "recovered")
    },
    "tube.clearance_percent": (20, "a supplier's guide: 20 to 30 % over the widest part"),
    "tube.shrink_percent": (10, "a supplier's guide: 5 to 15 % lengthwise, the middle"),
    "tube.least_hold_percent": (10, OURS),
    **{f"file.{name}.least": (float(least), OURS) for name, (least, _) in RANGES.items()},
    **{f"file.{name}.most": (float(most), OURS) for name, (_, most) in RANGES.items()},
}
# Printed figures are rounded: to 0.1 mm for tubing, to the last digit for the constants of physics.
WITHIN: dict[str, float] = {
    "tube": 0.051,
    "wire.copper_m_ohm_mm2": 0.01,
    "fan": 0.005,
    "air.molar_volume_l": 0.02,
    "air.molar_mass_g_mol": 0.002,
}


def _within(limit: Limit) -> float:
    absolute = WITHIN.get(limit.id, WITHIN.get(limit.id.split(".")[0], 1e-9 * abs(limit.value)))
    return absolute * limit.value if limit.id.startswith("fan") else absolute


def test_no_row_goes_without_a_printed_figure() -> None:
    assert set(TABLE) == set(PRINTED)


@pytest.mark.parametrize("limit", TABLE.values(), ids=list(TABLE))
def test_a_row_is_what_is_printed(limit: Limit) -> None:
    figure, source = PRINTED[limit.id]
    assert source
    assert limit.value == pytest.approx(figure, abs=_within(limit) or 1e-12)


@pytest.mark.parametrize("limit", TABLE.values(), ids=list(TABLE))
def test_a_row_says_where_it_comes_from_and_when_that_was_checked(limit: Limit) -> None:
    assert limit.source
    assert date(2026, 1, 1) <= date.fromisoformat(limit.checked)
    assert ("unverified" in limit.said) == limit.unverified
    assert "from memory" not in limit.said
    assert "one maker" not in limit.said


def test_what_is_only_from_memory_is_said_to_be_unverified() -> None:
    for limit_id, (_, source) in PRINTED.items():
        if source.endswith(MEMORY) and not limit_id.startswith("tube.2"):
            assert TABLE[limit_id].unverified, limit_id


def test_a_limit_is_given_once_and_a_whole_one_is_whole() -> None:
    source = Source("a source", "edition 1")
    with pytest.raises(ValueError, match="twice"):
        by_id(source.of("x.y", 1), source.of("x.y", 2))
    with pytest.raises(ValueError, match=r"x\.y is 1\.5, not a whole number"):
        _ = source.of("x.y", 1.5).whole
    assert source.of("x.y", 2).said == "a source, edition 1"
    assert source.of("x.y", 2.50).typed == "2.5"


def test_the_standards_stand_with_their_edition_or_as_unverified() -> None:
    """IEC 62368-1 changed its table between editions; ISO/IEC 80079-20-1 took the place of IEC 60079-20-1."""
    touch = [row for row in TABLE.values() if "IEC 62368-1" in row.source]
    vapour = [row for row in TABLE.values() if "80079-20-1" in row.source]
    assert touch
    assert vapour
    assert all("ISO/IEC 80079-20-1" in row.source and "2017" in row.edition for row in vapour)
    assert [row.id for row in touch if not (row.unverified or any(c.isdigit() for c in row.edition))] == []
