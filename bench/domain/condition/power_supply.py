"""Reads Linux power_supply text: `cat /sys/class/power_supply/BAT*/uevent`, as made on the unit itself.

Source of keys and units: the kernel's Documentation/power/power_supply_class.rst and
Documentation/ABI/testing/sysfs-class-power: CHARGE_* in µAh, ENERGY_* in µWh, voltages in µV, temperature
in tenths of a degree; a cycle count of 0 is what drivers say that do not know it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

from bench.domain.condition.limits import more_than_a_pack_can_hold, possible
from bench.domain.text import clean_line, quoted
from bench.errors import BadInput

LONGEST = 100_000
MOST_PACKS = 8
HOW = "Save what `cat /sys/class/power_supply/BAT*/uevent` prints on the unit, whole."

_PREFIX = "POWER_SUPPLY_"
_WHOLE = re.compile(r"-?[0-9]{1,18}")
_KEY = re.compile(r"[A-Z0-9_]{1,60}")
# What drivers write that do not know a figure.
_NOT_TOLD = {"design_uwh": 0, "full_uwh": 0, "design_uah": 0, "full_uah": 0, "cycles": 0}
_NUMBERS = {
    "ENERGY_FULL_DESIGN": "design_uwh",
    "ENERGY_FULL": "full_uwh",
    "CHARGE_FULL_DESIGN": "design_uah",
    "CHARGE_FULL": "full_uah",
    "CYCLE_COUNT": "cycles",
    "VOLTAGE_NOW": "voltage_uv",
    "VOLTAGE_MIN_DESIGN": "voltage_min_design_uv",
    "TEMP": "temperature_tenths_c",
}
_WORDS = {
    "NAME": "name",
    "MANUFACTURER": "maker",
    "MODEL_NAME": "model",
    "SERIAL_NUMBER": "serial",
    "TECHNOLOGY": "technology",
}


@dataclass(frozen=True, slots=True)
class Pack:
    """One battery pack as the kernel tells of it; None or empty: not told. `doubts`: what was left out."""

    name: str = ""
    maker: str = ""
    model: str = ""
    serial: str = ""
    technology: str = ""
    design_uwh: int | None = None
    full_uwh: int | None = None
    design_uah: int | None = None
    full_uah: int | None = None
    cycles: int | None = None
    voltage_uv: int | None = None
    voltage_min_design_uv: int | None = None
    temperature_tenths_c: int | None = None
    doubts: tuple[str, ...] = ()

    def figures(self) -> dict[str, Any]:
        """What was told, by name."""
        told = {field.name: getattr(self, field.name) for field in fields(self) if field.name != "doubts"}
        return {name: value for name, value in told.items() if value not in (None, "")}


def read_power_supply(text: str) -> tuple[Pack, ...]:
    """Every battery pack in the text; adapters and the batteries of mice and pens are passed over.

    BadInput, one sentence, for text that is not such, breaks off within a line or holds no pack's figures.
    """
    if len(text) > LONGEST:
        raise BadInput(f"The text has {len(text)} characters: too many for a battery.", HOW)
    packs = [_pack(block) for block in _supplies(text) if _is_pack(block)]
    if not packs:
        raise BadInput("The text tells of no battery that is there.", HOW)
    if len(packs) > MOST_PACKS:
        raise BadInput(f"The text tells of {len(packs)} batteries: too many for a laptop.", HOW)
    return tuple(packs)


def _supplies(text: str) -> list[dict[str, str]]:
    """The lines of each supply by key; a supply begins at its name or at the kernel's word for its kind."""
    supplies: list[dict[str, str]] = []
    for key, value in _lines(text):
        begins = key == "DEVTYPE" or (key == "NAME" and (not supplies or "NAME" in supplies[-1]))
        if begins or not supplies:
            supplies.append({})
        if supplies[-1].get(key, value) != value:
            raise BadInput(f"The text gives {quoted(key)} twice for one battery.", HOW)
        supplies[-1][key] = value
    return supplies


def _lines(text: str) -> Iterator[tuple[str, str]]:
    whole = text.endswith("\n")
    lines = text.split("\n")
    for at, line in enumerate(lines, start=1):
        bare = line.strip()
        if not bare:
            continue
        key, equals, value = bare.partition("=")
        if not equals or not _KEY.fullmatch(key):
            raise BadInput(f"{quoted(bare)} is not a line of a power supply.", HOW)
        short = key.removeprefix(_PREFIX)
        if at == len(lines) and not whole and short in _NUMBERS:
            raise BadInput(f"The text breaks off within {short}.", HOW)
        yield short, value.strip()


def _is_pack(supply: dict[str, str]) -> bool:
    return (
        supply.get("TYPE", "Battery") == "Battery"
        and supply.get("SCOPE", "System") != "Device"
        and supply.get("PRESENT", "1") != "0"
        and bool((_NUMBERS.keys() | {"TYPE", "PRESENT"}) & supply.keys())
    )


def _pack(supply: dict[str, str]) -> Pack:
    doubts: list[str] = []
    told: dict[str, Any] = {}
    for key, name in _WORDS.items():
        told[name] = _words(supply.get(key, ""), key, doubts)
    for key, name in _NUMBERS.items():
        told[name] = _number(supply[key], key, name, doubts) if key in supply else None
    if told["full_uwh"] is None and told["full_uah"] is None:
        raise BadInput("The text does not tell what the battery holds when full.", HOW)
    if more_than_a_pack_can_hold(told):
        raise BadInput("The text tells of a full charge far above the design capacity.", HOW)
    return Pack(**told, doubts=tuple(doubts))


def _words(value: str, key: str, doubts: list[str]) -> str:
    try:
        return clean_line(value, key, 80, allow_empty=True)
    except BadInput:
        doubts.append(f"{key} cannot be shown")
        return ""


def _number(value: str, key: str, name: str, doubts: list[str]) -> int | None:
    if not _WHOLE.fullmatch(value):
        raise BadInput(f"{key} {quoted(value)} is not a whole number.", HOW)
    figure = int(value)
    if _NOT_TOLD.get(name) == figure:
        return None
    if not possible(name, figure):
        doubts.append(f"{key} {figure} cannot be")
        return None
    return figure
