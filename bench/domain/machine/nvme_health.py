"""Reads `nvme smart-log -o json`: the health log of an NVMe drive, where smartctl is missing.

Source of the keys: nvme-cli, `nvme-smart-log(1)`; the temperature is in kelvin as in the log itself.
From memory.
"""

from __future__ import annotations

import json
from typing import Any

from bench.domain.condition.limits import possible
from bench.domain.condition.nvme_log import KELVIN_AT_0_C, NvmeHealth
from bench.errors import BadInput

HOW = "Save what `nvme smart-log -o json` prints, whole, run as root."
LONGEST = 100_000

_KEYS = {
    "critical_warning": "critical_warning",
    "spare_percent": "avail_spare",
    "spare_threshold_percent": "spare_thresh",
    "used_percent": "percent_used",
    "data_units_read": "data_units_read",
    "data_units_written": "data_units_written",
    "read_commands": "host_read_commands",
    "write_commands": "host_write_commands",
    "busy_minutes": "controller_busy_time",
    "power_cycles": "power_cycles",
    "power_on_hours": "power_on_hours",
    "unsafe_shutdowns": "unsafe_shutdowns",
    "media_errors": "media_errors",
    "log_entries": "num_err_log_entries",
    "warning_temperature_minutes": "warning_temp_time",
    "critical_temperature_minutes": "critical_comp_time",
}


def read_nvme_json(text: str) -> NvmeHealth:
    """The figures of the log; those that no drive can have are left out.

    BadInput, one sentence, for text that is no such JSON, breaks off, or holds no critical warning.
    """
    if len(text) > LONGEST:
        raise BadInput(f"The text has {len(text)} characters: too many for a log.", HOW)
    try:
        told = json.loads(text)
    except (ValueError, RecursionError):
        raise BadInput("The text is not JSON, or it breaks off.", HOW) from None
    if not isinstance(told, dict):
        raise BadInput("The text is JSON, but no health log.", HOW)
    figures = {name: _figure(name, told.get(key)) for name, key in _KEYS.items()}
    if figures["critical_warning"] is None:
        raise BadInput("The text holds no critical warning that can be: no health log.", HOW)
    kelvin = _whole(told.get("temperature"))
    celsius = None if kelvin is None else kelvin - KELVIN_AT_0_C
    there = celsius is not None and possible("temperature_c", celsius)
    return NvmeHealth(**figures, temperature_c=celsius if there else None)  # type: ignore[arg-type]


def _figure(name: str, value: Any) -> int | None:
    if name == "critical_warning" and isinstance(value, dict):
        value = value.get("value")
    number = _whole(value)
    return number if number is not None and possible(name, number) else None


def _whole(value: object) -> int | None:
    """A whole number; the large ones are written as text by some."""
    if isinstance(value, str):
        plain = value.replace(",", "")
        return int(plain) if plain.isdecimal() and plain.isascii() and len(plain) <= 40 else None
    return value if isinstance(value, int) and not isinstance(value, bool) else None
