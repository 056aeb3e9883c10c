"""Heat-shrink tubing: nominal sizes, and what is asked of a fit."""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, Limit, Source, by_id

TWO_TO_ONE = Source("AMS-DTL-23053/5", "a datasheet's millimetres to MIL-I-23053/5")
THREE_TO_ONE = Source("3:1 sizes as sold, single wall", unverified=True)
FOUR_TO_ONE = Source("4:1 sizes as sold", unverified=True)
GUIDE = Source("suppliers' sizing guides: 20 to 30 % over the widest part, 5 to 15 % lengthwise")

_SIZES: dict[int, tuple[Source, tuple[tuple[float, float], ...]]] = {
    2: (
        TWO_TO_ONE,
        (
            *((1.6, 0.8), (2.4, 1.2), (3.2, 1.6), (4.8, 2.4), (6.4, 3.2), (9.5, 4.8)),
            *((12.7, 6.4), (19.1, 9.5), (25.4, 12.7), (38.1, 19.1), (50.8, 25.4)),
        ),
    ),
    3: (THREE_TO_ONE, ((1.5, 0.5), (3, 1), (6, 2), (9, 3), (12, 4), (18, 6), (24, 8), (39, 13))),
    4: (FOUR_TO_ONE, ((4, 1), (8, 2), (12, 3), (16, 4), (24, 6))),
}
RATIOS = tuple(_SIZES)


def _rows(ratio: int) -> list[Limit]:
    """Expanded (at least) and recovered (at most) inside diameters, the n-th size of a ratio as ratio.n."""
    source, sizes = _SIZES[ratio]
    return [
        source.of(f"tube.{ratio}.{number}.{name}", value, "mm")
        for number, size in enumerate(sizes)
        for name, value in zip(("expanded", "recovered"), size, strict=True)
    ]


LIMITS = by_id(
    *(row for ratio in RATIOS for row in _rows(ratio)),
    GUIDE.of("tube.clearance_percent", 20, "%"),
    GUIDE.of("tube.shrink_percent", 10, "%"),
    PRACTICE.of("tube.least_hold_percent", 10, "%"),
)
