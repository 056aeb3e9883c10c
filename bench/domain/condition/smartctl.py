"""Reads the JSON that smartctl prints (`smartctl -a --json`), of an NVMe or an ATA drive.

Source of keys and bits: smartctl(8), section EXIT STATUS, and the JSON of smartmontools 7. That
`smart_status.passed` is true tells too little: exit status, attributes and health log are read with it.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from bench.domain.condition.ata_attributes import (
    MOST_RAW,
    TEMPERATURES,
    Attribute,
    celsius_of,
    failed_against,
    meaning_of,
)
from bench.domain.condition.limits import possible
from bench.domain.condition.nvme_log import MOST_SENSORS, NvmeHealth
from bench.domain.text import clean_line, quoted
from bench.errors import BadInput

LONGEST = 4_000_000
MOST_ATTRIBUTES = 255
HOW = "Save what `smartctl -a --json` prints for the drive, whole, run as root."

COMMAND_BIT, OPEN_BIT = 1, 2

_NVME_KEYS = {
    "critical_warning": "critical_warning",
    "temperature": "temperature_c",
    "available_spare": "spare_percent",
    "available_spare_threshold": "spare_threshold_percent",
    "percentage_used": "used_percent",
    "data_units_read": "data_units_read",
    "data_units_written": "data_units_written",
    "host_reads": "read_commands",
    "host_writes": "write_commands",
    "controller_busy_time": "busy_minutes",
    "power_cycles": "power_cycles",
    "power_on_hours": "power_on_hours",
    "unsafe_shutdowns": "unsafe_shutdowns",
    "media_errors": "media_errors",
    "num_err_log_entries": "log_entries",
    "warning_temp_time": "warning_temperature_minutes",
    "critical_comp_time": "critical_temperature_minutes",
}


@dataclass(frozen=True, slots=True)
class SmartReport:
    """What smartctl told of one drive. `passed`: the drive's own overall verdict, None where it gave none."""

    maker: str
    model: str
    serial: str
    firmware: str
    protocol: str
    size_bytes: int | None
    exit_status: int
    passed: bool | None
    temperature_c: int | None
    power_on_hours: int | None
    power_cycles: int | None
    health: NvmeHealth | None
    attributes: tuple[Attribute, ...]
    doubts: tuple[str, ...] = ()

    def figures(self) -> dict[str, Any]:
        """What was told, by name; the health log's own figures stand before the general ones."""
        own = ("maker", "model", "serial", "firmware", "protocol", "size_bytes", "exit_status", "passed")
        told: dict[str, Any] = {name: getattr(self, name) for name in own}
        for name in ("temperature_c", "power_on_hours", "power_cycles"):
            told[name] = getattr(self, name)
        told["attributes"] = [attribute.figures() for attribute in self.attributes]
        told |= self.health.figures() if self.health else {}
        return {name: value for name, value in told.items() if value not in (None, "", [])}


def read_smartctl(text: str) -> SmartReport:
    """What the text tells of the drive.

    BadInput, one sentence, for text that is not smartctl's JSON, breaks off, tells of no drive that could be
    opened, or holds figures no drive can have.
    """
    told = _Told(_parsed(text), [])
    exit_status = told.whole("smartctl", "exit_status", name="exit_status")
    if exit_status is None:
        raise BadInput("The text does not hold smartctl's exit status, or one that cannot be.", HOW)
    if exit_status & (COMMAND_BIT | OPEN_BIT):
        raise BadInput("smartctl could not open the drive, or it was asleep.", HOW)
    health = _health(told)
    attributes = _attributes(told)
    temperature = told.whole("temperature", "current", name="temperature_c")
    return SmartReport(
        maker=told.words("vendor"),
        model=told.words("model_name"),
        serial=told.words("serial_number"),
        firmware=told.words("firmware_version"),
        protocol=told.words("device", "protocol"),
        size_bytes=_size(told),
        exit_status=exit_status,
        passed=told.yes_or_no("smart_status", "passed"),
        temperature_c=temperature if temperature is not None else _temperature_of(attributes),
        power_on_hours=told.whole("power_on_time", "hours", name="power_on_hours"),
        power_cycles=told.whole("power_cycle_count", name="power_cycles"),
        health=health,
        attributes=attributes,
        doubts=tuple(told.doubts),
    )


