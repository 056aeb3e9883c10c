"""Reads `lsblk -J -b`: the drives that are built into the machine.

Source of the keys: lsblk(8), util-linux; older ones write numbers and flags as text. From memory.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from bench.domain.machine.told import whole, words
from bench.errors import BadInput

HOW = "Save what `lsblk -J -b -d -o NAME,TYPE,SIZE,MODEL,SERIAL,VENDOR,TRAN,ROTA,RM,HOTPLUG` prints."
MOST_DRIVES = 32
LARGEST = 10**18

_NOT_DRIVES = ("loop", "ram", "zram", "sr", "fd", "dm-", "md", "nbd")
_OUTSIDE = ("usb", "iscsi", "fc", "ieee1394")


@dataclass(frozen=True, slots=True)
class BlockDevice:
    """A drive as the kernel names it. `rotates` None: not told."""

    name: str
    maker: str
    model: str
    serial: str
    size_bytes: int
    transport: str
    rotates: bool | None

    @property
    def kind(self) -> str:
        """What it is, in the words of the trade."""
        if self.transport == "nvme" or self.name.startswith("nvme"):
            return "SSD, NVMe"
        if self.name.startswith("mmcblk"):
            return "eMMC or card"
        bus = {"sata": ", SATA", "ata": ", ATA", "sas": ", SAS"}.get(self.transport, "")
        if self.rotates is None or not bus:
            return ""
        return f"{'hard disk' if self.rotates else 'SSD'}{bus}"


def read_lsblk(text: str) -> tuple[BlockDevice, ...]:
    """The drives built in; sticks, discs and what is no drive are passed over.

    BadInput, one sentence, for text that is not lsblk's JSON or breaks off.
    """
    try:
        whole_text = json.loads(text)
    except (ValueError, RecursionError):
        raise BadInput("The text is not JSON, or it breaks off.", HOW) from None
    devices = whole_text.get("blockdevices") if isinstance(whole_text, dict) else None
    if not isinstance(devices, list) or not all(isinstance(one, dict) for one in devices):
        raise BadInput("The text is JSON, but not lsblk's.", HOW)
    drives = [drive for one in devices if (drive := _drive(one)) is not None]
    return tuple(drives[:MOST_DRIVES])


def _drive(told: dict[str, Any]) -> BlockDevice | None:
    name, transport = words(told.get("name")), words(told.get("tran")).casefold()
    size = whole(told.get("size"), 1, LARGEST)
    if told.get("type") != "disk" or size is None or not name or name.startswith(_NOT_DRIVES):
        return None
    if _flag(told.get("rm")) or _flag(told.get("hotplug")) or transport in _OUTSIDE:
        return None
    return BlockDevice(
        name=name,
        maker=_maker(words(told.get("vendor"))),
        model=words(told.get("model")),
        serial=words(told.get("serial")),
        size_bytes=size,
        transport=transport,
        rotates=None if told.get("rota") is None else _flag(told.get("rota")),
    )


def _flag(value: object) -> bool:
    return value is True or value in ("1", 1)


def _maker(vendor: str) -> str:
    """The bus or a bare number is no maker: what the kernel writes there for most drives."""
    return "" if vendor.casefold() in ("ata", "nvme", "usb") or vendor.startswith("0x") else vendor
