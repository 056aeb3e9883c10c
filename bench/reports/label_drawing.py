"""A label laid out in millimetres: where its squares, bars and lines of text stand. No form of file yet."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.labels import Label, LabelSize
from bench.reports.label_codes import QUIET_BARS, QUIET_QR, bars, qr_modules

MARGIN_MM = 1.5
BARS_FROM_MM = 24  # height of a label from which bars stand beneath the rest
BARS_MM = 7.0
MODULE_LEAST_MM = 0.19  # a bar's least width, with care (GS1 General Specifications; from memory)
TITLE_MOST_MM = 8.0
LINE_MM = 3.2


@dataclass(frozen=True, slots=True)
class Box:
    """A black rectangle: left and upper edge, width and height in millimetres."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text: left and upper edge, the height of its letters and the room it has, in millimetres."""

    x: float
    y: float
    height: float
    room: float
    text: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """A label drawn: its size, its boxes and its lines of text."""

    size: LabelSize
    boxes: tuple[Box, ...]
    words: tuple[Words, ...]


def draw(label: Label, size: LabelSize) -> Drawing:
    """Lay a label out: the QR code on the left, lines on the right, bars beneath where there is room."""
    strip = _bars(label.code, size) if size.height_mm >= BARS_FROM_MM else ()
    bottom = size.height_mm - MARGIN_MM - (BARS_MM + 1 if strip else 0)
    modules = qr_modules(label.code)
    side = min(bottom - MARGIN_MM, size.width_mm * 0.45)
    module = side / (len(modules) + 2 * QUIET_QR)
    boxes = [
        Box(MARGIN_MM + (column + QUIET_QR) * module, MARGIN_MM + (row + QUIET_QR) * module, module, module)
        for row, line in enumerate(modules)
        for column, dark in enumerate(line)
        if dark
    ]
    left = MARGIN_MM + side + 1
    return Drawing(size, (*boxes, *strip), _words(label, left, size.width_mm - MARGIN_MM - left, bottom))


def _words(label: Label, left: float, room: float, bottom: float) -> tuple[Words, ...]:
    title_mm = min(TITLE_MOST_MM, (bottom - MARGIN_MM) * 0.45)
    words = [Words(left, MARGIN_MM, title_mm, room, label.title)]
    y = MARGIN_MM + title_mm + 1
    for line in label.lines:
        if y + LINE_MM > bottom:
            break
        words.append(Words(left, y, LINE_MM * 0.8, room, line))
        y += LINE_MM + 0.4
    return tuple(words)


def _bars(code: str, size: LabelSize) -> tuple[Box, ...]:
    """The bars across the foot; none where each would be too thin to be read."""
    modules = bars(code)
    width = (size.width_mm - 2 * MARGIN_MM) / (len(modules) + 2 * QUIET_BARS)
    if width < MODULE_LEAST_MM:
        return ()
    width = min(width, 0.5)
    left = (size.width_mm - len(modules) * width) / 2
    top = size.height_mm - MARGIN_MM - BARS_MM
    return tuple(Box(left + at * width, top, width, BARS_MM) for at, dark in enumerate(modules) if dark)
