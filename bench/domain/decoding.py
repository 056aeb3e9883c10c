"""Pictures decoded: whether one is there to its end, made smaller for a page, and as cells of a terminal.

What decodes them is loaded only here, when it is first needed.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

from bench.domain.pictures import KINDS, damaged
from bench.domain.text import quoted
from bench.errors import BadInput

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 80_000_000
PAGE_PIXELS = 1_000  # the longer side on a page; common practice, no source
PAGE_QUALITY = 82  # of 100; common practice, no source

Colour = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Cells:
    """A picture as cells of a terminal: rows of an upper and a lower colour for each cell."""

    rows: tuple[tuple[tuple[Colour, Colour], ...], ...]


def require_whole(content: bytes, name: str) -> None:
    """Pass where the whole picture can be decoded. BadInput where not, or where it has too many pixels."""
    with _opened(content, name) as picture:
        picture.load()


def smaller_jpeg(content: bytes, name: str, longest: int = PAGE_PIXELS) -> bytes:
    """The picture, the right way up, no side longer than that, as a JPEG without anything besides."""
    with _opened(content, name) as picture:
        upright = _upright(picture, (longest, longest))
        made = BytesIO()
        upright.save(made, "JPEG", quality=PAGE_QUALITY)
        return made.getvalue()


def cells_of(content: bytes, name: str, width: int, height: int) -> Cells:
    """The picture in at most so many cells of a terminal, each twice as high as it is wide."""
    with _opened(content, name) as picture:
        small = _upright(picture, (max(1, width), max(1, height) * 2))
        across, down = small.size
        pixels = small.tobytes()
    colours: list[Colour] = [
        (pixels[at], pixels[at + 1], pixels[at + 2]) for at in range(0, across * down * 3, 3)
    ]
    lines = [colours[row * across : (row + 1) * across] for row in range(down)]
    if len(lines) % 2:
        lines.append(lines[-1])
    return Cells(tuple(tuple(zip(lines[at], lines[at + 1], strict=True)) for at in range(0, len(lines), 2)))


@contextmanager
def _opened(content: bytes, name: str) -> Iterator[Image]:
    from PIL import Image

    try:
        with Image.open(BytesIO(content), formats=[kind.upper() for kind in KINDS]) as picture:
            width, height = picture.size
            if width * height > MOST_PIXELS:
                raise _too_large(name, width * height)
            yield picture
    except Image.DecompressionBombError as error:
        raise _too_large(name, 2 * MOST_PIXELS) from error
    except (OSError, SyntaxError, ValueError, struct.error) as error:  # how the library tells of damage
        raise damaged(name) from error


def _upright(picture: Image, most: tuple[int, int]) -> Image:
    """The picture turned as its EXIF says, on white where it is transparent, no larger than that."""
    from PIL import Image, ImageOps

    picture.draft("RGB", (most[0] * 2, most[1] * 2))  # a JPEG is decoded no larger than needed
    turned = ImageOps.exif_transpose(picture)
    turned.thumbnail(most)
    if turned.mode in ("RGBA", "LA", "PA") or "transparency" in turned.info:
        ground = Image.new("RGBA", turned.size, "white")
        ground.alpha_composite(turned.convert("RGBA"))
        turned = ground
    return turned.convert("RGB")


def _too_large(name: str, pixels: int) -> BadInput:
    return BadInput(
        f"{quoted(name)} has more than {MOST_PIXELS // 10**6} million pixels "
        f"(about {pixels // 10**6} million).",
        "Save it smaller first.",
        field="path",
    )
