"""Reads EDID: the 128 bytes with which a screen says what it is.

Source of the layout: VESA Enhanced EDID Standard (E-EDID), release A, base block: header, ID manufacturer
name, image size, 18-byte descriptors, checksum; from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from bench.domain.machine.told import words
from bench.errors import BadInput

BLOCK_BYTES = 128
HEADER = bytes((0, 255, 255, 255, 255, 255, 255, 0))
HOW = "Run the collector again with the screen's lid open."
LEAST_MM, MOST_MM = 100, 1000  # of a laptop's diagonal: common practice, no source

_DESCRIPTORS_AT = (54, 72, 90, 108)
_DESCRIPTOR_BYTES = 18
_TEXT, _NAME = 0xFE, 0xFC


@dataclass(frozen=True, slots=True)
class Panel:
    """A screen. `maker`: the three letters of its maker; `name`: what it calls itself, empty for nothing."""

    maker: str
    product: int
    name: str
    pixels_across: int | None
    pixels_down: int | None
    diagonal_mm: int | None

    @property
    def words(self) -> str:
        """Maker, product code and name in one line."""
        return " ".join(word for word in (self.maker, f"{self.product:04X}", self.name) if word)


def read_edid(block: bytes) -> Panel:
    """The screen that the base block tells of; blocks after it are passed over.

    BadInput, one sentence, for a block that is cut, is none, or whose checksum is wrong.
    """
    if len(block) < BLOCK_BYTES:
        raise BadInput(f"An EDID has {BLOCK_BYTES} bytes; there are {len(block)}.", HOW)
    block = block[:BLOCK_BYTES]
    if block[:8] != HEADER:
        raise BadInput("The bytes do not begin as an EDID does.", HOW)
    if sum(block) % 256:
        raise BadInput("The EDID's checksum is wrong: it is damaged.", HOW)
    descriptors = [block[at : at + _DESCRIPTOR_BYTES] for at in _DESCRIPTORS_AT]
    timing = next((one for one in descriptors[:1] if one[:2] != b"\0\0"), None)
    name = [_text_of(one) for tag in (_NAME, _TEXT) for one in descriptors if _tag(one) == tag]
    return Panel(
        maker=_maker(block),
        product=int.from_bytes(block[10:12], "little"),
        name=" ".join(one for one in name if one),
        pixels_across=timing[2] | (timing[4] & 0xF0) << 4 or None if timing else None,
        pixels_down=timing[5] | (timing[7] & 0xF0) << 4 or None if timing else None,
        diagonal_mm=_diagonal(block, timing),
    )


def bytes_of_dump(text: str) -> bytes:
    """The bytes that `od -An -v -tx1` printed. BadInput for any other text."""
    try:
        return bytes.fromhex(" ".join(text.split()))
    except ValueError:
        raise BadInput("The text is no dump of bytes.", HOW) from None


def _maker(block: bytes) -> str:
    """Three letters of five bits each, A is 1."""
    packed = int.from_bytes(block[8:10], "big")
    numbers = [packed >> shift & 0x1F for shift in (10, 5, 0)]
    return "".join(chr(64 + one) for one in numbers) if all(1 <= one <= 26 for one in numbers) else ""


def _tag(descriptor: bytes) -> int | None:
    return descriptor[3] if descriptor[:3] == b"\0\0\0" else None


def _text_of(descriptor: bytes) -> str:
    """Up to 13 characters, ended by a line feed where there are fewer."""
    text = descriptor[5:].split(b"\n")[0]
    return words("".join(chr(byte) if 32 <= byte < 127 else " " for byte in text))


def _diagonal(block: bytes, timing: bytes | None) -> int | None:
    """From the image size of the first timing in millimetres, else from that of the screen in centimetres."""
    across, down = block[21] * 10, block[22] * 10
    if timing is not None and timing[12] | timing[13] | timing[14]:
        across = timing[12] | (timing[14] & 0xF0) << 4
        down = timing[13] | (timing[14] & 0x0F) << 8
    if not across or not down:
        return None
    diagonal = round(math.hypot(across, down))
    return diagonal if LEAST_MM <= diagonal <= MOST_MM else None
