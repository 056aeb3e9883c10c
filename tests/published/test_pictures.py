"""Places taken out of pictures, held against what the formats' own texts say and what Pillow reads.

Sources: CIPA DC-008-2019 (EXIF 2.32), 4.6.3: tag 0x8825 points to the GPS IFD; ITU-T T.81, B.1.1.3 (markers);
W3C PNG (third edition), 5.3 and 5.5 (chunk layout, CRC-32 over type and data), 11.3.3.2 (iTXt);
RFC 9649, 2.3 to 2.7 (RIFF header, VP8X flags: EXIF 0x08, XMP 0x04). Reference reader: Pillow.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable

import pytest

from bench.domain.pictures import JPEG, PNG, WEBP, without_place
from tests.pictures import EXPOSURE, GPS, OFFSET, SECRET, TAKEN, decoded, exif_in, jpeg, packed, png, webp

MADE: dict[str, tuple[str, Callable[[], bytes]]] = {
    "jpeg": (JPEG, jpeg),
    "progressive jpeg": (JPEG, lambda: jpeg(progressive=True)),
    "png": (PNG, png),
    "webp": (WEBP, webp),
    "lossless webp": (WEBP, lambda: webp(lossless=True)),
}


@pytest.mark.parametrize("name", MADE)
def test_no_place_is_left_and_every_pixel_is(name: str) -> None:
    kind, make = MADE[name]
    before = make()
    assert dict(exif_in(before).get_ifd(GPS))  # Pillow finds a place in what was given
    assert SECRET in before
    after = without_place(before, name)
    assert after.kind == kind
    assert decoded(after.content) == decoded(before)
    read = exif_in(after.content)
    assert not read.get_ifd(GPS)
    assert GPS not in read
    assert SECRET not in after.content
    assert packed(SECRET) not in after.content
    assert (after.taken, after.offset) == (TAKEN, OFFSET)


@pytest.mark.parametrize("name", MADE)
def test_which_way_up_and_when_are_kept_as_pillow_reads_them(name: str) -> None:
    read = exif_in(without_place(MADE[name][1](), name).content)
    assert read[0x0112] == 6  # Orientation, DC-008 4.6.4 A
    assert read[0x010F] == "Invented"
    exposure = read.get_ifd(EXPOSURE)
    assert (exposure[0x9003], exposure[0x9011]) == (TAKEN, OFFSET)
    assert float(exposure[0x829A]) == pytest.approx(1 / 50)
    assert 0x927C not in exposure  # a maker's note may hold a place
    assert 0x010E not in read


@pytest.mark.parametrize("name", MADE)
def test_what_is_kept_is_kept_again_byte_for_byte(name: str) -> None:
    once = without_place(MADE[name][1](), name)
    assert without_place(once.content, name) == once


def test_the_colour_profile_of_a_jpeg_stays() -> None:
    assert b"ICC_PROFILE\x00" in jpeg()
    assert b"ICC_PROFILE\x00" in without_place(jpeg(), "one.jpg").content


def test_every_chunk_of_a_png_carries_its_crc() -> None:
    content = without_place(png(), "one.png").content
    at, names = 8, []
    while at < len(content):
        (length,) = struct.unpack_from(">I", content, at)
        body = content[at + 4 : at + 8 + length]
        assert struct.unpack_from(">I", content, at + 8 + length)[0] == zlib.crc32(body)
        names.append(body[:4])
        at += 12 + length
    assert names[0] == b"IHDR"
    assert names[-1] == b"IEND"
    assert not {b"tEXt", b"iTXt", b"zTXt"} & set(names)
    assert b"pHYs" in names


@pytest.mark.parametrize("lossless", [False, True])
def test_the_header_of_a_webp_says_what_is_left(lossless: bool) -> None:
    before, after = webp(lossless=lossless), without_place(webp(lossless=lossless), "one.webp").content
    assert before[12:16] == after[12:16] == b"VP8X"
    assert before[20] & 0x0C == 0x0C
    assert after[20] & 0x0C == 0x08  # EXIF is left, XMP is not
    assert struct.unpack_from("<I", after, 4)[0] == len(after) - 8
    assert b"XMP " not in after
