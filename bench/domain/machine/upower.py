"""Reads `upower -d`: the batteries that it tells of, where the kernel's own text is missing.

Source of the keys: upower(1) and the UPower D-Bus interface org.freedesktop.UPower.Device; from memory.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from bench.domain.machine.told import pairs, words
from bench.errors import BadInput

HOW = "Save what `upower -d` prints, whole."
_ENERGY = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,6})?) Wh")
_MOST_UWH = 1_000_000_000


@dataclass(frozen=True, slots=True)
class PowerDevice:
    """A battery that supplies the machine."""

    maker: str
    model: str
    design_uwh: int | None

    @property
    def words(self) -> str:
        """Maker and model in one line."""
        return " ".join(word for word in (self.maker, self.model) if word) or "a battery"


def read_upower(text: str) -> tuple[PowerDevice, ...]:
    """The machine's batteries; adapters, mice and the summary device are passed over.

    BadInput, one sentence, for text that names no device.
    """
    blocks = re.split(r"(?m)^Device: *", text)[1:]
    if not blocks:
        raise BadInput("The text names no device.", HOW)
    return tuple(_battery(block) for block in blocks if _is_battery(block))


def _is_battery(block: str) -> bool:
    told = dict(pairs(block, ":"))
    supplies = told.get("power supply") == "yes" and told.get("present", "yes") == "yes"
    return supplies and any(line.strip() == "battery" for line in block.split("\n")) and "/battery_" in block


def _battery(block: str) -> PowerDevice:
    told = dict(pairs(block, ":"))
    energy = _ENERGY.fullmatch(told.get("energy-full-design", ""))
    uwh = round(float(energy[1].replace(",", ".")) * 10**6) if energy else 0
    return PowerDevice(
        words(told.get("vendor")), words(told.get("model")), uwh if 0 < uwh <= _MOST_UWH else None
    )
