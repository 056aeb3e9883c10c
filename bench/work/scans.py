"""A scan resolved: the unit, drive or consumable whose label it was. Light: no library that writes."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.codes import EAN_LENGTH, is_ean
from bench.domain.scan import CONSUMABLE, DRIVE, UNIT, UNKNOWN, Found
from bench.domain.tags import LONGEST_BODY, SHORTEST_BODY, read_tag
from bench.domain.text import for_display, quoted
from bench.errors import BadInput
from bench.views import scans as reads


def resolve_scan(desk: Desk, text: str) -> Found:
    """What a scanned text means: a unit's tag or serial number, a drive's serial number, a consumable's code.

    What bears it twice over, or not at all, is unknown, and the answer says why.
    """
    code = " ".join(for_display(text).split())
    with desk.store.read() as connection:
        units = reads.units(connection, code)
        drives = reads.drives(connection, code)
        consumables = reads.consumables(connection, code)
    if units and (len(units) == 1 or units[0]["tag"] == code):
        row = units[0]
        return Found(code, UNIT, row["name"], row["tag"], unit_id=row["id"])
    if units:
        tags = ", ".join(row["tag"] for row in units)
        return Found(code, UNKNOWN, says=f"Several units bear the serial number {quoted(code)}: {tags}.")
    if len(drives) == 1:
        row = drives[0]
        return Found(code, DRIVE, row["name"], row["tag"], unit_id=row["unit_id"], drive_id=row["id"])
    if consumables:
        return Found(code, CONSUMABLE, consumables[0]["name"], consumable_id=consumables[0]["id"])
    return Found(code, UNKNOWN, says=_why_unknown(code), new_serial=bool(code) and not is_ean(code))


def _why_unknown(code: str) -> str:
    digits = code.isascii() and code.isdigit()
    if len(code) == EAN_LENGTH and is_ean(code):
        return f"No consumable bears the code {code}."
    if digits and SHORTEST_BODY < len(code) <= LONGEST_BODY + 1:
        try:
            read_tag(code)
        except BadInput as error:
            return f"{error} No serial number or code is like it either."
        return f"No unit bears the tag {code}."
    return f"{quoted(code)} is no tag, serial number or code that is known here."
