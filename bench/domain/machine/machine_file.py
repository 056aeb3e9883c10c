"""A collector's file made into what is kept of a machine: its names, specification, drives and readings.

What cannot be read is a sentence and nothing else: each section stands by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from bench.domain.condition.power_supply import Pack, read_power_supply
from bench.domain.condition.reading_files import (
    NVME_LOG,
    POWER_SUPPLY,
    SMARTCTL,
    DriveSeen,
    FileReading,
    read_file,
)
from bench.domain.machine.block_devices import BlockDevice, read_lsblk
from bench.domain.machine.edid import Panel, bytes_of_dump, read_edid
from bench.domain.machine.kernel_text import (
    NamesOfFirmware,
    read_cpuinfo,
    read_dmi_names,
    read_meminfo,
    wireless_devices,
)
from bench.domain.machine.nvme_health import read_nvme_json
from bench.domain.machine.pci_devices import PciDevice, read_lspci
from bench.domain.machine.sections import CollectorFile, Section, read_collector_file
from bench.domain.machine.smbios import Machine, read_dmidecode
from bench.domain.machine.upower import PowerDevice, read_upower
from bench.domain.specification import NO_BATTERY, WIRELESS_THERE, FittedDrive, Specification
from bench.errors import BadInput

T = TypeVar("T")

KEY_IN_FIRMWARE, NO_KEY_IN_FIRMWARE = "a key in the firmware", "no key in the firmware"
LICENCE_TABLE = "MSDM"  # the ACPI table in which makers put a system's key; the key itself is not read
_BUILT_IN = (
    "eDP",
    "LVDS",
    "DSI",
)  # connectors of the kernel's names for a screen that is part of the machine


@dataclass(frozen=True, slots=True)
class MachineFile:
    """What a machine said of itself. `at`: by its own clock. `told`: a sentence for each thing amiss.

    `drives_looked_for`: whether the kernel's list of drives was read, so that one missing there is not in it.
    """

    at: str
    maker: str
    model: str
    serial: str
    specification: Specification
    drives: tuple[DriveSeen, ...]
    drives_looked_for: bool
    readings: tuple[FileReading, ...]
    told: tuple[str, ...]


def read_machine_file(data: bytes) -> MachineFile:
    """All that the file tells. BadInput, one sentence, where it is no collector's file at all."""
    file = read_collector_file(data)
    reader = _Reader(file)
    smbios = reader.first("dmidecode", lambda one: read_dmidecode(one.text)) or Machine()
    names = reader.first("dmi", lambda one: read_dmi_names(one.text))
    names = names or NamesOfFirmware("", "", "", "", None)
    block = reader.first("lsblk", lambda one: read_lsblk(one.text))
    devices = {f"/dev/{one.name}": _seen(one) for one in block or ()}
    readings = _readings(reader, devices)
    drives = _drives(devices, readings)
    known = replace(
        _specification(reader, smbios, names),
        drives=tuple(_fitted(one) for one in drives) if drives or block is not None else None,
    )
    return MachineFile(
        at=file.at,
        maker=smbios.maker or names.maker,
        model=smbios.model or names.model,
        serial=smbios.serial or names.serial,
        specification=known,
        drives=drives,
        drives_looked_for=block is not None,
        readings=readings,
        told=(*_missing(file), *reader.told),
    )


class _Reader:
    """Reads the sections of a file; what is amiss with one is kept as a sentence."""

    def __init__(self, file: CollectorFile) -> None:
        self.file = file
        self.told = [
            f"The section {one.name} {one.damage}: nothing of it was taken."
            for one in file.sections
            if one.damage
        ]
        if file.stray:
            self.told.append("The file has lines that belong to no section: nothing of them was taken.")
        if not file.whole and not (file.sections and file.sections[-1].damage):
            self.told.append("The file breaks off: what came after that is not in it.")

    def each(self, tool: str, read: Callable[[Section], T]) -> list[tuple[Section, T]]:
        """What each whole section of the tool holds."""
        found = []
        for section in self.file.of(tool):
            if not section.said.strip():
                continue  # it ran and had nothing to say
            try:
                found.append((section, read(section)))
            except BadInput as error:
                code = f" (it ended with code {section.exit_code})" if section.exit_code else ""
                self.told.append(f"{section.name}{code}: {error.what} Nothing of it was taken.")
        return found

    def first(self, tool: str, read: Callable[[Section], T]) -> T | None:
        """What its first section holds that can be read; None where none can."""
        return next((value for _, value in self.each(tool, read)), None)

    def ran_silently(self, tool: str) -> bool:
        """Whether the tool ran to its end and had nothing to say."""
        return any(one.exit_code == 0 and not one.said.strip() for one in self.file.of(tool))


def _missing(file: CollectorFile) -> Iterable[str]:
    tools = dict.fromkeys(one.tool for one in file.sections if one.exit_code is None and not one.damage)
    if tools:
        yield f"Not there when it was collected: {', '.join(tools)}."


