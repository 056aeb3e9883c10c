"""Heat: what may be touched, air that carries watts away, paste and load tests."""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, Source, by_id

QUOTED = Source(
    "IEC 62368-1 table 38 (TS1), as quoted in letters on a product-safety list",
    "letters of 2020 and 2021, when edition 3 (2018) was current; edition 4 (2023) not compared",
)
NOT_READ = Source("IEC 62368-1 table 38 (TS1)", "edition not known", unverified=True)
DRY_AIR = Source("dry air at 20 °C and one atmosphere, as EDN, 12 May 2005: 1.757 cfm a watt and kelvin")
GUM = Source("JCGM 100 (GUM) 6.2.1 and 6.3.3", "2008")

LIMITS = by_id(
    NOT_READ.of("touch.metal.held", 48, "°C"),
    NOT_READ.of("touch.metal.shortly", 51, "°C"),
    NOT_READ.of("touch.metal.touched", 60, "°C"),
    NOT_READ.of("touch.metal.brushed", 70, "°C"),
    NOT_READ.of("touch.glass.held", 48, "°C"),
    NOT_READ.of("touch.glass.shortly", 56, "°C"),
    NOT_READ.of("touch.glass.touched", 71, "°C"),
    NOT_READ.of("touch.glass.brushed", 85, "°C"),
    QUOTED.of("touch.plastic.held", 48, "°C"),
    NOT_READ.of("touch.plastic.shortly", 60, "°C"),
    QUOTED.of("touch.plastic.touched", 77, "°C"),
    QUOTED.of("touch.plastic.brushed", 94, "°C"),
    QUOTED.of("touch.room_c", 25, "°C"),
    PRACTICE.of("touch.least_room_c", 15, "°C"),
    PRACTICE.of("touch.most_room_c", 35, "°C"),
    DRY_AIR.of("fan.air_kg_m3", 1.2, "kg/m³"),
    DRY_AIR.of("fan.air_j_kgk", 1005, "J/kgK"),
    GUM.of("load.coverage_factor", 2),
    PRACTICE.of("load.reading_error_k", 1, "K"),
    PRACTICE.of("load.power_error_percent", 5, "%"),
    PRACTICE.of("paste.bond_um", 50, "µm"),
    PRACTICE.of("paste.excess", 2),
    PRACTICE.of("paste.density_g_cm3", 2.5, "g/cm³"),
)
