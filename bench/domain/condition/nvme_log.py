"""Reads the SMART / Health Information log of an NVMe drive: log page 02h, 512 bytes, little endian.

Source of the layout: NVM Express base specification, SMART / Health Information; the same offsets stand in
several public headers. Temperatures are in kelvin and shown in degrees with the whole number 273.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

from bench.domain.condition.figures import LABELS
from bench.domain.condition.limits import LIMITS, possible
from bench.errors import BadInput

LOG_BYTES = 512
KELVIN_AT_0_C = 273
MOST_SENSORS = 8

CRITICAL_WARNINGS: tuple[str, ...] = (
    "spare below its threshold",
    "temperature over or under a threshold",
    "reliability degraded",
    "put into read-only mode",
    "backup of volatile memory failed",
    "persistent memory region read-only or unreliable",
)

HOW = "Save the log again on the unit, all 512 bytes of it."

# Offset and width in bytes.
_COUNTERS: dict[str, tuple[int, int]] = {
    "data_units_read": (32, 16),
    "data_units_written": (48, 16),
    "read_commands": (64, 16),
    "write_commands": (80, 16),
    "busy_minutes": (96, 16),
    "power_cycles": (112, 16),
    "power_on_hours": (128, 16),
    "unsafe_shutdowns": (144, 16),
    "media_errors": (160, 16),
    "log_entries": (176, 16),
    "warning_temperature_minutes": (192, 4),
    "critical_temperature_minutes": (196, 4),
}
_SENSORS_AT = 200


@dataclass(frozen=True, slots=True)
class NvmeHealth:
    """The log's figures; None: not told. A data unit is 512,000 bytes. `used_percent` may pass 100."""

    critical_warning: int
    spare_percent: int | None = None
    spare_threshold_percent: int | None = None
    used_percent: int | None = None
    temperature_c: int | None = None
    data_units_read: int | None = None
    data_units_written: int | None = None
    read_commands: int | None = None
    write_commands: int | None = None
    busy_minutes: int | None = None
    power_cycles: int | None = None
    power_on_hours: int | None = None
    unsafe_shutdowns: int | None = None
    media_errors: int | None = None
    log_entries: int | None = None
    warning_temperature_minutes: int | None = None
    critical_temperature_minutes: int | None = None
    sensors_c: tuple[int, ...] = ()

    def figures(self) -> dict[str, Any]:
        """What was told, by name."""
        told = {field.name: getattr(self, field.name) for field in fields(self)}
        told["sensors_c"] = list(self.sensors_c)
        return {name: value for name, value in told.items() if value not in (None, [])}


def read_nvme_log(data: bytes) -> NvmeHealth:
    """The figures of a log as the drive gave it.

    BadInput, one sentence, for any other length and for figures no drive can have: a damaged file.
    """
    if len(data) != LOG_BYTES:
        raise BadInput(f"The file has {len(data)} bytes; an NVMe health log has {LOG_BYTES}.", HOW)
    if not any(data):
        raise BadInput("The file holds nothing but zeros: no drive wrote that.", HOW)
    told: dict[str, Any] = {
        "critical_warning": data[0],
        "temperature_c": _celsius(data, 1),
        "spare_percent": data[3],
        "spare_threshold_percent": data[4],
        "used_percent": data[5],
    }
    for name, (at, width) in _COUNTERS.items():
        told[name] = int.from_bytes(data[at : at + width], "little")
    sensors = (_celsius(data, _SENSORS_AT + 2 * one) for one in range(MOST_SENSORS))
    health = NvmeHealth(**told, sensors_c=tuple(one for one in sensors if one is not None))
    _require_possible(health)
    return health


def _require_possible(health: NvmeHealth) -> None:
    for name, value in health.figures().items():
        for one in value if isinstance(value, list) else [value]:
            if not possible(name, one):
                raise BadInput(f"{LABELS[name]} cannot be {one}, only {_span(name)}: a damaged file.", HOW)


def _span(name: str) -> str:
    least, most = LIMITS[name]
    return f"{least} to {most}"


def _celsius(data: bytes, at: int) -> int | None:
    """Degrees from two bytes of kelvin; 0 is a sensor that is not there."""
    kelvin = int.from_bytes(data[at : at + 2], "little")
    return kelvin - KELVIN_AT_0_C if kelvin else None