def _specification(reader: _Reader, smbios: Machine, names: NamesOfFirmware) -> Specification:
    processor, cores = reader.first("cpuinfo", lambda one: read_cpuinfo(one.text)) or ("", None)
    panel = _panel(reader)
    pci = reader.first("lspci", lambda one: read_lspci(one.text)) or ()
    battery, design_uwh, design_uah = _battery(reader, smbios)
    return Specification(
        processor=smbios.processor or processor or None,
        cores=smbios.cores or cores,
        **_memory(smbios),
        memory_seen_bytes=reader.first("meminfo", lambda one: read_meminfo(one.text)),
        screen_diagonal_mm=panel.diagonal_mm if panel else None,
        screen_pixels_across=panel.pixels_across if panel else None,
        screen_pixels_down=panel.pixels_down if panel else None,
        screen_panel=panel.words if panel else None,
        graphics=_named(one for one in pci if one.draws),
        wireless=_named(one for one in pci if one.wireless) or _wireless(reader),
        battery=battery,
        battery_design_uwh=design_uwh,
        battery_design_uah=design_uah,
        licence=_licence(reader),
        firmware_version=smbios.firmware_version or names.firmware_version or None,
        firmware_on=smbios.firmware_on or names.firmware_on,
        firmware_lock=smbios.firmware_lock,
    )


def _memory(smbios: Machine) -> dict[str, Any]:
    if not smbios.modules:
        return {}
    return {
        "memory_bytes": sum(one.size_bytes for one in smbios.modules),
        "memory_slots": smbios.slots,
        "memory_soldered_bytes": sum(one.size_bytes for one in smbios.modules if one.soldered),
        "memory_modules": smbios.modules,
    }


def _panel(reader: _Reader) -> Panel | None:
    """The machine's own screen; one that was plugged in is passed over."""
    panels = reader.each("edid", lambda one: read_edid(bytes_of_dump(one.text)))
    own = [panel for section, panel in panels if any(f"-{name}-" in section.about for name in _BUILT_IN)]
    return own[0] if own else None


def _named(devices: Iterable[PciDevice]) -> str | None:
    return "; ".join(dict.fromkeys(one.words for one in devices if one.words)) or None


def _wireless(reader: _Reader) -> str | None:
    for section in reader.file.of("net"):
        devices = wireless_devices(section.text)
        if devices:
            return f"{WIRELESS_THERE}{', '.join(devices)})"
    return None


def _battery(reader: _Reader, smbios: Machine) -> tuple[str | None, int | None, int | None]:
    """Name and design of the first pack, by the kernel, else by upower, else by the firmware."""
    packs = [pack for one in reader.file.of("power_supply") for pack in _packs(one)]
    if packs:
        name = " ".join(word for word in (packs[0].maker, packs[0].model) if word)
        return name or "a battery", packs[0].design_uwh, packs[0].design_uah
    powered: tuple[PowerDevice, ...] = reader.first("upower", lambda one: read_upower(one.text)) or ()
    if powered:
        return powered[0].words, powered[0].design_uwh, None
    if smbios.battery:
        return smbios.battery, smbios.battery_design_uwh, None
    return (NO_BATTERY if reader.ran_silently("power_supply") else None), None, None


def _packs(section: Section) -> tuple[Pack, ...]:
    """The packs; what is amiss with them is told where their reading is made."""
    try:
        return read_power_supply(section.text)
    except BadInput:
        return ()


def _licence(reader: _Reader) -> str | None:
    tables = next((one.text.split() for one in reader.file.of("acpi") if one.exit_code == 0), None)
    if tables is None:
        return None
    return KEY_IN_FIRMWARE if LICENCE_TABLE in tables else NO_KEY_IN_FIRMWARE


def _readings(reader: _Reader, devices: dict[str, DriveSeen]) -> tuple[FileReading, ...]:
    """Of the battery, and of each drive the fuller one."""
    packs = reader.each("power_supply", lambda one: read_file(one.said, POWER_SUPPLY))
    smart = reader.each("smartctl", lambda one: read_file(one.said, SMARTCTL)[0])
    logs = reader.each("nvme", lambda one: read_nvme_json(one.text))
    told = {section.about for section, _ in smart}
    return (
        *(reading for _, found in packs for reading in found),
        *(_with_drive(reading, devices.get(section.about)) for section, reading in smart),
        *(
            FileReading("drive", NVME_LOG, health.figures(), devices.get(section.about))
            for section, health in logs
            if section.about not in told
        ),
    )


def _with_drive(reading: FileReading, seen: DriveSeen | None) -> FileReading:
    """The reading, its drive with what the kernel adds: mostly the kind of medium."""
    own = reading.drive
    if own is None or seen is None:
        return replace(reading, drive=own or seen)
    whole = DriveSeen(
        own.maker or seen.maker,
        own.model or seen.model,
        own.serial or seen.serial,
        seen.media_type or own.media_type,
        own.size_bytes or seen.size_bytes,
    )
    return replace(reading, drive=whole)


def _seen(device: BlockDevice) -> DriveSeen:
    return DriveSeen(device.maker, device.model, device.serial, device.kind, device.size_bytes)


def _drives(devices: dict[str, DriveSeen], readings: Iterable[FileReading]) -> tuple[DriveSeen, ...]:
    """Every drive once: as a reading tells it, which is fuller, and those without a reading."""
    told = [one.drive for one in readings if one.subject == "drive" and one.drive is not None]
    serials = {one.serial for one in told if one.serial}
    alike = {(one.model, one.size_bytes) for one in told}
    rest = [
        one
        for one in devices.values()
        if (one.serial not in serials if one.serial else (one.model, one.size_bytes) not in alike)
    ]
    return (*(one for one in told if one.model or one.serial), *rest)


def _fitted(seen: DriveSeen) -> FittedDrive:
    model = " ".join(word for word in (seen.maker, seen.model) if word)
    return FittedDrive(model, seen.serial, seen.media_type, seen.size_bytes)