class _Told:
    """The JSON, asked by the way to a value; what is there but cannot be used is a BadInput or a doubt."""

    def __init__(self, whole: dict[str, Any], doubts: list[str]) -> None:
        self._whole, self.doubts = whole, doubts

    def at(self, *way: str) -> Any:
        """The value at the end of the way; None where there is none."""
        here: Any = self._whole
        for step in way:
            here = here.get(step) if isinstance(here, dict) else None
        return here

    def whole(self, *way: str, name: str) -> int | None:
        """A whole number; one outside the limits of `name` is left out and told."""
        value = self.at(*way)
        if value is None:
            return None
        if not _is_whole(value):
            raise BadInput(f"{way[-1]} is not a whole number.", HOW)
        if not possible(name, value):
            self.doubts.append(f"{way[-1]} {quoted(str(value))} cannot be")
            return None
        return int(value)

    def words(self, *way: str) -> str:
        """Words fit to keep; others are left out and told."""
        value = self.at(*way)
        if value is None:
            return ""
        if not isinstance(value, str):
            raise BadInput(f"{way[-1]} is not text.", HOW)
        try:
            return clean_line(value, way[-1], 100, allow_empty=True)
        except BadInput:
            self.doubts.append(f"{way[-1]} cannot be shown")
            return ""

    def yes_or_no(self, *way: str) -> bool | None:
        """True or false."""
        value = self.at(*way)
        if value is None or isinstance(value, bool):
            return value
        raise BadInput(f"{way[-1]} is neither true nor false.", HOW)


def _parsed(text: str) -> dict[str, Any]:
    if len(text) > LONGEST:
        raise BadInput(f"The text has {len(text)} characters: too many for one drive.", HOW)
    try:
        whole = json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise BadInput("The text is not JSON, or it breaks off.", HOW) from None
    if not isinstance(whole, dict) or not isinstance(whole.get("smartctl"), dict):
        raise BadInput("The text is JSON, but not smartctl's.", HOW)
    return whole


def _no_number(constant: str) -> None:
    raise ValueError(constant)


def _is_whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _size(told: _Told) -> int | None:
    size = told.whole("user_capacity", "bytes", name="size_bytes")
    return size if size is not None else told.whole("nvme_total_capacity", name="size_bytes")


def _health(told: _Told) -> NvmeHealth | None:
    log = told.at("nvme_smart_health_information_log")
    if log is None:
        return None
    figures: dict[str, Any] = {}
    for key, name in _NVME_KEYS.items():
        figures[name] = told.whole("nvme_smart_health_information_log", key, name=name)
    if figures["critical_warning"] is None:
        raise BadInput("The health log in the text holds no critical warning that can be.", HOW)
    return NvmeHealth(**figures, sensors_c=_sensors(told))


def _sensors(told: _Told) -> tuple[int, ...]:
    sensors = told.at("nvme_smart_health_information_log", "temperature_sensors")
    if sensors is None:
        return ()
    if not isinstance(sensors, list) or not all(_is_whole(one) for one in sensors):
        raise BadInput("The health log's temperature sensors cannot be read.", HOW)
    there = tuple(one for one in sensors if possible("sensors_c", one))[:MOST_SENSORS]
    if len(there) < len(sensors):
        told.doubts.append("some temperature sensors cannot be")
    return there


def _attributes(told: _Told) -> tuple[Attribute, ...]:
    table = told.at("ata_smart_attributes", "table")
    if table is None:
        return ()
    if not isinstance(table, list) or len(table) > MOST_ATTRIBUTES:
        raise BadInput("The table of attributes in the text cannot be read.", HOW)
    return tuple(_attribute(_Told(row if isinstance(row, dict) else {}, told.doubts)) for row in table)


def _attribute(row: _Told) -> Attribute:
    number, raw = _byte(row, "id"), row.at("raw", "value")
    if not _is_whole(raw) or not 0 <= raw <= MOST_RAW:
        raise BadInput(f"The raw value of attribute {number} cannot be read.", HOW)
    value, worst = _byte(row, "value"), _byte(row, "worst")
    threshold = _byte(row, "thresh") if row.at("thresh") is not None else 0
    return Attribute(
        number=number,
        name=row.words("name"),
        value=value,
        worst=worst,
        threshold=threshold,
        prefailure=bool(row.yes_or_no("flags", "prefailure")),
        failed=failed_against(value, worst, threshold),
        raw=raw,
        meaning=meaning_of(number, raw),
    )


def _byte(row: _Told, key: str) -> int:
    value = row.at(key)
    if not _is_whole(value) or not 0 <= value <= 255:
        raise BadInput(f"An attribute's {key} cannot be {quoted(str(value)[:60])}.", HOW)
    return int(value)


def _temperature_of(attributes: tuple[Attribute, ...]) -> int | None:
    for attribute in attributes:
        if attribute.number in TEMPERATURES:
            return celsius_of(attribute.raw)
    return None
