"""The figures of a reading: how each is called and shown, by the unit of measure in its name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from bench.domain.limits.media import LIMITS

Figures = Mapping[str, Any]
DATA_UNIT_BYTES = LIMITS["drive.data_unit_bytes"].whole


@dataclass(frozen=True, slots=True)
class Fact:
    """One figure as it is read on a sheet."""

    name: str
    label: str
    shown: str


# Kept as they come, in this order; a figure of any other name is kept too but not shown.
LABELS: dict[str, str] = {
    "name": "Pack",
    "maker": "Maker",
    "model": "Model",
    "serial": "Serial number",
    "firmware": "Firmware",
    "technology": "Cells",
    "design_uwh": "Design energy",
    "full_uwh": "Full charge",
    "design_uah": "Design capacity",
    "full_uah": "Full charge",
    "cycles": "Cycles",
    "voltage_uv": "Voltage",
    "voltage_min_design_uv": "Nominal voltage",
    "temperature_tenths_c": "Temperature",
    "swelling": "Swelling seen",
    "fitted": "Pack is fitted",
    "size_bytes": "Size",
    "protocol": "Speaks",
    "passed": "Own overall verdict",
    "exit_status": "Exit status of the program",
    "critical_warning": "Critical warning",
    "temperature_c": "Temperature",
    "spare_percent": "Spare left",
    "spare_threshold_percent": "Spare threshold",
    "used_percent": "Percentage used",
    "data_units_read": "Read by the host",
    "data_units_written": "Written by the host",
    "read_commands": "Read commands",
    "write_commands": "Write commands",
    "busy_minutes": "Busy",
    "power_cycles": "Power cycles",
    "power_on_hours": "Power-on hours",
    "unsafe_shutdowns": "Shutdowns without warning",
    "media_errors": "Media errors",
    "log_entries": "Entries in the error log",
    "warning_temperature_minutes": "Over the warning temperature",
    "critical_temperature_minutes": "Over the critical temperature",
    "sensors_c": "Sensors",
    "attributes": "Attributes",
    "passes": "Full passes",
    "errors": "Errors",
    "idle_tenths_c": "Idle",
    "load_tenths_c": "Under load",
    "room_tenths_c": "Room",
    "power_mw": "Power under load",
    "minutes": "Ran for",
    "brightness_cd_m2": "Brightest",
    "dead_pixels": "Dead or stuck pixels",
    "ports_tested": "Ports tested",
    "ports_working": "Ports working",
    "keys_tested": "Keys tested",
    "keys_failing": "Keys failing",
    "screws_missing": "Screws missing",
}


def number(figures: Figures, name: str) -> int | None:
    """The whole number of that name; None where there is none."""
    value = figures.get(name)
    return value if isinstance(value, int) and not isinstance(value, bool) else None


def words(figures: Figures, name: str) -> str:
    """The words of that name; empty where there are none."""
    value = figures.get(name)
    return value if isinstance(value, str) else ""


def facts(figures: Figures) -> tuple[Fact, ...]:
    """Every figure with a label, in the order in which people read them."""
    return tuple(
        Fact(name, label, shown(name, figures[name])) for name, label in LABELS.items() if name in figures
    )


def shown(name: str, value: object) -> str:
    """A figure with its unit of measure, such as 57.02 Wh."""
    if isinstance(value, bool):
        return "passed" if value else "FAILED"
    if name == "attributes" and isinstance(value, (list, tuple)):
        return f"{len(value)} read"
    if isinstance(value, (list, tuple)):
        return ", ".join(f"{one} °C" for one in value)
    if not isinstance(value, int):
        return str(value)
    if name.startswith("data_units"):
        return f"{decimal(value * DATA_UNIT_BYTES, 10**12, 2)} TB"
    for ending, kind in _ENDINGS.items():
        if name.endswith(ending):
            return f"{decimal(value, kind.factor, kind.decimals)} {kind.unit}"
    return str(value)


def decimal(value: int, factor: int, decimals: int) -> str:
    """A whole number of small units as a decimal of large ones; halves away from zero."""
    scaled = (2 * abs(value) * 10**decimals + factor) // (2 * factor)
    whole, fraction = divmod(scaled, 10**decimals)
    sign = "-" if value < 0 and scaled else ""
    return f"{sign}{whole}.{fraction:0{decimals}}" if decimals else f"{sign}{whole}"


class _Kind(NamedTuple):
    unit: str
    factor: int
    decimals: int


_ENDINGS = {
    "_uwh": _Kind("Wh", 10**6, 2),
    "_uah": _Kind("mAh", 10**3, 0),
    "_uv": _Kind("V", 10**6, 2),
    "_tenths_c": _Kind("°C", 10, 1),
    "_c": _Kind("°C", 1, 0),
    "_mw": _Kind("W", 10**3, 1),
    "_ma": _Kind("A", 10**3, 2),
    "_ms": _Kind("s", 10**3, 1),
    "_kb_s": _Kind("MB/s", 10**3, 1),
    "_kbit_s": _Kind("Mbit/s", 10**3, 1),
    "_dbm": _Kind("dBm", 1, 0),
    "_bytes": _Kind("GB", 10**9, 0),
    "_percent": _Kind("%", 1, 0),
    "_hours": _Kind("h", 1, 0),
    "minutes": _Kind("min", 1, 0),
    "_cd_m2": _Kind("cd/m²", 1, 0),
}
