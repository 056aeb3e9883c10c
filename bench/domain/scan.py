"""What a scanned text turned out to be."""

from __future__ import annotations

from dataclasses import dataclass

UNIT, DRIVE, CONSUMABLE, UNKNOWN = "unit", "drive", "consumable", "unknown"


@dataclass(frozen=True, slots=True)
class Found:
    """What a scan means. `kind`: unit, drive, consumable or unknown; the number of that kind is set.

    `unit_id` is also the unit a drive is in. `name`: its words. `says`: for what is unknown, what was not
    known about it. `new_serial`: whether it may be the serial number of a unit that is not taken in yet.
    """

    text: str
    kind: str
    name: str = ""
    tag: str = ""
    unit_id: int | None = None
    drive_id: int | None = None
    consumable_id: int | None = None
    says: str = ""
    new_serial: bool = False
