"""Reads what the kernel tells in plain text: processors, memory, the firmware's names, network devices.

Source: proc(5), /proc/cpuinfo and /proc/meminfo; Documentation/ABI/testing/sysfs-class-net; the names under
/sys/class/dmi/id are those of drivers/firmware/dmi-id.c. From memory.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from bench.domain.machine.smbios import MOST_CORES, MOST_MEMORY, day_of_firmware
from bench.domain.machine.told import pairs, whole, words
from bench.errors import BadInput

HOW = "Run the collector again."
_KILOBYTES = re.compile(r"([0-9]{1,12}) kB")


@dataclass(frozen=True, slots=True)
class NamesOfFirmware:
    """What the firmware calls the machine, as the kernel passes it on; empty: not told."""

    maker: str
    model: str
    serial: str
    firmware_version: str
    firmware_on: date | None


def read_cpuinfo(text: str) -> tuple[str, int | None]:
    """The processor's name, and how many cores all of them have. BadInput where neither is told."""
    name, cores = "", {}
    package = "0"
    for key, value in pairs(text, ":"):
        if key == "model name" and not name:
            name = words(value)
        elif key == "physical id":
            package = value
        elif key == "cpu cores":
            cores[package] = whole(value, 1, MOST_CORES) or 0
    if not name and not cores:
        raise BadInput("The text names no processor.", HOW)
    total = sum(cores.values())
    return name, total if 0 < total <= MOST_CORES else None


def read_meminfo(text: str) -> int:
    """Bytes of memory that the kernel may use. BadInput where they are not told."""
    found = _KILOBYTES.fullmatch(dict(pairs(text, ":")).get("MemTotal", ""))
    seen = int(found[1]) * 1024 if found else 0
    if not 0 < seen <= MOST_MEMORY:
        raise BadInput("The text does not tell how much memory there is.", HOW)
    return seen


def read_dmi_names(text: str) -> NamesOfFirmware:
    """The names, a `name=value` a line. BadInput where there is none."""
    told = dict(pairs(text, "="))
    if not told:
        raise BadInput("The text holds no name.", HOW)
    return NamesOfFirmware(
        maker=words(told.get("sys_vendor")),
        model=words(told.get("product_name")),
        serial=words(told.get("product_serial")),
        firmware_version=words(told.get("bios_version")),
        firmware_on=day_of_firmware(told.get("bios_date", "")),
    )


def wireless_devices(text: str) -> tuple[str, ...]:
    """The network devices that are wireless, of a `name kind` a line."""
    lines = [line.split() for line in text.split("\n")]
    return tuple(words(line[0]) for line in lines if len(line) == 2 and line[1] == "wireless")
