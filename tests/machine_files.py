"""A machine's own file, made as the collector makes it, with invented makers; and what its tools say."""

from __future__ import annotations

import json
from collections.abc import Mapping

from bench.domain.machine.sections import FIRST_LINE, LAST_LINE, cksum
from tests.condition_files import UEVENT, nvme_json

DMIDECODE = """\
# dmidecode 3.4
Getting SMBIOS data from sysfs.
SMBIOS 3.2.0 present.

Handle 0x0000, DMI type 0, 26 bytes
BIOS Information
\tVendor: Invented
\tVersion: N2X 1.42
\tRelease Date: 03/04/2021
\tCharacteristics:
\t\tPCI is supported
\t\tVersion: not this one

Handle 0x0001, DMI type 1, 27 bytes
System Information
\tManufacturer: Pell
\tProduct Name: Wren 14
\tVersion: Default string
\tSerial Number: PL900001

Handle 0x0004, DMI type 4, 48 bytes
Processor Information
\tStatus: Populated, Enabled
\tVersion: Quern Q5 @ 1.60 GHz
\tCore Count: 4

Handle 0x0010, DMI type 16, 23 bytes
Physical Memory Array
\tLocation: System Board Or Motherboard
\tUse: System Memory
\tNumber Of Devices: 2

Handle 0x0011, DMI type 17, 84 bytes
Memory Device
\tSize: 8 GB
\tForm Factor: Row Of Chips
\tLocator: On board
\tType: DDR4
\tManufacturer: Unknown
\tPart Number: Not Specified

Handle 0x0012, DMI type 17, 84 bytes
Memory Device
\tSize: 8192 MB
\tForm Factor: SODIMM
\tLocator: ChannelB-DIMM0
\tType: DDR4
\tManufacturer: Hobbin
\tPart Number: HB8G

Handle 0x0018, DMI type 24, 5 bytes
Hardware Security
\tPower-On Password Status: Disabled
\tKeyboard Password Status: Disabled
\tAdministrator Password Status: Disabled
\tFront Panel Reset Status: Not Implemented
"""
LSPCI = """\
00:00.0 "Host bridge [0600]" "Quern [1f00]" "Root [0001]" -r02 -p00 "" ""
00:02.0 "VGA compatible controller [0300]" "Quern [1f00]" "Graphics 20 [0020]" -r02 "Pell [1f01]" "[0020]"
01:00.0 "Network controller [0280]" "Fenn [1f02]" "Wireless \\"AX\\" 2x2 [0080]" -r1a "Fenn [1f02]" "x [1]"
"""
UPOWER = """\
Device: /org/freedesktop/UPower/devices/line_power_AC
  native-path:          AC
  power supply:         yes
  line-power
    online:             yes

Device: /org/freedesktop/UPower/devices/battery_BAT0
  native-path:          BAT0
  vendor:               Invented
  model:                PK-57
  serial:               756
  power supply:         yes
  battery
    present:             yes
    rechargeable:        yes
    energy-full:         51.3 Wh
    energy-full-design:  57 Wh

Device: /org/freedesktop/UPower/devices/mouse_hid_1
  model:                Pointer
  power supply:         no
  mouse
    present:             yes

Daemon:
  daemon-version:  0.99.20
"""
CPUINFO = "processor\t: 0\nmodel name\t: Quern Q5\nphysical id\t: 0\ncpu cores\t: 4\n"
MEMINFO = "MemTotal:       16165124 kB\nMemFree:         1000000 kB\n"
DMI = (
    "sys_vendor=Pell\nproduct_name=Wren 14\nproduct_serial=PL900001\n"
    "bios_version=N2X 1.42\nbios_date=03/04/2021\n"
)


def lsblk_json(*drives: Mapping[str, object]) -> str:
    return json.dumps({"blockdevices": list(drives)}, indent=3) + "\n"


def drive(**changed: object) -> dict[str, object]:
    usual = {
        **dict.fromkeys(("rota", "rm", "hotplug"), False),
        "name": "nvme0n1",
        "type": "disk",
        "size": 512_110_190_592,
        "model": "Quern Q2",
        "serial": "Q7001",
        "vendor": None,
        "tran": "nvme",
    }
    return usual | changed


def edid(
    maker: str = "PLQ",
    product: int = 0x1234,
    across: int = 1920,
    down: int = 1080,
    mm: tuple[int, int] = (309, 174),
) -> bytes:
    """A base block by the standard's layout, its checksum right."""
    block = bytearray(128)
    block[0:8] = bytes((0, 255, 255, 255, 255, 255, 255, 0))
    first, second, third = (ord(letter) - 64 for letter in maker)
    block[8:10] = (first << 10 | second << 5 | third).to_bytes(2, "big")
    block[10:12] = product.to_bytes(2, "little")
    block[18:20] = bytes((1, 4))
    block[21:23] = bytes((31, 17))
    wide, high = mm
    block[54:56] = (14_000).to_bytes(2, "little")
    block[56], block[58] = across & 0xFF, across >> 8 << 4
    block[59], block[61] = down & 0xFF, down >> 8 << 4
    block[66], block[67], block[68] = wide & 0xFF, high & 0xFF, wide >> 8 << 4 | high >> 8
    block[72:90] = bytes((0, 0, 0, 0xFE, 0)) + b"PN14-FHD\n    "
    block[90:108] = bytes((0, 0, 0, 0x10, 0)) + bytes(13)
    block[127] = -sum(block[:127]) % 256
    return bytes(block)


def dump(data: bytes) -> str:
    """As `od -An -v -tx1` prints bytes."""
    rows = (data[at : at + 16] for at in range(0, len(data), 16))
    return "".join("".join(f" {byte:02x}" for byte in row) + "\n" for row in rows)


SAID: dict[str, str] = {
    "dmidecode": DMIDECODE,
    "dmi": DMI,
    "cpuinfo": CPUINFO,
    "meminfo": MEMINFO,
    "lsblk": lsblk_json(drive(), drive(name="sda", tran="usb", model="Stick", serial="S1")),
    "lspci": LSPCI,
    "power_supply": UEVENT,
    "upower": UPOWER,
    "edid card0-eDP-1": dump(edid()),
    "net": "wlp1s0 wireless\n",
    "acpi": "DSDT\nMSDM\n",
    "smartctl /dev/nvme0n1": json.dumps(
        nvme_json() | {"model_name": "Quern Q2", "serial_number": "Q7001"}, indent=1
    )
    + "\n",
}


def section(name: str, said: str | None, code: int = 0) -> bytes:
    if said is None:
        return f"section {name}\nmissing\nend\n".encode()
    data = said.encode()
    lines = b"".join(b"| " + line + b"\n" for line in data.removesuffix(b"\n").split(b"\n"))
    head = f"section {name}\nversion 1\nexit {code}\ncksum {cksum(data)} {len(data)}\n"
    return head.encode() + lines + b"end\n"


def machine_file(changed: Mapping[str, str | None] | None = None, at: str = "2026-11-27T08:00:00Z") -> bytes:
    """A whole file: what the tools say, with what is changed; None is a tool that is missing."""
    said = {**SAID, **(changed or {})}
    head = FIRST_LINE + f"\nat {at}\nroot yes\n".encode()
    return head + b"".join(section(name, text) for name, text in said.items()) + LAST_LINE + b"\n"
