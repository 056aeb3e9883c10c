"""Isopropyl in the air: the substance, the limits of exposure, and what is assumed of a room."""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, Source, by_id

SUBSTANCE = Source("IUPAC atomic weights, as chemicals 1.5.2 sums them")
NIOSH = Source("NIOSH Pocket Guide, conversion at 25 °C and one atmosphere", "2007-149")
FLAMMABLE = Source(
    "ISO/IEC 80079-20-1 (was IEC 60079-20-1), 2-propanol: 2.0 %, 50 g/m³", "2017, figure of 2010"
)
TENTH = Source(
    "OSHA, 29 CFR 1915.12(b): 10 % of the lower flammable limit", "as quoted in its shipyard guide"
)
EXPOSURE = Source("ACGIH threshold limit values, 2-propanol", "since 2001, as quoted in data sheets")
MIXING = Source("MMWR 43 (RR-13), table S3-1 and note: 1 perfect to 10 very poor", "1994")

LIMITS = by_id(
    SUBSTANCE.of("air.molar_mass_g_mol", 60.095, "g/mol"),
    NIOSH.of("air.molar_volume_l", 24.45, "l/mol"),
    FLAMMABLE.of("air.lower_flammable_ppm", 20_000, "ppm"),
    TENTH.of("air.flammable_share_percent", 10, "%"),
    EXPOSURE.of("air.shift_ppm", 200, "ppm"),
    EXPOSURE.of("air.short_ppm", 400, "ppm"),
    EXPOSURE.of("air.shift_hours", 8, "h"),
    MIXING.of("air.least_mixing", 1),
    MIXING.of("air.most_mixing", 10),
    PRACTICE.of("air.closed_changes", 0.5, "per h"),
    PRACTICE.of("air.mixing", 3),
    PRACTICE.of("air.minutes", 15, "min"),
    PRACTICE.of("air.target_ppm", 20, "ppm"),
)
