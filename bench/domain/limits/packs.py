"""Batteries: lines of the transport and passenger rules, and what is said of their wear."""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, Source, by_id

SMALL = Source("49 CFR 173.185(c)(1)(i), ADR special provision 188", "as amended, read in 2026")
MARK = Source("49 CFR 173.185(c)(3)", "as amended, read in 2026 in an adviser's quotation")
PASSENGER = Source("FAA, batteries carried by passengers", "page read in 2026")
AIR_BESIDE = Source(
    "ICAO Technical Instructions 2025-2026 and IATA Dangerous Goods Regulations, packing instruction 966",
    "IATA edition 67, from 2026-01-01",
)
MAKERS = Source("makers' statements of pack life, secondary: 300 to 500 cycles to about 80 %")

LIMITS = by_id(
    SMALL.of("pack.cell_wh", 20, "Wh"),
    SMALL.of("pack.battery_wh", 100, "Wh"),
    PASSENGER.of("pack.approval_wh", 160, "Wh"),
    MARK.of("pack.mark_packages", 2),
    MARK.of("pack.mark_cells", 4),
    MARK.of("pack.mark_batteries", 2),
    AIR_BESIDE.of("pack.air_charge_percent", 30, "%"),
    AIR_BESIDE.of("pack.air_from_wh", 2.7, "Wh"),
    AIR_BESIDE.of("pack.air_from_year", 2026),
    MAKERS.of("pack.rated_cycles", 500),
    MAKERS.of("pack.end_percent", 80, "%"),
    MAKERS.of("pack.tired_cycles", 300),
    PRACTICE.of("pack.keep_percent", 80, "%"),
    PRACTICE.of("pack.poor_percent", 50, "%"),
    PRACTICE.of("pack.spent_percent", 30, "%"),
    PRACTICE.of("pack.least_fade_percent", 5, "%"),
    PRACTICE.of("pack.least_cycles", 50),
    PRACTICE.of("pack.most_health_percent", 150, "%"),
    PRACTICE.of("pack.clipped_minutes", 5, "min"),
    PRACTICE.of("pack.screwed_minutes", 20, "min"),
    PRACTICE.of("pack.glued_minutes", 60, "min"),
    PRACTICE.of("pack.glued_risk_percent", 20, "%"),
)
