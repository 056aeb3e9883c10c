"""One drive and one passed wipe of it, invented, for tests of views and documents."""

from __future__ import annotations

from bench.views.certificate import Certificate
from bench.views.drives import DriveLine, WipeLine
from tests.clocks import WEDNESDAY_MORNING_US

WIPE = WipeLine(
    wipe_id=3,
    drive_id=7,
    method="purge",
    technique="NVMe sanitize, block erase",
    tool="a tool",
    tool_version="2.1",
    confidentiality_before="personal data",
    confidentiality_after="none",
    destination="sold in the unit",
    person="Ada Ägren",
    title="technician",
    location="Bench 2",
    contact="bench@shop.example",
    wiped_us=WEDNESDAY_MORNING_US,
    verification="read back in full",
    result="passed",
    verifier="Bo Ελένη",
    verifier_title="foreman",
    verifier_location="Office",
    verifier_contact="office@shop.example",
    verified_us=WEDNESDAY_MORNING_US + 86_400_000_000,
    note="",
)
DRIVE = DriveLine(
    drive_id=7,
    unit_id=1,
    tag="10014",
    maker="Invented",
    model="NV-512",
    serial="NV512-0001",
    media_type="NVMe drive",
    media_number="M-77",
    size_bytes=512_110_190_592,
    came_from="office clearance",
    wipes=(WIPE,),
)
CERTIFICATE = Certificate(DRIVE, WIPE, "Invented workshop", "Europe/Berlin", WEDNESDAY_MORNING_US)
