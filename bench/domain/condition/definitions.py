"""What a verdict goes by: for each, the definition in plain words and where it is published."""

from __future__ import annotations

from typing import NamedTuple

from bench.domain.limits import heat, media, packs
from bench.domain.limits.record import COMMON_PRACTICE

NVME = "NVM Express base specification, SMART / Health Information log (02h)"
SMARTCTL = "smartctl(8), EXIT STATUS"
ATTRIBUTES = "ATA/ATAPI-5 and SFF-8035i revision 2: a value at or under its threshold"
_STATE_FROM = media.LIMITS["drive.state_from_percent"].typed


class Definition(NamedTuple):
    """What is meant, and its source."""

    text: str
    source: str


DEFINITIONS: dict[str, Definition] = {
    "health": Definition(
        "Health is full charge capacity ÷ design capacity × 100, both from the pack's own gauge. It is an "
        "estimate and drifts until the gauge has seen a full cycle.",
        "Smart Battery FullChargeCapacity (0x10) over DesignCapacity (0x18), as in gas-gauge manuals; "
        f"the limit of {packs.LIMITS['pack.keep_percent'].typed} %: {COMMON_PRACTICE}",
    ),
    "cycles": Definition(
        "A cycle is counted each time a set share of design capacity, often 90 %, was discharged in total. "
        "Packs are often stated to keep about 80 % for 300 to 500 cycles, some for 1000.",
        "Smart Battery CycleCount (0x17), as in gas-gauge manuals; "
        f"stated from {packs.LIMITS['pack.tired_cycles'].typed} on: {packs.MAKERS.name}",
    ),
    "swelling": Definition(
        "A swollen cell holds gas under pressure: work stops, it is kept apart, not charged, pressed or "
        "pierced, and handed to a licensed carrier or collection point.",
        "49 CFR 173.185(f) and ADR special provision 376 treat it as damaged; local rules come first",
    ),
    "critical_warning": Definition(
        "The drive sets a bit for each of: spare below threshold, temperature past a threshold, reliability "
        "degraded, read-only, backup of volatile memory failed, persistent memory region unreliable.",
        f"{NVME}, byte 0",
    ),
    "spare": Definition(
        "Spare blocks left, in percent of what it began with, against the drive's own threshold. At or "
        "under the threshold it runs out of replacements.",
        f"{NVME}, bytes 3 and 4; at the threshold itself: {COMMON_PRACTICE}",
    ),
    "used": Definition(
        "The maker's estimate of life used, in percent. 100 means the estimated endurance is used up, not "
        "that the drive has failed; it may pass 100 and stops at 255.",
        f"{NVME}, byte 5; stating it from {_STATE_FROM} %: {COMMON_PRACTICE}",
    ),
    "media_errors": Definition(
        "Times the drive found data it could not recover. Any such count is stated.",
        f"{NVME}, bytes 160 to 175; stating it from 1 on: {COMMON_PRACTICE}",
    ),
    "passed": Definition(
        "The drive's own overall verdict. Failing is taken at its word; passed is not enough alone.",
        f"{SMARTCTL}, bit 3; ATA SMART RETURN STATUS",
    ),
    "exit_status": Definition(
        "Bit 2: a command failed or a checksum was wrong. 3: failing. 4: a pre-failure attribute at or "
        "under its threshold. 5: one was so in the past. 6: errors in the error log, 7: the self-tests.",
        SMARTCTL,
    ),
    "attribute": Definition(
        "An attribute's value falls as the part wears. At or under its threshold a pre-failure attribute "
        "tells of failing, any other of age or use beyond design. A threshold of 0 never fails.",
        ATTRIBUTES,
    ),
    "sectors": Definition(
        "Attribute 5 counts sectors replaced, 197 sectors waiting for it. That is a convention: what an "
        "attribute counts is its maker's to say.",
        f"convention, read by smartmontools so; stating it from 1 on: {COMMON_PRACTICE}",
    ),
    "memory": Definition(
        "One error in any full pass means the memory is not to be relied on; no error in a pass tells only "
        "that none was found in it.",
        COMMON_PRACTICE,
    ),
    "heat": Definition(
        "Degrees over room per watt, (load − room) ÷ power. Two load tests are compared by it; each of the "
        f"four readings may be off by {heat.LIMITS['load.reading_error_k'].typed} K and each power by "
        f"{heat.LIMITS['load.power_error_percent'].typed} %, so the difference is uncertain by k = 2 of all.",
        "θ = (T − T room) ÷ P: thermal resistance; uncertainty: JCGM 100:2008 (GUM) 4.3.7, 5.1.2, 6.2; "
        f"what readings may be off by: {COMMON_PRACTICE}",
    ),
    "brightness": Definition(
        "Luminance of a white picture in the middle at full setting, in candela per square metre. It is "
        "stated, not judged.",
        COMMON_PRACTICE,
    ),
    "pixels": Definition("Pixels that stay dark or lit are counted and stated.", COMMON_PRACTICE),
    "ports": Definition("Each port is tried with a plug in it; those that fail are stated.", COMMON_PRACTICE),
    "keys": Definition("Each key is pressed once; those that fail are stated.", COMMON_PRACTICE),
    "screws": Definition("Screws missing from the case are counted and stated.", COMMON_PRACTICE),
    "unjudged": Definition(
        "No published definition applies to these figures; they are shown.", COMMON_PRACTICE
    ),
}
