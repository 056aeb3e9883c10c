"""What a machine is made of, in the figures that a buyer asks for; None: nobody has told it.

A GB of memory is 2^30 bytes, as its modules are named (JEDEC 100B.01); a drive's GB is 10^9 bytes (IEC
80000-13). Both from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import NamedTuple

MEMORY_GB = 2**30
DRIVE_GB = 10**9
MM_PER_INCH = 25.4
LOCKED, NONE_SEEN = "locked", "none seen"
LOCKS = (NONE_SEEN, LOCKED)
TYPED, COLLECTOR = "typed", "collector"
SOURCES = {TYPED: "typed", COLLECTOR: "the machine's own file"}
NO_BATTERY = "none seen"
WIRELESS_THERE = "there ("

# Form factors of SMBIOS type 17 that are not put into a slot: common practice, no source.
SOLDERED = frozenset(("Chip", "TSOP", "Row Of Chips", "Die"))


@dataclass(frozen=True, slots=True)
class MemoryModule:
    """A memory module, or memory on the board itself. `form`: in the words of SMBIOS, such as SODIMM."""

    slot: str
    size_bytes: int
    kind: str = ""
    form: str = ""
    maker: str = ""
    part: str = ""

    @property
    def soldered(self) -> bool:
        """Whether it is on the board and in no slot."""
        return self.form in SOLDERED


@dataclass(frozen=True, slots=True)
class FittedDrive:
    """A drive as the machine names it."""

    model: str = ""
    serial: str = ""
    kind: str = ""
    size_bytes: int | None = None

    @property
    def words(self) -> str:
        """Its size, kind and model in one line."""
        size = drive_size(self.size_bytes) if self.size_bytes else ""
        return " ".join(word for word in (size, self.kind, self.model) if word) or "a drive"


@dataclass(frozen=True, slots=True, kw_only=True)
class Specification:
    """A machine's parts and state. `memory_seen_bytes`: what the kernel may use, less than is fitted.

    `memory_slots`: slots for modules, filled or not. `drives`, `memory_modules`: empty where none was seen.
    `firmware_lock`, `account_lock`: one of LOCKS.
    """

    processor: str | None = None
    cores: int | None = None
    memory_bytes: int | None = None
    memory_slots: int | None = None
    memory_soldered_bytes: int | None = None
    memory_modules: tuple[MemoryModule, ...] | None = None
    memory_seen_bytes: int | None = None
    drives: tuple[FittedDrive, ...] | None = None
    screen_diagonal_mm: int | None = None
    screen_pixels_across: int | None = None
    screen_pixels_down: int | None = None
    screen_panel: str | None = None
    graphics: str | None = None
    wireless: str | None = None
    battery: str | None = None
    battery_design_uwh: int | None = None
    battery_design_uah: int | None = None
    keyboard_layout: str | None = None
    colour: str | None = None
    system: str | None = None
    licence: str | None = None
    firmware_version: str | None = None
    firmware_on: date | None = None
    firmware_lock: str | None = None
    account_lock: str | None = None

    @property
    def locked(self) -> bool:
        """Whether a lock was seen that a buyer could not open."""
        return LOCKED in (self.firmware_lock, self.account_lock)

    @property
    def tells_nothing(self) -> bool:
        """Whether nothing at all is known."""
        return self == Specification()


NAMES = tuple(field.name for field in fields(Specification))
# What is told together or not at all: a newer word on one of them is a word on all of them.
_TOLD_TOGETHER = (
    ("processor", "cores"),
    ("memory_bytes", "memory_slots", "memory_soldered_bytes", "memory_modules"),
    ("screen_diagonal_mm", "screen_pixels_across", "screen_pixels_down", "screen_panel"),
    ("battery", "battery_design_uwh", "battery_design_uah"),
    ("firmware_version", "firmware_on"),
)


class SpecificationLine(NamedTuple):
    """One line of a specification: what it is about, and what is known of it."""

    name: str
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class SpecificationChange:
    """What a line said before and says now; empty: nothing."""

    label: str
    before: str
    after: str

    @property
    def words(self) -> str:
        """The change in one line."""
        return f"{self.label}: {self.before or 'not known'} → {self.after or 'not known'}"


def filled_up(told: Specification, before: Specification | None) -> Specification:
    """What was told, and where nothing was, what was known before."""
    if before is None:
        return told
    together = {name: group for group in _TOLD_TOGETHER for name in group}
    values = {}
    for name in NAMES:
        group = together.get(name, (name,))
        source = told if any(getattr(told, one) is not None for one in group) else before
        values[name] = getattr(source, name)
    if told.wireless is not None and told.wireless.startswith(WIRELESS_THERE) and before.wireless is not None:
        values["wireless"] = before.wireless  # that it is there is no news of what it is
    return replace(told, **values)


def specification_lines(known: Specification) -> tuple[SpecificationLine, ...]:
    """Everything that is known, a line a subject, in the order in which a buyer asks."""
    return tuple(line for line in _lines(known) if line.text)


def changes_between(before: Specification, after: Specification) -> tuple[SpecificationChange, ...]:
    """The lines that say something else."""
    earlier = {line.name: line for line in _lines(before)}
    return tuple(
        SpecificationChange(line.label, earlier[line.name].text, line.text)
        for line in _lines(after)
        if line.text != earlier[line.name].text
    )


def memory_size(size_bytes: int) -> str:
    """Memory as it is named: 8 GB, 512 MB."""
    if size_bytes >= MEMORY_GB:
        return f"{size_bytes / MEMORY_GB:.1f}".removesuffix(".0") + " GB"
    return f"{size_bytes / 2**20:.0f} MB"


def drive_size(size_bytes: int) -> str:
    """A drive's size as its label has it: 512 GB, 2 TB."""
    gigabytes = size_bytes / DRIVE_GB
    if gigabytes >= 1000:
        return f"{gigabytes / 1000:.1f}".removesuffix(".0") + " TB"
    return f"{gigabytes:.0f} GB" if gigabytes >= 1 else f"{size_bytes / 10**6:.0f} MB"


