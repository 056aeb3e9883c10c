"""The contrast of two colours by WCAG 2.2 (relative luminance; contrast ratio), and what it asks of text."""

from __future__ import annotations

from rich.color import ColorTriplet

LEAST = 4.5  # success criterion 1.4.3, text of usual size


def contrast(one: ColorTriplet, other: ColorTriplet) -> float:
    """Between 1, for equal colours, and 21, for black and white."""
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: ColorTriplet) -> float:
    red, green, blue = (_linear(part / 255) for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
