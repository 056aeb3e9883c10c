"""One way in for files made on a unit: tells their kinds apart and answers readings of the same shape."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bench.domain.condition.nvme_log import LOG_BYTES, read_nvme_log
from bench.domain.condition.power_supply import read_power_supply
from bench.domain.condition.smartctl import SmartReport, read_smartctl
from bench.domain.text import quoted
from bench.errors import BadInput

POWER_SUPPLY, NVME_LOG, SMARTCTL, TYPED = "power_supply", "nvme_log", "smartctl", "typed"
KINDS: dict[str, str] = {
    POWER_SUPPLY: "power supply text",
    NVME_LOG: "NVMe health log",
    SMARTCTL: "smartctl JSON",
}
SOURCES = {TYPED: "typed", **KINDS}
MOST_BYTES = 4_000_000
HOW = (
    "Give a battery's uevent text, the 512 bytes of an NVMe health log, or what `smartctl -a --json` prints."
)


@dataclass(frozen=True, slots=True)
class DriveSeen:
    """A drive as a file names it."""

    maker: str
    model: str
    serial: str
    media_type: str
    size_bytes: int | None


@dataclass(frozen=True, slots=True)
class FileReading:
    """One reading out of a file. `doubts`: what the file held that cannot be, left out of the figures."""

    subject: str
    source: str
    figures: dict[str, Any]
    drive: DriveSeen | None = None
    doubts: tuple[str, ...] = ()


def read_file(data: bytes, kind: str | None = None) -> tuple[FileReading, ...]:
    """The readings a file holds; its kind is told by what it begins with, unless it is named.

    BadInput, one sentence, for a file that is none of them, is damaged or breaks off.
    """
    if len(data) > MOST_BYTES:
        raise BadInput(f"The file has {len(data)} bytes: too many for a reading.", HOW)
    chosen = kind or _kind_of(data)
    if chosen == NVME_LOG:
        return (FileReading("drive", NVME_LOG, read_nvme_log(data).figures()),)
    if chosen == SMARTCTL:
        return (_of_smartctl(read_smartctl(_json_text(data))),)
    if chosen == POWER_SUPPLY:
        packs = read_power_supply(data.decode("utf-8-sig", errors="replace"))
        return tuple(
            FileReading("battery", POWER_SUPPLY, pack.figures(), doubts=pack.doubts) for pack in packs
        )
    raise BadInput(f"{quoted(chosen)} is not a kind of file.", f"Name one of: {', '.join(KINDS)}.")


def _kind_of(data: bytes) -> str:
    if not data:
        raise BadInput("The file is empty.", HOW)
    if data.lstrip(b" \t\r\n\xef\xbb\xbf")[:1] == b"{":
        return SMARTCTL
    if b"POWER_SUPPLY_" in data:
        return POWER_SUPPLY
    if len(data) == LOG_BYTES:
        return NVME_LOG
    raise BadInput("The file is none of the kinds that are read here.", HOW)


def _json_text(data: bytes) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput("The file is not text throughout: it is damaged.", HOW) from None


def _of_smartctl(report: SmartReport) -> FileReading:
    seen = DriveSeen(report.maker, report.model, report.serial, _media_type(report), report.size_bytes)
    return FileReading("drive", SMARTCTL, report.figures(), seen, report.doubts)


def _media_type(report: SmartReport) -> str:
    return f"{report.protocol} drive".strip() if report.protocol else ""
