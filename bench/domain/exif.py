"""What an EXIF block says of a picture, and the same block without all that could tell where it was taken.

Source: CIPA DC-008 (EXIF 2.32), 4.6: a TIFF header and directories (IFD) of entries of 12 bytes; tag 0x8825
points to the directory of the place (GPS IFD), tag 0x8769 to the one of the exposure. What is kept is a list
of what may stay, not of what must go: a maker's notes and comments may hold a place too.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from typing import NamedTuple

EXPOSURE_DIRECTORY = 0x8769
ORIENTATION = 0x0112
TAKEN, TAKEN_OFFSET = 0x9003, 0x9011
CHANGED = 0x0132

# Which way up, resolution, when, by which maker's camera.
_KEPT = frozenset((0x010F, 0x0110, ORIENTATION, 0x011A, 0x011B, 0x0128, CHANGED, 0x0213))
# Exposure, aperture, sensitivity, when, focal length, colours, size.
_KEPT_OF_EXPOSURE = frozenset(
    (
        *(0x829A, 0x829D, 0x8827, 0x9000, TAKEN, 0x9004, 0x9010, TAKEN_OFFSET, 0x9012),
        *(0x920A, 0xA001, 0xA002, 0xA003, 0xA405),
    )
)
_BYTES_OF_TYPE = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8}
_ORDERS = {b"II*\x00": "<", b"MM\x00*": ">"}
_HEADER, _ENTRY, _INLINE = 8, 12, 4
_LONGEST_VALUE = 256  # bytes; nothing that is kept needs more
_MOST_ENTRIES = 1_000


class Exif(NamedTuple):
    """What is kept of a block, and when the picture was taken as it says: empty where it does not."""

    block: bytes = b""
    taken: str = ""
    offset: str = ""


class _Entry(NamedTuple):
    """A value as it stands in a block: `kind` is its TIFF type, `values` how many there are of it."""

    kind: int
    values: int
    value: bytes


_Entries = Mapping[int, _Entry]


def kept_of(block: bytes) -> Exif:
    """A block without place, comments and makers' notes; one that cannot be read is not kept at all."""
    order = _ORDERS.get(block[:4])
    if order is None:
        return Exif()
    try:
        (first,) = struct.unpack_from(f"{order}I", block, 4)
        entries = _entries(block, order, first)
        pointer = entries.get(EXPOSURE_DIRECTORY)
        of_exposure: _Entries = {}
        if pointer is not None and len(pointer.value) == _INLINE:
            of_exposure = _entries(block, order, struct.unpack(f"{order}I", pointer.value)[0])
    except struct.error:
        return Exif()
    kept = {tag: entry for tag, entry in entries.items() if tag in _KEPT}
    exposure = {tag: entry for tag, entry in of_exposure.items() if tag in _KEPT_OF_EXPOSURE}
    if not kept and not exposure:
        return Exif()
    taken = _text(exposure.get(TAKEN)) or _text(kept.get(CHANGED))
    return Exif(_written(order, block[:4], kept, exposure), taken, _text(exposure.get(TAKEN_OFFSET)))


def _entries(block: bytes, order: str, at: int) -> dict[int, _Entry]:
    """The entries of the directory at that place. struct.error where it does not lie within the block."""
    (count,) = struct.unpack_from(f"{order}H", block, at)
    found: dict[int, _Entry] = {}
    for number in range(min(count, _MOST_ENTRIES)):
        place = at + 2 + number * _ENTRY
        tag, kind, values, where = struct.unpack_from(f"{order}HHII", block, place)
        size = _BYTES_OF_TYPE.get(kind, 0) * values
        if not 0 < size <= _LONGEST_VALUE:
            continue
        start = place + 8 if size <= _INLINE else where
        value = block[start : start + size]
        if len(value) == size:
            found[tag] = _Entry(kind, values, value)
    return found


def _text(entry: _Entry | None) -> str:
    if entry is None or entry.kind != 2:
        return ""
    return entry.value.split(b"\x00")[0].decode("ascii", errors="replace").strip()


def _written(order: str, magic: bytes, kept: _Entries, exposure: _Entries) -> bytes:
    """A block of these entries alone: header, first directory, exposure's directory, no other."""
    first = dict(kept)
    after_first = _HEADER + _size(first, pointer=bool(exposure))
    if exposure:
        first[EXPOSURE_DIRECTORY] = _Entry(4, 1, struct.pack(f"{order}I", after_first))
    head = magic + struct.pack(f"{order}I", _HEADER)
    return (
        head
        + _directory(order, first, _HEADER)
        + (_directory(order, exposure, after_first) if exposure else b"")
    )


def _size(entries: _Entries, *, pointer: bool) -> int:
    outside = sum(_even(len(one.value)) for one in entries.values() if len(one.value) > _INLINE)
    return 2 + _ENTRY * (len(entries) + pointer) + 4 + outside


def _directory(order: str, entries: _Entries, at: int) -> bytes:
    """A directory that begins at that place, with the values that find no room in it behind it."""
    behind = at + 2 + _ENTRY * len(entries) + 4
    lines, values = b"", b""
    for tag, (kind, count, value) in sorted(entries.items()):
        if len(value) <= _INLINE:
            where = value.ljust(_INLINE, b"\x00")
        else:
            where = struct.pack(f"{order}I", behind + len(values))
            values += value.ljust(_even(len(value)), b"\x00")
        lines += struct.pack(f"{order}HHI", tag, kind, count) + where
    return struct.pack(f"{order}H", len(entries)) + lines + b"\x00" * 4 + values


def _even(size: int) -> int:
    """Values begin at even places (TIFF 6.0)."""
    return size + size % 2
