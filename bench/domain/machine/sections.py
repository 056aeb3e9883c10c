"""The file that the collector leaves: one section a tool, each with its checksum, so that damage shows.

A line that begins with `| ` is the tool's own. The checksum is that of `cksum`: POSIX.1-2017, XCU, cksum.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from bench.errors import BadInput

FIRST_LINE = b"bench collector 1"
LAST_LINE = b"collected"
HOW = "Give the file that collect.sh left, whole; `bench collector` prints that script."
MOST_BYTES = 8_000_000
MOST_SECTIONS = 200

_SECTION = re.compile(rb"section ([ -~]{1,100})")
_POLYNOMIAL = 0x04C11DB7


@dataclass(frozen=True, slots=True)
class Section:
    """What one tool said. `exit_code` None: it is not on the stick. `damage`: empty, or what is wrong."""

    tool: str
    about: str
    version: str
    exit_code: int | None
    said: bytes
    damage: str = ""

    @property
    def name(self) -> str:
        """The tool, and of which device."""
        return f"{self.tool} {self.about}".rstrip()

    @property
    def text(self) -> str:
        """What it said, as text; what is none becomes the replacement character."""
        return self.said.decode("utf-8", errors="replace")


@dataclass(frozen=True, slots=True)
class CollectorFile:
    """A collector's file. `at`: the day and time that the stick's clock told, empty where it tells none.

    `whole`: it ends as the collector ended it. `stray`: there are lines outside all sections.
    """

    at: str
    sections: tuple[Section, ...]
    whole: bool
    stray: bool

    def of(self, tool: str) -> tuple[Section, ...]:
        """The whole sections of a tool that ran, in order."""
        return tuple(
            one for one in self.sections if one.tool == tool and not one.damage and one.exit_code is not None
        )


def read_collector_file(data: bytes) -> CollectorFile:
    """The sections of a collector's file; one that is cut or was changed is told as damaged.

    BadInput, one sentence, for what is no such file.
    """
    if len(data) > MOST_BYTES:
        raise BadInput(f"The file has {len(data)} bytes: too many for one machine.", HOW)
    lines = data.split(b"\n")
    if lines[0].rstrip(b"\r") != FIRST_LINE:
        raise BadInput("The file is not one that the collector left.", HOW)
    if lines[0].endswith(b"\r"):  # a copy through a system that ends lines so
        lines = [line.removesuffix(b"\r") for line in lines]
    at, whole, stray, sections = "", False, False, list[Section]()
    here = 1
    while here < len(lines):
        line = lines[here]
        found = _SECTION.fullmatch(line)
        if found is not None:
            here, section = _section(found[1].decode("ascii"), lines, here + 1)
            sections.append(section)
            if len(sections) > MOST_SECTIONS:
                raise BadInput("The file has too many sections for one machine.", HOW)
        else:
            here += 1
            if line.startswith(b"at ") and not at:
                at = _words(line[3:])
            elif line == LAST_LINE:
                whole = True
            elif line not in (b"", b"root yes", b"root no"):
                stray = True
    return CollectorFile(at, tuple(sections), whole, stray)


def cksum(data: bytes) -> int:
    """The checksum that `cksum` prints, by POSIX.1-2017: CRC of the bytes and then of their number."""
    crc, length = 0, len(data)
    for byte in data:
        crc = (crc << 8 & 0xFFFFFFFF) ^ _TABLE[crc >> 24 ^ byte]
    while length:
        crc = (crc << 8 & 0xFFFFFFFF) ^ _TABLE[crc >> 24 ^ (length & 0xFF)]
        length >>= 8
    return crc ^ 0xFFFFFFFF


def _row(byte: int) -> int:
    crc = byte << 24
    for _ in range(8):
        crc = (crc << 1 ^ _POLYNOMIAL) & 0xFFFFFFFF if crc & 0x80000000 else crc << 1
    return crc


_TABLE = tuple(_row(byte) for byte in range(256))


def _section(name: str, lines: list[bytes], here: int) -> tuple[int, Section]:
    """The section that begins before `here`, and where the next one may begin."""
    tool, _, about = name.partition(" ")
    told: dict[bytes, bytes] = {}
    said: list[bytes] = []
    ended = False
    while here < len(lines) and not lines[here].startswith(b"section "):
        line = lines[here]
        here += 1
        if line == b"end":
            ended = here < len(lines)  # its own line end came along
            break
        if line.startswith(b"| "):
            said.append(line[2:] + b"\n")
        else:
            key, _, value = line.partition(b" ")
            told[key] = value
    whole = b"".join(said)
    missing = b"missing" in told
    code = None if missing else _number(told.get(b"exit", b""))
    damage = "" if missing and ended else _damage(ended, told, code, whole)
    return here, Section(tool, about, _words(told.get(b"version", b"")), code, whole, damage)


def _damage(ended: bool, told: dict[bytes, bytes], code: int | None, whole: bytes) -> str:
    if not ended:
        return "breaks off"
    if code is None:
        return "does not tell how the tool ended"
    if told.get(b"cksum", b"").strip() != f"{cksum(whole)} {len(whole)}".encode():
        return "was changed since it was written"
    return ""


def _number(text: bytes) -> int | None:
    return int(text) if re.fullmatch(rb"[0-9]{1,3}", text) else None


def _words(text: bytes) -> str:
    shown = text.decode("utf-8", errors="replace")
    return "".join(c for c in shown if c.isprintable()).strip()[:100]
