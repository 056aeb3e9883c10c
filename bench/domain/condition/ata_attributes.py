"""SMART attributes of an ATA drive, their raw values decoded where the number alone would mislead.

What an attribute counts is its maker's to say. 5 (reallocated) and 197 (pending) are conventions; 190 and 194
pack the degrees of now, and often of the coldest and warmest, into one number; 188 packs three counts.
Source of the packing: smartmontools, the layouts told beside its raw formats tempminmax and raw16(raw16).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

TEMPERATURES = frozenset({190, 194})
COMMAND_TIMEOUTS = 188
REALLOCATED = 5
PENDING = 197

NOW, IN_THE_PAST = "now", "past"

MOST_RAW = 2**56 - 1  # seven bytes at most
_COLDEST, _WARMEST = -60, 120
_EXTENSION = (0x00, 0xFF)  # of a byte's sign into the next


@dataclass(frozen=True, slots=True)
class Attribute:
    """One attribute. `value`, `worst`, `threshold`: normalized, lower is worse. `meaning`: `raw` in words.

    `failed`: now, past or empty, as the drive's values stand against the threshold. `prefailure`: whether its
    maker takes it as a sign of failing (else of age or use).
    """

    number: int
    name: str
    value: int
    worst: int
    threshold: int
    prefailure: bool
    failed: str
    raw: int
    meaning: str

    def figures(self) -> dict[str, Any]:
        """What was told, by name."""
        return asdict(self)


def failed_against(value: int, worst: int, threshold: int) -> str:
    """Whether an attribute stands at or under its threshold now, did in the past, or neither (empty).

    A threshold of 0 never fails. Source: ATA/ATAPI-5 and SFF-8035i revision 2, value at or under threshold.
    """
    if threshold <= 0:
        return ""
    if value <= threshold:
        return NOW
    return IN_THE_PAST if worst <= threshold else ""


def meaning_of(number: int, raw: int) -> str:
    """The raw value in words: degrees for 190 and 194, three counts for 188, else the number itself."""
    if number in TEMPERATURES:
        return _temperature(raw)
    if number == COMMAND_TIMEOUTS and raw > 0xFFFF:
        counts = [(raw >> shift) & 0xFFFF for shift in (0, 16, 32)]
        return "packed counts " + ", ".join(map(str, counts))
    return str(raw)


def celsius_of(raw: int) -> int | None:
    """The degrees of now in a temperature attribute's raw value; None where they cannot be."""
    now = _signed(raw & 0xFF)
    return now if _COLDEST <= now <= _WARMEST else None


def _temperature(raw: int) -> str:
    now = celsius_of(raw)
    if now is None:
        return "cannot be read"
    found = _coldest_and_warmest(now, raw.to_bytes(7, "little"))
    return f"{now} °C (lowest {found[0]}, highest {found[1]})" if found else f"{now} °C"


def _coldest_and_warmest(now: int, raw: bytes) -> tuple[int, int] | None:
    """The two degrees packed beside that of now, wherever a maker puts them; None where none fit it."""
    for first, second in _pairs(raw):
        low, high = sorted((_signed(first), _signed(second)))
        if _COLDEST <= low <= now <= high <= _WARMEST:
            return low, high
    return None


def _pairs(raw: bytes) -> Iterator[tuple[int, int]]:
    """Where the two may stand, by bytes from the lowest: 2 and 4, 2 and 3, or 1 and 2."""
    if not any(raw[2:6]):
        return
    if raw[1] not in _EXTENSION:
        if not any(raw[3:6]):
            yield raw[1], raw[2]
        return
    if any(raw[4:6]) and raw[3] in _EXTENSION and raw[5] in _EXTENSION:
        yield raw[2], raw[4]
    yield raw[2], raw[3]


def _signed(byte: int) -> int:
    return byte - 256 if byte > 127 else byte
