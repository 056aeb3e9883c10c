"""How large or small a figure from a file may be: what lies outside is a damaged file, not a reading.

Wide on purpose: they tell a wrong byte from a worn part. Where no source is named they are
`common practice, no source`.
"""

from __future__ import annotations

from typing import Any

from bench.domain.condition.figures import Figures, number

_COUNTER = (0, 10**12)
_TIMES = (0, 10**8)
_CELSIUS = (-60, 150)

LIMITS: dict[str, tuple[int, int]] = {
    "design_uwh": (100_000, 1_000_000_000),  # 0.1 to 1000 Wh
    "full_uwh": (100_000, 1_000_000_000),
    "design_uah": (50_000, 100_000_000),  # 50 to 100,000 mAh
    "full_uah": (50_000, 100_000_000),
    "cycles": (1, 10_000),
    "voltage_uv": (1_000_000, 60_000_000),
    "voltage_min_design_uv": (1_000_000, 60_000_000),
    "temperature_tenths_c": (-400, 1000),
    "size_bytes": (1, 10**18),
    "exit_status": (0, 255),
    "critical_warning": (0, 63),  # bits 0 to 5: NVMe base specification; the others are reserved
    "temperature_c": _CELSIUS,
    "sensors_c": _CELSIUS,
    "spare_percent": (0, 100),  # a normalized percentage: NVMe base specification
    "spare_threshold_percent": (0, 100),
    "used_percent": (0, 255),  # one byte; may pass 100, 255 stands for more: NVMe base specification
    "data_units_read": _COUNTER,
    "data_units_written": _COUNTER,
    "read_commands": (0, 10**15),
    "write_commands": (0, 10**15),
    "busy_minutes": (0, 10**8),
    "power_cycles": _TIMES,
    "power_on_hours": (0, 1_000_000),
    "unsafe_shutdowns": _TIMES,
    "media_errors": _COUNTER,
    "log_entries": _COUNTER,
    "warning_temperature_minutes": (0, 10**8),
    "critical_temperature_minutes": (0, 10**8),
}

MOST_HEALTH_PERCENT = 150


def possible(name: str, value: int) -> bool:
    """Whether a figure of that name may have this value."""
    least, most = LIMITS[name]
    return least <= value <= most


def more_than_a_pack_can_hold(figures: Figures | dict[str, Any]) -> bool:
    """Whether full charge stands so far above design that one of the two must be wrong."""
    for unit in ("uwh", "uah"):
        full, design = number(figures, f"full_{unit}"), number(figures, f"design_{unit}")
        if full is not None and design is not None and full * 100 > design * MOST_HEALTH_PERCENT:
            return True
    return False
