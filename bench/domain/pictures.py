"""Pictures as files: which kind one is, and the same file without what could tell where it was taken.

The picture itself is not touched: its own bytes are copied as they stand, so that its pixels stay the same.
Of all else only what is needed to show it stays. Sources: ITU-T T.81, annex B (JPEG markers), CIPA DC-008
(APP1 of EXIF), W3C PNG (third edition) 5.3 and 11.3 (chunks, their CRC), RFC 9649 (WebP in RIFF).
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterator
from typing import NamedTuple

from bench.domain.exif import Exif, kept_of
from bench.domain.text import quoted
from bench.errors import BadInput

JPEG, PNG, WEBP = "jpeg", "png", "webp"
KINDS = (JPEG, PNG, WEBP)
ENDINGS = {JPEG: ".jpg", PNG: ".png", WEBP: ".webp"}

_PNG_HEAD = b"\x89PNG\r\n\x1a\n"
_EXIF_HEAD = b"Exif\x00\x00"
_SOI, _EOI, _SOS, _APP0, _APP1, _COM = 0xD8, 0xD9, 0xDA, 0xE0, 0xE1, 0xFE
_APPS = range(0xE0, 0xF0)
_ALONE = frozenset((0x01, *range(0xD0, 0xD8)))  # markers that no length follows
# What a picture is shown by: JFIF's resolution, a colour profile, Adobe's colour transform.
_APPS_KEPT = {_APP0: (b"JFIF\x00", b"JFXX\x00"), 0xE2: (b"ICC_PROFILE\x00",), 0xEE: (b"Adobe",)}
_NEXT_MARKER = re.compile(rb"\xff+[^\x00\xd0-\xd7\xff]", re.DOTALL)
_CHUNKS_KEPT = frozenset(
    (
        *(b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"pHYs"),
        *(b"bKGD", b"hIST", b"sPLT", b"cICP", b"mDCV", b"cLLI", b"acTL", b"fcTL", b"fdAT"),
    )
)
_PIECES_KEPT = frozenset((b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"))
_HAS_EXIF, _HAS_XMP = 0x08, 0x04


class Stripped(NamedTuple):
    """A picture's file as it is kept. `taken`, `offset`: when it was taken, in EXIF's own form, or empty."""

    content: bytes
    kind: str
    taken: str
    offset: str


def kind_of(content: bytes, name: str) -> str:
    """Which of KINDS a file is, by its first bytes. BadInput, in one sentence, for any other."""
    if content[:3] == b"\xff\xd8\xff":
        return JPEG
    if content[:8] == _PNG_HEAD:
        return PNG
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return WEBP
    raise BadInput(
        f"{quoted(name)} is not a JPEG, PNG or WebP picture.",
        "Have the camera or phone save JPEG, or convert it first.",
        field="path",
    )


def without_place(content: bytes, name: str) -> Stripped:
    """The file without place, comments and all that follows the picture.

    BadInput for a file of another kind, or one that does not keep to the rules of its kind.
    """
    kind = kind_of(content, name)
    parts = {JPEG: _jpeg, PNG: _png, WEBP: _webp}[kind]
    try:
        kept, exif = parts(content)
    except (struct.error, IndexError, _DamagedError) as error:
        raise damaged(name) from error
    return Stripped(kept, kind, exif.taken, exif.offset)


def damaged(name: str) -> BadInput:
    """What is raised of a picture that cannot be read to its end."""
    return BadInput(
        f"{quoted(name)} is damaged or not there to its end.",
        "Copy it from the camera or phone again.",
        field="path",
    )


class _DamagedError(Exception):
    """The file does not keep to the rules of its kind."""


def _jpeg(content: bytes) -> tuple[bytes, Exif]:
    kept, exif = bytearray(content[:2]), Exif()
    for marker, segment in _segments(content):
        if marker == _APP1 and segment[4:].startswith(_EXIF_HEAD) and not exif.block:
            exif = kept_of(segment[4 + len(_EXIF_HEAD) :])
            if exif.block:
                kept += _segment(_APP1, _EXIF_HEAD + exif.block)
        elif marker in _APPS:
            if segment[4:].startswith(_APPS_KEPT.get(marker, (b"\x00never",))):
                kept += segment
        elif marker != _COM:
            kept += segment
    return bytes(kept), exif


def _segment(marker: int, content: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, marker, len(content) + 2) + content


def _segments(content: bytes) -> Iterator[tuple[int, bytes]]:
    """Each marker up to the end of the image with all its bytes; a scan's with its coded data."""
    at = 2
    while True:
        if content[at] != 0xFF:
            raise _DamagedError
        while content[at + 1] == 0xFF:
            at += 1
        marker, start = content[at + 1], at
        if marker == _EOI:
            yield marker, content[start : start + 2]
            return
        if marker in (0x00, _SOI):
            raise _DamagedError
        at += 2
        if marker not in _ALONE:
            (length,) = struct.unpack_from(">H", content, at)
            at += length
            if length < 2 or at > len(content):
                raise _DamagedError
        if marker == _SOS:
            found = _NEXT_MARKER.search(content, at)
            if found is None:
                raise _DamagedError
            at = found.start()
        yield marker, content[start:at]


