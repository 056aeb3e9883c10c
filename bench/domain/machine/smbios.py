"""Reads the text of dmidecode: the structures of SMBIOS as the firmware filled them in.

Source of structures and words: DMTF DSP0134, System Management BIOS (types 0, 1, 4, 16, 17, 22, 24), and
dmidecode(8), whose keys these are; from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from bench.domain.machine.told import whole, words
from bench.domain.specification import LOCKED, MEMORY_GB, NONE_SEEN, MemoryModule
from bench.errors import BadInput

HOW = "Run the collector as root, with dmidecode on the stick."
MOST_MODULES = 64
MOST_MEMORY = 64 * 1024 * MEMORY_GB
MOST_CORES = 1024

FIRMWARE, SYSTEM, PROCESSOR, MEMORY_ARRAY, MEMORY_DEVICE, BATTERY, SECURITY = 0, 1, 4, 16, 17, 22, 24

_HANDLE = re.compile(r"Handle 0x[0-9A-Fa-f]{1,8}, DMI type ([0-9]{1,3}), [0-9]{1,5} bytes")
_SIZE = re.compile(r"([0-9]{1,9}) (bytes|kB|KB|MB|GB|TB)")
_FACTORS = {"bytes": 1, "kB": 2**10, "KB": 2**10, "MB": 2**20, "GB": 2**30, "TB": 2**40}
_DAY = re.compile(r"([0-9]{2})/([0-9]{2})/([0-9]{4})")
_CAPACITY = re.compile(r"([0-9]{1,7}) mWh")

Structure = dict[str, str]


@dataclass(frozen=True, slots=True)
class Machine:
    """What SMBIOS tells; empty or None: not told. `memory_told`: whether it told of any place for memory.

    `cores` of all processors that are there. `firmware_lock`: one of `specification.LOCKS`.
    """

    maker: str = ""
    model: str = ""
    serial: str = ""
    processor: str = ""
    cores: int | None = None
    memory_told: bool = False
    modules: tuple[MemoryModule, ...] = ()
    slots: int = 0
    battery: str = ""
    battery_design_uwh: int | None = None
    firmware_version: str = ""
    firmware_on: date | None = None
    firmware_lock: str | None = None


def read_dmidecode(text: str) -> Machine:
    """What the structures tell. BadInput, one sentence, for text in which there is none."""
    found: dict[int, list[Structure]] = {}
    for kind, structure in _structures(text):
        found.setdefault(kind, []).append(structure)
    if not found:
        raise BadInput("The text holds no SMBIOS structure.", HOW)
    firmware, system, battery = (_first(found, kind) for kind in (FIRMWARE, SYSTEM, BATTERY))
    processors = [one for one in found.get(PROCESSOR, []) if "Unpopulated" not in one.get("Status", "")]
    cores = [whole(one.get("Core Count"), 1, MOST_CORES) for one in processors]
    devices = found.get(MEMORY_DEVICE, [])[:MOST_MODULES]
    places = [(device, _module(device)) for device in devices]
    capacity = _CAPACITY.fullmatch(battery.get("Design Capacity", ""))
    return Machine(
        maker=words(system.get("Manufacturer")),
        model=words(system.get("Product Name")),
        serial=words(system.get("Serial Number")),
        processor=words(processors[0].get("Version")) if processors else "",
        cores=sum(one for one in cores if one) or None,
        memory_told=bool(devices),
        modules=tuple(module for _, module in places if module is not None and module.size_bytes),
        slots=sum(module is not None and not module.soldered for _, module in places),
        battery=" ".join(one for key in ("Manufacturer", "Name") if (one := words(battery.get(key)))),
        battery_design_uwh=int(capacity[1]) * 1000 if capacity and int(capacity[1]) else None,
        firmware_version=words(firmware.get("Version")),
        firmware_on=_day(firmware.get("Release Date", "")),
        firmware_lock=_lock(_first(found, SECURITY)),
    )


def day_of_firmware(text: str) -> date | None:
    """The day of a firmware as SMBIOS writes it, mm/dd/yyyy; None for anything else."""
    return _day(text)


def _structures(text: str) -> Iterator[tuple[int, Structure]]:
    """Each structure's type and its keys; lists under a key are passed over."""
    kind, here = None, Structure()
    for line in text.split("\n"):
        handle = _HANDLE.fullmatch(line.strip())
        if handle is not None:
            if kind is not None:
                yield kind, here
            kind, here = int(handle[1]), Structure()
        elif line.startswith("\t") and not line.startswith("\t\t"):
            key, colon, value = line.strip().partition(":")
            if colon:
                here.setdefault(key, value.strip())
    if kind is not None:
        yield kind, here


def _first(found: dict[int, list[Structure]], kind: int) -> Structure:
    return found.get(kind, [{}])[0]


def _module(device: Structure) -> MemoryModule | None:
    """The module in a place for memory, of no size where it is empty; None where its size cannot be read."""
    size, form = device.get("Size", ""), device.get("Form Factor", "")
    known = _SIZE.fullmatch(size)
    size_bytes = int(known[1]) * _FACTORS[known[2]] if known else 0
    if (known is None and size != "No Module Installed") or size_bytes > MOST_MEMORY:
        return None
    return MemoryModule(
        slot=words(device.get("Locator")),
        size_bytes=size_bytes,
        kind=words(device.get("Type")),
        form=words(form),
        maker=words(device.get("Manufacturer")) if size_bytes else "",
        part=words(device.get("Part Number")) if size_bytes else "",
    )


def _day(text: str) -> date | None:
    found = _DAY.fullmatch(text.strip())
    if found is None:
        return None
    try:
        return date(int(found[3]), int(found[1]), int(found[2]))
    except ValueError:
        return None


def _lock(security: Structure) -> str | None:
    """Whether a password that keeps others out is set; None where the firmware does not tell."""
    told = [security.get(f"{which} Password Status", "") for which in ("Power-On", "Administrator")]
    if "Enabled" in told:
        return LOCKED
    return NONE_SEEN if told == ["Disabled", "Disabled"] else None
