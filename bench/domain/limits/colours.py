"""Colour spaces: the CIE 1931 x and y of their primaries."""

from __future__ import annotations

from bench.domain.limits.record import Limit, Source, by_id

_SPACES: dict[str, tuple[Source, tuple[tuple[float, float], ...]]] = {
    "sRGB": (
        Source("ITU-R BT.709 and IEC 61966-2-1", "BT.709-6"),
        ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)),
    ),
    "NTSC 1953": (
        Source("FCC, 1953, as in ITU-R BT.470", "BT.470-6"),
        ((0.67, 0.33), (0.21, 0.71), (0.14, 0.08)),
    ),
    "P3": (Source("SMPTE RP 431-2", "2011"), ((0.68, 0.32), (0.265, 0.69), (0.15, 0.06))),
    "BT.2020": (Source("ITU-R BT.2020", "BT.2020-2"), ((0.708, 0.292), (0.170, 0.797), (0.131, 0.046))),
}
NAMES = tuple(_SPACES)
PRIMARIES = ("red", "green", "blue")


def _rows(name: str) -> list[Limit]:
    source, corners = _SPACES[name]
    return [
        source.of(f"colour.{name}.{primary}_{axis}", value)
        for primary, corner in zip(PRIMARIES, corners, strict=True)
        for axis, value in zip("xy", corner, strict=True)
    ]


LIMITS = by_id(*(row for name in NAMES for row in _rows(name)))
