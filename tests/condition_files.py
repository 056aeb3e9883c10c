"""Files as units make them, with invented names: for the tests of readers, readings and commands."""

from __future__ import annotations

import json
from typing import Any

UEVENT = """\
DEVTYPE=power_supply
POWER_SUPPLY_NAME=BAT0
POWER_SUPPLY_TYPE=Battery
POWER_SUPPLY_STATUS=Discharging
POWER_SUPPLY_PRESENT=1
POWER_SUPPLY_TECHNOLOGY=Li-ion
POWER_SUPPLY_CYCLE_COUNT=312
POWER_SUPPLY_VOLTAGE_MIN_DESIGN=11400000
POWER_SUPPLY_VOLTAGE_NOW=12690000
POWER_SUPPLY_POWER_NOW=0
POWER_SUPPLY_ENERGY_FULL_DESIGN=57000000
POWER_SUPPLY_ENERGY_FULL=51300000
POWER_SUPPLY_ENERGY_NOW=41250000
POWER_SUPPLY_CAPACITY=80
POWER_SUPPLY_CAPACITY_LEVEL=Normal
POWER_SUPPLY_MODEL_NAME=PK-57
POWER_SUPPLY_MANUFACTURER=Invented
POWER_SUPPLY_SERIAL_NUMBER=  756
"""

ADAPTER = "POWER_SUPPLY_NAME=AC\nPOWER_SUPPLY_TYPE=Mains\nPOWER_SUPPLY_ONLINE=1\n"

MOUSE = (
    "POWER_SUPPLY_NAME=hid-1\nPOWER_SUPPLY_TYPE=Battery\nPOWER_SUPPLY_SCOPE=Device\n"
    "POWER_SUPPLY_CAPACITY=55\nPOWER_SUPPLY_MODEL_NAME=Pointer\n"
)


def nvme_log(**changed: int) -> bytes:
    """A health log of a drive in ordinary use; `b37=1` sets byte 37, `u48=9` the 16 bytes from 48."""
    log = bytearray(512)
    for at, width, value in (
        (0, 1, 0),
        (1, 2, 310),
        (3, 1, 100),
        (4, 1, 10),
        (5, 1, 7),
        (32, 16, 55_446_743),
        (48, 16, 62_786_553),
        (64, 16, 346_082_272),
        (80, 16, 382_760_336),
        (96, 16, 1224),
        (112, 16, 348),
        (128, 16, 3191),
        (144, 16, 57),
        (160, 16, 0),
        (176, 16, 12),
        (192, 4, 3),
        (196, 4, 0),
        (200, 2, 318),
        (202, 2, 319),
    ):
        log[at : at + width] = value.to_bytes(width, "little")
    for name, value in changed.items():
        at, width = int(name[1:]), {"b": 1, "w": 2, "u": 16}[name[0]]
        log[at : at + width] = value.to_bytes(width, "little")
    return bytes(log)


def nvme_json(**log: Any) -> dict[str, Any]:
    """What smartctl 7 prints for an NVMe drive."""
    return {
        "json_format_version": [1, 0],
        "smartctl": {"version": [7, 4], "argv": ["smartctl", "-a", "--json"], "exit_status": 0},
        "device": {"name": "/dev/nvme0", "type": "nvme", "protocol": "NVMe"},
        "model_name": "Invented NV-512",
        "serial_number": "NV512-0001",
        "firmware_version": "1A",
        "nvme_total_capacity": 512_110_190_592,
        "smart_status": {"passed": True, "nvme": {"value": 0}},
        "nvme_smart_health_information_log": {
            "critical_warning": 0,
            "temperature": 37,
            "available_spare": 100,
            "available_spare_threshold": 10,
            "percentage_used": 7,
            "data_units_read": 55_446_743,
            "data_units_written": 62_786_553,
            "host_reads": 346_082_272,
            "host_writes": 382_760_336,
            "controller_busy_time": 1224,
            "power_cycles": 348,
            "power_on_hours": 3191,
            "unsafe_shutdowns": 57,
            "media_errors": 0,
            "num_err_log_entries": 12,
            "warning_temp_time": 3,
            "critical_comp_time": 0,
            "temperature_sensors": [45, 46],
        }
        | log,
        "temperature": {"current": 37},
        "power_cycle_count": 348,
        "power_on_time": {"hours": 3191},
    }


def attribute(number: int, name: str, raw: int, **changed: Any) -> dict[str, Any]:
    """One row of an ATA drive's table as smartctl prints it."""
    return {
        "id": number,
        "name": name,
        "value": 100,
        "worst": 100,
        "thresh": 10,
        "when_failed": "",
        "flags": {"value": 51, "string": "PO--CK ", "prefailure": True},
        "raw": {"value": raw, "string": str(raw)},
    } | changed


def ata_json(*attributes: dict[str, Any], exit_status: int = 0, passed: bool = True) -> dict[str, Any]:
    """What smartctl 7 prints for an ATA drive."""
    rows = attributes or (
        attribute(5, "Reallocated_Sector_Ct", 0),
        attribute(9, "Power_On_Hours", 31_337, thresh=0, flags={"prefailure": False}),
        attribute(188, "Command_Timeout", 4_295_032_833, thresh=0, flags={"prefailure": False}),
        attribute(194, "Temperature_Celsius", 240_518_299_684, thresh=0, flags={"prefailure": False}),
        attribute(197, "Current_Pending_Sector", 0, thresh=0, flags={"prefailure": False}),
    )
    return {
        "json_format_version": [1, 0],
        "smartctl": {"version": [7, 3], "exit_status": exit_status},
        "device": {"name": "/dev/sda", "type": "sat", "protocol": "ATA"},
        "model_name": "Invented HD-500",
        "serial_number": "HD500-0007",
        "firmware_version": "0001",
        "user_capacity": {"blocks": 976_773_168, "bytes": 500_107_862_016},
        "smart_status": {"passed": passed},
        "ata_smart_attributes": {"revision": 1, "table": list(rows)},
        "power_on_time": {"hours": 31_337},
        "power_cycle_count": 84,
        "temperature": {"current": 36},
    }


def as_bytes(document: dict[str, Any]) -> bytes:
    """The document as the file that smartctl leaves."""
    return json.dumps(document, indent=2).encode()