def inches(diagonal_mm: int) -> str:
    """A screen's diagonal in inches, to a tenth."""
    return f"{diagonal_mm / MM_PER_INCH:.1f}"


def _lines(known: Specification) -> Iterator[SpecificationLine]:
    cores = "" if known.cores is None else _counted(known.cores, "core")
    yield SpecificationLine("processor", "Processor", _joined(known.processor, cores))
    yield SpecificationLine("memory", "Memory", _memory(known))
    yield SpecificationLine("drives", "Drives", _drives(known))
    yield SpecificationLine("screen", "Screen", _screen(known))
    yield SpecificationLine("graphics", "Graphics", known.graphics or "")
    yield SpecificationLine("wireless", "Wireless", known.wireless or "")
    yield SpecificationLine("battery", "Battery", _battery(known))
    yield SpecificationLine("keyboard", "Keyboard", known.keyboard_layout or "")
    yield SpecificationLine("colour", "Colour", known.colour or "")
    yield SpecificationLine("system", "System", known.system or "")
    yield SpecificationLine("licence", "Licence", known.licence or "")
    day = "" if known.firmware_on is None else f"of {known.firmware_on.isoformat()}"
    firmware = " ".join(word for word in (known.firmware_version, day) if word)
    yield SpecificationLine("firmware", "Firmware", firmware)
    yield SpecificationLine("firmware_lock", "Firmware lock", known.firmware_lock or "")
    yield SpecificationLine("account_lock", "Account lock", known.account_lock or "")


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _joined(*words: str | None) -> str:
    return ", ".join(word for word in words if word)


def _memory(known: Specification) -> str:
    if known.memory_bytes is None:
        seen = known.memory_seen_bytes
        return f"{memory_size(seen)} or more" if seen else ""
    words = [memory_size(known.memory_bytes)]
    if known.memory_soldered_bytes:
        words.append(f"{memory_size(known.memory_soldered_bytes)} soldered")
    modules = [one for one in known.memory_modules or () if not one.soldered]
    if known.memory_slots is not None:
        filled = f"{len(modules)} of " if known.memory_modules is not None else ""
        words.append(f"{filled}{_counted(known.memory_slots, 'slot')}{' filled' if filled else ''}")
    kinds = dict.fromkeys(one.kind for one in known.memory_modules or () if one.kind)
    return _joined(*words, *kinds)


def _drives(known: Specification) -> str:
    if known.drives is None:
        return ""
    return "; ".join(drive.words for drive in known.drives) or "none seen"


def _screen(known: Specification) -> str:
    size = "" if known.screen_diagonal_mm is None else f"{inches(known.screen_diagonal_mm)} in"
    across, down = known.screen_pixels_across, known.screen_pixels_down
    pixels = f"{across} × {down}" if across and down else ""
    return _joined(size, pixels, known.screen_panel)


def _battery(known: Specification) -> str:
    design = ""
    if known.battery_design_uwh is not None:
        design = f"{known.battery_design_uwh / 10**6:.4g} Wh design"
    elif known.battery_design_uah is not None:
        design = f"{known.battery_design_uah / 1000:.0f} mAh design"
    return _joined(known.battery, design)
