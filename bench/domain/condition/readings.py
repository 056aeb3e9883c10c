"""A unit's condition as it is read: every subject with its readings before and after, and their verdicts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from bench.domain.amounts import Instant
from bench.domain.condition.battery_choice import BatteryChoice, Weighed, choose
from bench.domain.condition.fields import AFTER, BEFORE, SUBJECTS, YES
from bench.domain.condition.figures import Fact, Figures, facts, words
from bench.domain.condition.verdicts import Verdict, compared, health_of, verdicts


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """One reading as it can be opened. `figures`: as kept; `facts`: as read; `drive`: which one, if any.

    `holds`: whether the unit is still in the condition in which it was read.
    """

    reading_id: int
    moment: str
    subject: str
    source: str
    at_us: Instant
    person: str
    drive_id: int | None
    drive: str
    note: str
    figures: Figures
    facts: tuple[Fact, ...]
    verdicts: tuple[Verdict, ...]
    holds: bool = True

    @property
    def part(self) -> str:
        """Which of several alike it is of: the drive, or the pack as the machine names it."""
        return self.drive or words(self.figures, "name")


@dataclass(frozen=True, slots=True)
class PartFigures:
    """Of one part (a pack, a drive, or all there is) the newest figures before and after the work.

    `compared`: what the two say of the work between them.
    """

    part: str
    before: Figures
    after: Figures
    compared: tuple[Verdict, ...]

    @property
    def latest(self) -> Figures:
        """The newest of each figure, those after the work first."""
        return {**self.before, **self.after}


@dataclass(frozen=True, slots=True)
class SubjectLines:
    """A subject's readings, the newest first; empty where it was not measured.

    `ended`: readings after the work that hold no longer. They are no part of `after` nor of the figures.
    """

    subject: str
    label: str
    before: tuple[ReadingLine, ...]
    after: tuple[ReadingLine, ...]
    parts: tuple[PartFigures, ...]
    ended: tuple[ReadingLine, ...] = ()

    @property
    def measured(self) -> bool:
        """Whether there is any reading."""
        return bool(self.before or self.after or self.ended)


def reading_line(*, figures: dict[str, Any], subject: str, **facts_about: Any) -> ReadingLine:
    """A reading with its facts and verdicts put beside its figures."""
    return ReadingLine(
        subject=subject,
        figures=figures,
        facts=facts(figures),
        verdicts=verdicts(subject, figures),
        **facts_about,
    )


def by_subject(readings: Iterable[ReadingLine]) -> tuple[SubjectLines, ...]:
    """Every subject in order with its readings, handed in newest first."""
    lines = list(readings)
    found = []
    for subject in SUBJECTS.values():
        before, after = (
            tuple(one for one in lines if one.subject == subject.name and one.moment == moment and one.holds)
            for moment in (BEFORE, AFTER)
        )
        ended = tuple(one for one in lines if one.subject == subject.name and not one.holds)
        parts = _parts(subject.name, before, after)
        found.append(SubjectLines(subject.name, subject.label, before, after, parts, ended))
    return tuple(found)


def battery_choices(
    battery: SubjectLines, fitted: str = "", weighed: Weighed | None = None
) -> tuple[BatteryChoice, ...]:
    """What to do with each pack whose figures were read, by the newest of them."""
    return tuple(
        choose(
            health_of(pack.latest),
            fitted or words(pack.latest, "fitted"),
            swollen=words(pack.latest, "swelling") == YES,
            weighed=weighed,
        )
        for pack in battery.parts
    )


def _parts(
    subject: str, before: tuple[ReadingLine, ...], after: tuple[ReadingLine, ...]
) -> tuple[PartFigures, ...]:
    """The figures by part; readings that name none belong to the only one that is named."""
    named = {line.part for line in (*before, *after)} - {""}
    only = next(iter(named)) if len(named) == 1 else ""
    earlier, later = _newest(before, only), _newest(after, only)
    parts = dict.fromkeys((*earlier, *later))
    return tuple(
        PartFigures(part, was, now, compared(subject, was, now) if was and now else ())
        for part in parts
        for was, now in [(earlier.get(part, {}), later.get(part, {}))]
    )


def _newest(readings: tuple[ReadingLine, ...], only: str) -> dict[str, dict[str, Any]]:
    """The newest of every figure by part, from readings handed in newest first."""
    found: dict[str, dict[str, Any]] = {}
    for line in readings:
        figures = found.setdefault(line.part or only, {})
        figures.update({name: value for name, value in line.figures.items() if name not in figures})
    return found
