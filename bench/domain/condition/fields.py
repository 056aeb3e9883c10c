"""What may be typed for a reading: every subject's fields as data, so that one form shows them all.

Limits are there to catch slips of the hand, not to judge: `common practice, no source`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from bench.domain.calculators.shape import Given, Limits, read_given
from bench.domain.condition.limits import more_than_a_pack_can_hold
from bench.domain.safety import AFTER_A_BAD_CELL
from bench.domain.text import quoted
from bench.domain.typed import TypedFields
from bench.errors import BadInput

BEFORE, AFTER = "before", "after"
MOMENTS = (BEFORE, AFTER)

YES, NO = "yes", "no"
CLIPPED, SCREWED, GLUED = "clipped in", "screwed in", "glued in"
FITTED = (CLIPPED, SCREWED, GLUED)


class Kept(NamedTuple):
    """Under which name a typed figure is kept, and how many of its small units make one typed."""

    name: str
    factor: int = 1


@dataclass(frozen=True, slots=True)
class Field:
    """A field of the form: what may be given, and how it is kept by the unit it came in."""

    given: Given
    kept: Mapping[str, Kept]


@dataclass(frozen=True, slots=True)
class Subject:
    """A thing that is measured. `cautions`: shown beside the form."""

    name: str
    label: str
    fields: tuple[Field, ...]
    cautions: tuple[str, ...] = ()


def _field(given: Given, *kept: Kept) -> Field:
    units = (given.unit, given.also.unit) if given.also else (given.unit,)
    return Field(given, dict(zip(units, kept, strict=True)))


def _count(name: str, label: str, most: int) -> Field:
    return _field(Given(name, label, "", 0, most, whole=True), Kept(name))


def _degrees(name: str, label: str, least: float, most: float) -> Field:
    return _field(Given(name, label, "°C", least, most), Kept(f"{name}_tenths_c", 10))


_CHARGE = Limits("mAh", 50, 100_000)

_BATTERY = (
    _field(
        Given("design", "Design capacity", "Wh", 0.1, 1000, also=_CHARGE),
        Kept("design_uwh", 10**6),
        Kept("design_uah", 10**3),
    ),
    _field(
        Given("full", "Full charge, from its gauge", "Wh", 0.1, 1000, also=_CHARGE),
        Kept("full_uwh", 10**6),
        Kept("full_uah", 10**3),
    ),
    _field(Given("cycles", "Cycles, if it tells them", "", 1, 10_000, whole=True), Kept("cycles")),
    _field(Given("voltage", "Voltage", "V", 1, 60), Kept("voltage_uv", 10**6)),
    _field(Given("swelling", "Swelling seen", choices=(NO, YES)), Kept("swelling")),
    _field(Given("fitted", "The pack is", choices=FITTED), Kept("fitted")),
)

_DRIVE = (
    _field(Given("size", "Size", "GB", 1, 1_000_000), Kept("size_bytes", 10**9)),
    _field(Given("used", "Percentage used", "%", 0, 255, whole=True), Kept("used_percent")),
    _field(Given("hours", "Power-on hours", "h", 0, 1_000_000, whole=True), Kept("power_on_hours")),
    _field(Given("errors", "Media errors", "", 0, 10**9, whole=True), Kept("media_errors")),
)

SUBJECTS: dict[str, Subject] = {
    subject.name: subject
    for subject in (
        Subject("battery", "Battery", _BATTERY, AFTER_A_BAD_CELL),
        Subject("drive", "Drive", _DRIVE),
        Subject(
            "memory",
            "Memory test",
            (_count("passes", "Full passes", 10_000), _count("errors", "Errors", 10**9)),
        ),
        Subject(
            "heat",
            "Temperatures",
            (
                _degrees("room", "Room", -20, 60),
                _degrees("idle", "Chip, idle", -20, 150),
                _degrees("load", "Chip, under load", -20, 150),
                _field(Given("power", "Power under load", "W", 0.5, 1000), Kept("power_mw", 1000)),
                _field(Given("minutes", "Load ran for", "min", 1, 10_000, whole=True), Kept("minutes")),
            ),
        ),
        Subject(
            "screen",
            "Screen",
            (
                _field(Given("brightness", "Brightest", "cd/m²", 1, 10_000), Kept("brightness_cd_m2")),
                _count("dead_pixels", "Dead or stuck pixels", 100_000),
            ),
        ),
        Subject(
            "ports",
            "Ports",
            (_count("ports_tested", "Ports tested", 50), _count("ports_working", "Ports working", 50)),
        ),
        Subject(
            "keyboard",
            "Keyboard",
            (_count("keys_tested", "Keys tested", 200), _count("keys_failing", "Keys failing", 200)),
        ),
        Subject("screws", "Screws", (_count("screws_missing", "Screws missing", 200),)),
    )
}


def subject_named(name: str) -> Subject:
    """The subject of that name; BadInput lists them all for any other."""
    subject = SUBJECTS.get(name.strip().casefold())
    if subject is None:
        raise BadInput(f"{quoted(name)} is not measured here.", f"Choose one of: {', '.join(SUBJECTS)}.")
    return subject


def check_moment(moment: str) -> str:
    """The same moment, if it is before or after; BadInput otherwise."""
    if moment not in MOMENTS:
        raise BadInput(f"{quoted(moment)} is not when a reading is taken.", "Choose before or after.")
    return moment


def read_fields(subject: Subject, typed: Mapping[str, str]) -> dict[str, Any]:
    """The figures of what was typed by field; empty fields are left out.

    BadInput for a field the subject does not have, a figure that cannot be, or nothing typed at all.
    """
    known = {field.given.name: field for field in subject.fields}
    for name in typed:
        if name not in known:
            raise BadInput(f"{subject.label} has no field {quoted(name)}.", f"It has {', '.join(known)}.")
    figures: dict[str, Any] = {}
    fields = TypedFields()
    figured = {
        name: fields.read(name, read_given, field.given, typed[name])
        for name, field in known.items()
        if typed.get(name, "").strip()
    }
    fields.check()
    for name, field in known.items():
        if name in figured:
            figure = figured[name]
            kept = field.kept[figure.unit]
            figures[kept.name] = figure.words or round(figure.value * kept.factor)
    if not figures:
        raise BadInput(f"Nothing was typed for {subject.label}.", f"Give one of {', '.join(known)}.")
    _require_possible(figures)
    return figures


def _require_possible(figures: Mapping[str, Any]) -> None:
    if figures.get("ports_working", 0) > figures.get("ports_tested", 50):
        raise BadInput("More ports work than were tested.", "Count them again.", field="ports_working")
    if figures.get("keys_failing", 0) > figures.get("keys_tested", 200):
        raise BadInput("More keys fail than were tested.", "Count them again.", field="keys_failing")
    if {"design_uwh", "full_uah"} <= figures.keys() or {"design_uah", "full_uwh"} <= figures.keys():
        raise BadInput("Design and full charge are in different units.", "Give both in Wh or both in mAh.")
    if more_than_a_pack_can_hold(figures):
        raise BadInput("Full charge is far above design capacity.", "Read both again.")