def _png(content: bytes) -> tuple[bytes, Exif]:
    kept, exif = bytearray(_PNG_HEAD), Exif()
    for name, data, chunk in _chunks(content):
        if name == b"eXIf":
            exif = kept_of(data)
            if exif.block:
                kept += _chunk(name, exif.block)
        elif name in _CHUNKS_KEPT:
            kept += chunk
    return bytes(kept), exif


def _chunks(content: bytes) -> Iterator[tuple[bytes, bytes, bytes]]:
    """Each chunk's name, data and all its bytes, up to the last one. _DamagedError for a wrong CRC."""
    at, name = len(_PNG_HEAD), b""
    while name != b"IEND":
        (length,) = struct.unpack_from(">I", content, at)
        name, data = content[at + 4 : at + 8], content[at + 8 : at + 8 + length]
        (crc,) = struct.unpack_from(">I", content, at + 8 + length)
        if crc != zlib.crc32(name + data):
            raise _DamagedError
        yield name, data, content[at : at + 12 + length]
        at += 12 + length


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _webp(content: bytes) -> tuple[bytes, Exif]:
    pieces: list[tuple[bytes, bytes]] = []
    exif = Exif()
    for name, data in _pieces(content):
        if name == b"EXIF":
            exif = kept_of(data.removeprefix(_EXIF_HEAD))
            if exif.block:
                pieces.append((name, exif.block))
        elif name in _PIECES_KEPT:
            pieces.append((name, data))
    if not pieces:
        raise _DamagedError
    body = b"WEBP" + b"".join(_piece(name, _flagged(name, data, exif)) for name, data in pieces)
    return b"RIFF" + struct.pack("<I", len(body)) + body, exif


def _pieces(content: bytes) -> Iterator[tuple[bytes, bytes]]:
    (size,) = struct.unpack_from("<I", content, 4)
    at, end = 12, size + 8
    if end > len(content):
        raise _DamagedError
    while at + 8 <= end:
        (length,) = struct.unpack_from("<I", content, at + 4)
        if at + 8 + length > end:
            raise _DamagedError
        yield content[at : at + 4], content[at + 8 : at + 8 + length]
        at += 8 + length + length % 2


def _piece(name: bytes, data: bytes) -> bytes:
    return name + struct.pack("<I", len(data)) + data + b"\x00" * (len(data) % 2)


def _flagged(name: bytes, data: bytes, exif: Exif) -> bytes:
    """The piece that says which others there are, saying so of those that are left."""
    if name != b"VP8X" or not data:
        return data
    flags = data[0] & ~(_HAS_EXIF | _HAS_XMP) | (_HAS_EXIF if exif.block else 0)
    return bytes((flags,)) + data[1:]
