"""Photographs of a unit: names of their files, when they were taken, what became of those given."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone

from bench.domain.amounts import Instant
from bench.domain.localtime import instant_of, zone_named
from bench.domain.pictures import ENDINGS
from bench.domain.text import clean_line, quoted
from bench.errors import BadInput

LARGEST_BYTES = 64_000_000  # common practice, no source: a phone's largest JPEG is about a third of it
LONGEST_NAME = 80
LONGEST_CAPTION = 200
NO_NAME = "photograph"
CAPTION_DRAFT = "caption"  # under which, with its number, an unsent caption is kept

KEPT, THERE, BACK, PUT_BACK = "kept", "there", "back", "put back"
OUTCOMES = {
    KEPT: "kept",
    THERE: "is there already and was not kept twice",
    BACK: "had been removed and is back",
    PUT_BACK: "is on record; its missing file is back",
}

# Of a name only what every file system and every shell takes as it is.
_NOT_IN_NAMES = re.compile(r"[^\w.+-]+|^[.-]+", re.UNICODE)
_OFFSET = re.compile(r"([+-])(\d\d):(\d\d)")
_TAKEN_FORM = "%Y:%m:%d %H:%M:%S"


@dataclass(frozen=True, slots=True)
class Subject:
    """What a photograph shows besides its unit, by the numbers of rows; None: nothing of that kind.

    `model`: it stands on the page of the unit's model; so does one that shows a step of it.
    """

    task_id: int | None = None
    grade_id: int | None = None
    fault_id: int | None = None
    model_step_id: int | None = None
    model: bool = False


@dataclass(frozen=True, slots=True)
class PhotographKept:
    """One picture that was given. `name`: its file's; `outcome`: one of OUTCOMES."""

    photograph_id: int
    name: str
    kind: str
    size_bytes: int
    outcome: str


@dataclass(frozen=True, slots=True)
class PhotographsKept:
    """What became of the pictures given for a unit, in their order.

    `left`: originals that were to be moved and are still where they were, each with why.
    """

    unit_id: int
    tag: str
    folder: str
    photographs: tuple[PhotographKept, ...]
    left: tuple[str, ...] = ()

    @property
    def new(self) -> int:
        """How many were not there before."""
        return sum(one.outcome != THERE for one in self.photographs)


@dataclass(frozen=True, slots=True)
class PhotographErased:
    """A photograph that was erased. `left`: its file where it could not be deleted, and why.

    `not_rewritten`: why the data file could not be rewritten, so that old bytes of its caption may be in it.
    `copies`: how many copies of the data file, made before, hold its caption.
    """

    photograph_id: int
    tag: str
    left: str
    not_rewritten: str
    copies: int


def caption_of(text: str) -> str:
    """A caption fit to keep; it may be empty. BadInput for what is too long or cannot be shown."""
    return clean_line(text, "The caption", LONGEST_CAPTION, allow_empty=True)


def file_name_of(given: str, kind: str) -> str:
    """The name under which a picture is kept: letters, digits and . - _ +, with its kind's own ending."""
    stem = unicodedata.normalize("NFC", given).rpartition(".")[0] or given
    tidy = _NOT_IN_NAMES.sub("-", stem).strip("-.")[:LONGEST_NAME].rstrip("-.")
    return f"{tidy or NO_NAME}{ENDINGS[kind]}"


def numbered(name: str, number: int) -> str:
    """The same name for another file: as it is for 1, with -2 before the ending for 2."""
    stem, _, ending = name.rpartition(".")
    return name if number == 1 else f"{stem}-{number}.{ending}"


def taken_at_us(taken: str, offset: str, zone: str) -> Instant | None:
    """When a picture was taken; None where its file does not say it, or says what is no time.

    `taken`, `offset`: in EXIF's own form, such as 2026:05:01 10:11:12 and +02:00 (CIPA DC-008, tags 0x9003
    and 0x9011). Without an offset the camera's clock is taken to show the shop's `zone`.
    """
    try:
        at = datetime.strptime(taken, _TAKEN_FORM)  # noqa: DTZ007 - its zone follows
        found = _OFFSET.fullmatch(offset)
        if found is None:
            return instant_of(at.replace(tzinfo=zone_named(zone)))
        length = timedelta(hours=int(found[2]), minutes=int(found[3]))
        return instant_of(at.replace(tzinfo=timezone(length if found[1] == "+" else -length)).astimezone(UTC))
    except (ValueError, OverflowError):
        return None


def check_size(size_bytes: int, name: str) -> None:
    """Pass, or BadInput where a file is empty or larger than any photograph."""
    if size_bytes == 0:
        raise BadInput(f"{quoted(name)} is empty.", "Copy it from the camera or phone again.", field="path")
    if size_bytes > LARGEST_BYTES:
        raise BadInput(
            f"{quoted(name)} is larger than {LARGEST_BYTES // 10**6} MB.",
            "Save it smaller first.",
            field="path",
        )
