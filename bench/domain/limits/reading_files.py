"""How large or small a figure from a file may be: what lies outside is a damaged file, not a reading.

Wide on purpose: they tell a wrong byte from a worn part.
"""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, Limit, Source, by_id

NVME = Source("NVM Express base specification, SMART / Health Information log 02h", "as in public headers")
SMARTCTL = Source("smartctl(8), EXIT STATUS: one byte", "smartmontools 7")

_COUNTER = (0, 10**12)
_TIMES = (0, 10**8)
_CELSIUS = (-60, 150)
# 0.1 to 1000 Wh, 50 to 100,000 mAh; bits 0 to 5 of a warning, whole percents of a byte.
_RANGES: dict[str, tuple[Source, tuple[int, int]]] = {
    "design_uwh": (PRACTICE, (100_000, 1_000_000_000)),
    "full_uwh": (PRACTICE, (100_000, 1_000_000_000)),
    "design_uah": (PRACTICE, (50_000, 100_000_000)),
    "full_uah": (PRACTICE, (50_000, 100_000_000)),
    "cycles": (PRACTICE, (1, 10_000)),
    "voltage_uv": (PRACTICE, (1_000_000, 60_000_000)),
    "voltage_min_design_uv": (PRACTICE, (1_000_000, 60_000_000)),
    "temperature_tenths_c": (PRACTICE, (-400, 1000)),
    "size_bytes": (PRACTICE, (1, 10**18)),
    "exit_status": (SMARTCTL, (0, 255)),
    "critical_warning": (NVME, (0, 63)),
    "temperature_c": (PRACTICE, _CELSIUS),
    "sensors_c": (PRACTICE, _CELSIUS),
    "spare_percent": (NVME, (0, 100)),
    "spare_threshold_percent": (NVME, (0, 100)),
    "used_percent": (NVME, (0, 255)),
    "data_units_read": (PRACTICE, _COUNTER),
    "data_units_written": (PRACTICE, _COUNTER),
    "read_commands": (PRACTICE, (0, 10**15)),
    "write_commands": (PRACTICE, (0, 10**15)),
    "busy_minutes": (PRACTICE, (0, 10**8)),
    "power_cycles": (PRACTICE, _TIMES),
    "power_on_hours": (PRACTICE, (0, 1_000_000)),
    "unsafe_shutdowns": (PRACTICE, _TIMES),
    "media_errors": (PRACTICE, _COUNTER),
    "log_entries": (PRACTICE, _COUNTER),
    "warning_temperature_minutes": (PRACTICE, (0, 10**8)),
    "critical_temperature_minutes": (PRACTICE, (0, 10**8)),
}
NAMES = tuple(_RANGES)


def _rows(name: str) -> tuple[Limit, Limit]:
    source, (least, most) = _RANGES[name]
    return source.of(f"file.{name}.least", least), source.of(f"file.{name}.most", most)


LIMITS = by_id(*(row for name in NAMES for row in _rows(name)))
