"""Chargers and leads: wire, the current it bears, and the power rules of USB-C."""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, Source, by_id

WIRE = Source("ASTM B258", "B258-18")
COPPER = Source("IEC 60028", "1925")
CHASSIS = Source(
    "Handbook of Electronic Tables and Formulas for American Wire Gauge, chassis wiring",
    "as quoted by UCAR, edition not named",
)
POWER_RULES = Source("USB Power Delivery specification, power rules", "revision 3.1")
CABLES = Source("USB Type-C specification, cable currents and section 3.11", "release 2.1")

LIMITS = by_id(
    WIRE.of("wire.gauge_36_mm", 0.127, "mm"),
    WIRE.of("wire.ratio", 92),
    WIRE.of("wire.steps", 39),
    COPPER.of("wire.copper_m_ohm_mm2", 58, "m/Ωmm²"),
    CHASSIS.of("wire.amps_10", 55, "A"),
    CHASSIS.of("wire.amps_12", 41, "A"),
    CHASSIS.of("wire.amps_14", 32, "A"),
    CHASSIS.of("wire.amps_16", 22, "A"),
    CHASSIS.of("wire.amps_18", 16, "A"),
    CHASSIS.of("wire.amps_20", 11, "A"),
    CHASSIS.of("wire.amps_22", 7, "A"),
    CHASSIS.of("wire.amps_24", 3.5, "A"),
    CHASSIS.of("wire.amps_26", 2.2, "A"),
    CHASSIS.of("wire.amps_28", 1.4, "A"),
    CHASSIS.of("wire.amps_30", 0.86, "A"),
    PRACTICE.of("adapter.volts_apart_percent", 5, "%"),
    PRACTICE.of("lead.drop_percent", 5, "%"),
    POWER_RULES.of("usb.volts_1", 5, "V"),
    POWER_RULES.of("usb.volts_2", 9, "V"),
    POWER_RULES.of("usb.volts_3", 15, "V"),
    POWER_RULES.of("usb.volts_4", 20, "V"),
    POWER_RULES.of("usb.volts_5", 28, "V"),
    POWER_RULES.of("usb.volts_6", 36, "V"),
    POWER_RULES.of("usb.volts_7", 48, "V"),
    POWER_RULES.of("usb.watts_1", 15, "W"),
    POWER_RULES.of("usb.watts_2", 27, "W"),
    POWER_RULES.of("usb.watts_3", 45, "W"),
    POWER_RULES.of("usb.watts_4", 100, "W"),
    POWER_RULES.of("usb.watts_5", 140, "W"),
    POWER_RULES.of("usb.watts_6", 180, "W"),
    POWER_RULES.of("usb.watts_7", 240, "W"),
    CABLES.of("usb.thin_cable_a", 3, "A"),
    CABLES.of("usb.thick_cable_a", 5, "A"),
)
