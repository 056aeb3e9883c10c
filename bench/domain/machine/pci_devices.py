"""Reads `lspci -mm -nn`: graphics and wireless by their class.

Source: lspci(8), "Machine readable output"; class codes: PCI Code and ID Assignment Specification (03h
display, 0280h other network, 0Dh wireless). From memory.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from bench.domain.machine.told import words
from bench.errors import BadInput

HOW = "Save what `lspci -mm -nn` prints."
MOST_DEVICES = 1000

_LINE = re.compile(r'(?:[0-9a-f]{4,8}:)?[0-9a-f]{2}:[0-9a-f]{2}\.[0-7] ("(?:[^"\\]|\\.)*".*)')
_QUOTED = re.compile(r'"((?:[^"\\]|\\.)*)"')
_CODE = re.compile(r"(.*?)\s*\[([0-9a-f]{4})\]")
_BY_WORDS = {
    "VGA compatible controller": "0300",
    "3D controller": "0302",
    "Display controller": "0380",
    "Network controller": "0280",
}


class PciDevice(NamedTuple):
    """A device: its class in four hexadecimal digits, empty where not told, and its names."""

    code: str
    maker: str
    name: str

    @property
    def words(self) -> str:
        """Maker and name in one line."""
        return " ".join(word for word in (self.maker, self.name) if word)

    @property
    def draws(self) -> bool:
        """Whether it is a graphics device."""
        return self.code.startswith("03")

    @property
    def wireless(self) -> bool:
        """Whether it is a wireless one: most give themselves the class of other networks."""
        return self.code == "0280" or self.code.startswith("0d")


def read_lspci(text: str) -> tuple[PciDevice, ...]:
    """Every device on the bus. BadInput, one sentence, for text without any."""
    devices = tuple(
        _device(found[1]) for line in text.split("\n") if (found := _LINE.fullmatch(line.strip()))
    )
    if not devices:
        raise BadInput("The text names no device.", HOW)
    return devices[:MOST_DEVICES]


def _device(line: str) -> PciDevice:
    names = [re.sub(r"\\(.)", r"\1", one) for one in _QUOTED.findall(line)]
    kind, maker, name = (_named(one) for one in (*names, "", "", "")[:3])
    return PciDevice(kind[1] or _BY_WORDS.get(kind[0], ""), words(maker[0]), words(name[0]))


def _named(text: str) -> tuple[str, str]:
    """A name and the code that stands behind it."""
    found = _CODE.fullmatch(text)
    return (found[1], found[2]) if found is not None else (text, "")
