"""Small invented pictures for tests: drawn by Pillow, with the place, comments and trailers a phone adds."""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image
from PIL.PngImagePlugin import PngInfo
from PIL.TiffImagePlugin import IFDRational

PLACE = b"\x30\x00\x00\x00"
SECRET = b"Elsewhere 52.5200 13.4050"
TAKEN, OFFSET = "2026:05:01 10:11:12", "+02:00"
GPS, EXPOSURE = 0x8825, 0x8769


def drawn(width: int = 48, height: int = 32, *, shade: int = 0) -> Image.Image:
    """A picture of colours that run across it; another `shade` is another picture."""
    picture = Image.new("RGB", (width, height))
    picture.putdata(
        [((x * 5 + shade) % 256, (y * 7) % 256, (x + y) % 256) for y in range(height) for x in range(width)]
    )
    return picture


def exif(*, orientation: int = 6) -> Image.Exif:
    """What a phone writes: which way up, when, where, and a note."""
    block = Image.Exif()
    block[0x0112] = orientation
    block[0x010F] = "Invented"
    block[0x010E] = SECRET.decode()
    exposure = {0x9003: TAKEN, 0x9011: OFFSET, 0x927C: SECRET, 0x829A: IFDRational(1, 50)}
    block.get_ifd(EXPOSURE).update(exposure)
    block.get_ifd(GPS).update(
        {1: "N", 2: (52.0, 31.0, 12.0), 3: "E", 4: (13.0, 24.0, 18.0), 29: "2026:05:01"}
    )
    return block


def jpeg(
    *, shade: int = 0, progressive: bool = False, orientation: int = 6, size: tuple[int, int] = (48, 32)
) -> bytes:
    """A JPEG with place, comment, XMP, IPTC and a trailer behind its end."""
    made = io.BytesIO()
    drawn(*size, shade=shade).save(
        made,
        "JPEG",
        exif=exif(orientation=orientation),
        comment=SECRET,
        progressive=progressive,
        icc_profile=b"invented profile",
        xmp=b"<x:xmpmeta>" + SECRET + b"</x:xmpmeta>",
    )
    content = made.getvalue()
    iptc = b"Photoshop 3.0\x00" + SECRET
    segment = b"\xff\xed" + struct.pack(">H", len(iptc) + 2) + iptc
    return content[:2] + segment + content[2:] + SECRET


def png(*, shade: int = 0) -> bytes:
    """A PNG with place, text, XMP and a trailer."""
    told = PngInfo()
    told.add_text("Comment", SECRET.decode())
    told.add_itxt("XML:com.adobe.xmp", SECRET.decode(), zip=True)
    made = io.BytesIO()
    drawn(shade=shade).save(made, "PNG", exif=exif(), pnginfo=told, dpi=(96, 96))
    return made.getvalue() + SECRET


def webp(*, shade: int = 0, lossless: bool = False) -> bytes:
    """A WebP with place and XMP, and a trailer."""
    made = io.BytesIO()
    drawn(shade=shade).save(made, "WEBP", exif=exif().tobytes(), xmp=SECRET, lossless=lossless)
    return made.getvalue() + SECRET


def decoded(content: bytes) -> tuple[str, tuple[int, int], bytes]:
    """What Pillow makes of a picture's own bytes, whichever way up."""
    with Image.open(io.BytesIO(content)) as picture:
        return picture.mode, picture.size, picture.tobytes()


def exif_in(content: bytes) -> Image.Exif:
    """The EXIF that Pillow finds in a picture."""
    with Image.open(io.BytesIO(content)) as picture:
        return picture.getexif()


def packed(text: bytes) -> bytes:
    """Text as a compressed chunk holds it."""
    return zlib.compress(text)
