"""Tests of a unit: their kinds, the figures that each may give, and how one ends.

Limits are there to catch slips of the hand, not to judge: `common practice, no source`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from bench.domain.calculators.shape import Given
from bench.domain.condition.fields import Field, Kept, Subject, read_fields
from bench.domain.condition.figures import Figures, shown
from bench.domain.text import quoted
from bench.errors import BadInput

PASSED, FAILED, BROKEN_OFF = "passed", "failed", "broken off"
OUTCOMES = (PASSED, FAILED, BROKEN_OFF)

SOAK, MEMORY, DRIVE, SCREEN = "soak", "memory", "drive", "screen"
RUNDOWN, CHARGER = "battery rundown", "charger under load"


def _field(name: str, label: str, unit: str, least: float, most: float, kept: str, factor: int = 1) -> Field:
    whole = factor == 1
    return Field(Given(name, label, unit, least, most, whole=whole), {unit: Kept(kept, factor)})


def _count(name: str, label: str, most: int) -> Field:
    return _field(name, label, "", 0, most, name)


_HOTTEST = _field("hottest", "Hottest", "°C", -20, 150, "hottest_tenths_c", 10)
_POWER = _field("power", "Power", "W", 0.1, 1000, "power_mw", 1000)

KINDS: dict[str, Subject] = {
    kind.name: kind
    for kind in (
        Subject(SOAK, "Soak test", (_HOTTEST, _POWER)),
        Subject(
            MEMORY,
            "Memory test",
            (_count("passes", "Full passes", 10_000), _count("errors", "Errors", 10**9)),
        ),
        Subject(
            DRIVE,
            "Drive test",
            (
                _count("errors", "Errors", 10**9),
                _field("read", "Reads", "MB/s", 0.1, 100_000, "read_kb_s", 1000),
            ),
        ),
        Subject(SCREEN, "Screen test", (_count("dead_pixels", "Dead or stuck pixels", 100_000),)),
        Subject(
            "keyboard",
            "Keyboard test",
            (_count("keys_tested", "Keys tested", 200), _count("keys_failing", "Keys failing", 200)),
        ),
        Subject(
            "ports",
            "Test of the ports",
            (_count("ports_tested", "Ports tested", 50), _count("ports_working", "Ports working", 50)),
        ),
        Subject(
            RUNDOWN,
            "Battery rundown",
            (
                _field("energy", "Energy taken out", "Wh", 0.1, 1000, "energy_uwh", 10**6),
                _field("left", "Charge left at the end", "%", 0, 100, "left_percent"),
            ),
        ),
        Subject(
            CHARGER,
            "Charger under load",
            (
                _field("voltage", "Voltage", "V", 0.1, 60, "voltage_uv", 10**6),
                _field("current", "Current", "A", 0.01, 50, "current_ma", 1000),
                _HOTTEST,
            ),
        ),
        Subject(
            "speed",
            "Speed test",
            (_count("points", "Points", 10**9), _field("seconds", "Took", "s", 0.1, 10**6, "took_ms", 1000)),
        ),
        Subject("sound", "Sound test", ()),
        Subject("camera", "Camera test", ()),
        Subject(
            "wireless",
            "Wireless test",
            (
                _field("rate", "Throughput", "Mbit/s", 0.1, 100_000, "rate_kbit_s", 1000),
                _field("signal", "Signal", "dBm", -120, 0, "signal_dbm"),
            ),
        ),
        Subject("touchpad", "Touchpad test", ()),
    )
}


def read_kind(text: str) -> str:
    """A kind of test as typed, or how its name begins; empty for nothing. BadInput lists them all."""
    typed = " ".join(text.split()).casefold()
    if not typed or typed in KINDS:
        return typed
    begun = [name for name in KINDS if name.startswith(typed)]
    if len(begun) == 1:
        return begun[0]
    raise BadInput(f"{quoted(text)} is no kind of test.", f"Choose one of: {', '.join(KINDS)}.")


def read_outcome(text: str) -> str:
    """How a test ended. BadInput where it is none of the three."""
    typed = " ".join(text.replace("-", " ").split()).casefold()
    if typed in OUTCOMES:
        return typed
    what = f"{quoted(text)} is no outcome of a test." if typed else "The outcome of the test is not said."
    raise BadInput(what, f"Say {', '.join(OUTCOMES[:-1])} or {OUTCOMES[-1]}.")


def read_figures(kind: str, typed: Mapping[str, str]) -> dict[str, Any]:
    """The figures of what was typed by field, each in a whole small unit named in its name; none for nothing.

    BadInput for a field that the kind does not have, or a figure that cannot be.
    """
    if not any(text.strip() for text in typed.values()):
        return {}
    subject = KINDS[kind]
    if not subject.fields:
        raise BadInput(f"{subject.label} has no figures.", "Put it into the note.")
    return read_fields(subject, typed)


def figure_words(kind: str, figures: Figures) -> str:
    """The figures of a test in a line, such as Hottest 91.5 °C, Power 45.0 W."""
    return ", ".join(
        f"{field.given.label} {shown(kept.name, figures[kept.name])}"
        for field in KINDS[kind].fields
        for kept in field.kept.values()
        if kept.name in figures
    )


def symptom_of(kind: str, note: str) -> str:
    """What a failed test shows, where nobody said it in other words."""
    return f"{KINDS[kind].label} failed{f': {note.splitlines()[0]}' if note.strip() else ''}"[:200]


# Where a failed test points to, as far as that is told by what was tested.
PLACE_TESTED = {
    MEMORY: "memory",
    DRIVE: "drive",
    SCREEN: "display",
    "keyboard": "keyboard",
    "ports": "ports",
    RUNDOWN: "battery",
    CHARGER: "charger",
    "sound": "speakers",
    "camera": "camera",
    "wireless": "wireless",
    "touchpad": "touchpad",
}
