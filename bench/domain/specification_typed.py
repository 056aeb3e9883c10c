"""What may be typed of a machine's specification, where no stick is used: one list of fields for all."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from bench.domain.calculators.shape import Given, Limits, read_given
from bench.domain.specification import LOCKS, MEMORY_GB, MM_PER_INCH, Specification, inches, memory_size
from bench.domain.text import clean_line, quoted
from bench.domain.typed import TypedFields
from bench.errors import BadInput

Values = dict[str, Any]
MOST_MEMORY_GB = 65_536
_MEMORY = re.compile(r"([0-9]{1,6}(?:[.,][0-9]{1,3})?) ?(GB|MB)?", re.IGNORECASE)
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_PIXELS = re.compile(r"([0-9]{2,5}) ?[x×*] ?([0-9]{2,5})", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class SpecificationField:
    """A field: what it reads into values by the names of a Specification, and how a value is typed again."""

    name: str
    label: str
    hint: str
    reads: Callable[[str], Values]
    types: Callable[[Specification], str]
    keeps: tuple[str, ...]
    choices: tuple[str, ...] = ()


def _words(name: str, label: str, hint: str = "") -> SpecificationField:
    return SpecificationField(
        name,
        label,
        hint,
        lambda text: {name: clean_line(text, label)},
        lambda known: getattr(known, name) or "",
        (name,),
    )


def _lock(name: str, label: str) -> SpecificationField:
    given = Given(name, label, choices=LOCKS)
    return SpecificationField(
        name,
        label,
        "",
        lambda text: {name: read_given(given, text).words},
        lambda known: getattr(known, name) or "",
        (name,),
        LOCKS,
    )


def _whole(name: str, label: str, most: int, kept: str = "") -> SpecificationField:
    given, kept = Given(name, label, "", 0, most, whole=True), kept or name

    def type_again(known: Specification) -> str:
        value = getattr(known, kept)
        return "" if value is None else str(value)

    return SpecificationField(
        name,
        label,
        given.limits(),
        lambda text: {kept: round(read_given(given, text).value)},
        type_again,
        (kept,),
    )


def _memory(name: str, label: str, kept: str) -> SpecificationField:
    def type_again(known: Specification) -> str:
        value = getattr(known, kept)
        return "" if value is None else memory_size(value)

    return SpecificationField(
        name,
        label,
        "in GB, such as 16",
        lambda text: {kept: _memory_typed(label, text)},
        type_again,
        (kept,),
    )


_DIAGONAL = Given("screen", "Screen diagonal", "in", 4, 40)
_DESIGN = Given("design", "Battery, design", "Wh", 0.1, 1000, also=Limits("mAh", 50, 100_000))


def _memory_typed(label: str, text: str) -> int:
    """Bytes of memory; its GB is 2^30 and its MB 2^20 of them."""
    found = _MEMORY.fullmatch(text.strip())
    size = float(found[1].replace(",", ".")) if found else 0.0
    factor = 2**20 if found and (found[2] or "").casefold() == "mb" else MEMORY_GB
    if found is None or size * factor > MOST_MEMORY_GB * MEMORY_GB:
        raise BadInput(f"{label} {quoted(text)} is not understood.", "Type it as 16, 16 GB or 512 MB.")
    return round(size * factor)


def _day(text: str) -> Values:
    try:
        if not _DAY.fullmatch(text.strip()):
            raise ValueError(text)
        return {"firmware_on": date.fromisoformat(text.strip())}
    except ValueError:
        raise BadInput(f"{quoted(text)} is not a day.", "Type it as 2021-03-04.") from None


def _diagonal(text: str) -> Values:
    return {"screen_diagonal_mm": round(read_given(_DIAGONAL, text).value * MM_PER_INCH)}


def _pixels(text: str) -> Values:
    found = _PIXELS.fullmatch(text.strip())
    if found is None:
        raise BadInput(f"The pixels {quoted(text)} are not understood.", "Type them as 1920 x 1080.")
    return {"screen_pixels_across": int(found[1]), "screen_pixels_down": int(found[2])}


def _pixels_again(known: Specification) -> str:
    across, down = known.screen_pixels_across, known.screen_pixels_down
    return f"{across} x {down}" if across and down else ""


def _design(text: str) -> Values:
    figure = read_given(_DESIGN, text)
    if figure.unit == "Wh":
        return {"battery_design_uwh": round(figure.value * 10**6), "battery_design_uah": None}
    return {"battery_design_uwh": None, "battery_design_uah": round(figure.value * 1000)}


def _design_again(known: Specification) -> str:
    if known.battery_design_uwh is not None:
        return f"{known.battery_design_uwh / 10**6:.6g} Wh"
    return "" if known.battery_design_uah is None else f"{known.battery_design_uah / 1000:.6g} mAh"


FIELDS: dict[str, SpecificationField] = {
    field.name: field
    for field in (
        _words("processor", "Processor"),
        _whole("cores", "Cores", 1024),
        _memory("memory", "Memory", "memory_bytes"),
        _memory("soldered", "Memory, soldered", "memory_soldered_bytes"),
        _whole("slots", "Memory slots", 64, "memory_slots"),
        SpecificationField(
            "screen",
            "Screen diagonal",
            "in inches, such as 14; or 355 mm",
            _diagonal,
            lambda known: (
                "" if known.screen_diagonal_mm is None else f"{inches(known.screen_diagonal_mm)} in"
            ),
            ("screen_diagonal_mm",),
        ),
        SpecificationField(
            "pixels",
            "Pixels",
            "such as 1920 x 1080",
            _pixels,
            _pixels_again,
            ("screen_pixels_across", "screen_pixels_down"),
        ),
        _words("screen_panel", "Panel", "as its label has it; matt, touch"),
        _words("graphics", "Graphics"),
        _words("wireless", "Wireless"),
        _words("battery", "Battery", "its maker and model"),
        SpecificationField(
            "design",
            "Battery, design",
            "in Wh, such as 57; or 5000 mAh",
            _design,
            _design_again,
            ("battery_design_uwh", "battery_design_uah"),
        ),
        _words("keyboard_layout", "Keyboard", "its language or layout, such as UK"),
        _words("colour", "Colour"),
        _words("system", "System", "what is installed; none"),
        _words("licence", "Licence", "sticker, key in the firmware, none"),
        _words("firmware_version", "Firmware"),
        SpecificationField(
            "firmware_on",
            "Firmware date",
            "such as 2021-03-04",
            _day,
            lambda known: "" if known.firmware_on is None else known.firmware_on.isoformat(),
            ("firmware_on",),
        ),
        _lock("firmware_lock", "Firmware lock"),
        _lock("account_lock", "Account lock"),
    )
}
_OF_MEMORY = ("memory_bytes", "memory_soldered_bytes", "memory_slots")


def typed_of(known: Specification) -> dict[str, str]:
    """Every field as a person would type what is known; empty for nothing."""
    return {name: field.types(known) for name, field in FIELDS.items()}


def read_typed(typed: Mapping[str, str], before: Specification) -> Specification:
    """What was known, with what was typed by field in its place; an empty field is not known any more.

    A field that says what it said leaves the finer figure behind it. BadInput for a field that there is not,
    and for what cannot be.
    """
    for name in typed:
        if name not in FIELDS:
            raise BadInput(f"There is no field {quoted(name)}.", f"It has {', '.join(FIELDS)}.")
    said, fields, values = typed_of(before), TypedFields(), Values()
    for name, text in typed.items():
        if text.strip() == said[name]:
            continue
        field = FIELDS[name]
        if text.strip():
            got: Values | None = fields.read(name, field.reads, text)  # None where it is at fault
            values |= got if got is not None else {}
        else:
            values |= dict.fromkeys(field.keeps)
    fields.check()
    if any(values.get(name, getattr(before, name)) != getattr(before, name) for name in _OF_MEMORY):
        values["memory_modules"] = None  # they were other ones
    known = replace(before, **values)
    _require_possible(known)
    return known


def _require_possible(known: Specification) -> None:
    total, soldered = known.memory_bytes, known.memory_soldered_bytes
    if total is not None and soldered is not None and soldered > total:
        raise BadInput(
            f"More memory is soldered ({memory_size(soldered)}) than there is ({memory_size(total)}).",
            "Type the memory of all together, and how much of it is soldered.",
            field="soldered",
        )
    if known.tells_nothing:
        raise BadInput("Nothing is typed.", f"Type one of {', '.join(FIELDS)}.")
