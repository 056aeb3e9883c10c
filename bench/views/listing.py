"""What an honest listing says of a unit: all of it from the records, and that there is none where so."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from bench.desk import Desk
from bench.domain.amounts import Instant, Minor
from bench.domain.condition.figures import Fact
from bench.domain.condition.found import ACT, STATE
from bench.domain.condition.readings import PartFigures, ReadingLine, SubjectLines
from bench.domain.condition.renewed import subject_of_part
from bench.domain.condition.verdicts import verdicts
from bench.domain.grading import WHOLE
from bench.domain.outcomes import KINDS
from bench.domain.own_prices import OwnPrices
from bench.domain.safety import FINDINGS
from bench.views.binder import Query
from bench.views.buyer_sheet import BeforeAfter, BuyerSheet, PartChange, buyer_sheet, for_buyers
from bench.views.grades import GradeLine
from bench.views.own_prices import own_prices
from bench.views.particulars import particulars
from bench.views.tasks import TaskLine, tasks_of
from bench.views.trade import TradeSettings, settings


class Renewed(NamedTuple):
    """A part that was put in and is in the unit now. `readings`: what it has changed, in words."""

    part: str
    used: bool
    at_us: Instant
    readings: tuple[str, ...]


class Measured(NamedTuple):
    """What was measured of one thing, in words. `before_work`: not measured again since."""

    name: str
    words: str
    before_work: bool


@dataclass(frozen=True, slots=True)
class Listing:
    """The records a listing is written from. `done`, `left_out`, `to_do`: names of tasks marked public.

    `untested`: tests of the unit, public or not, of which none that passed is on record. `price_minor`: what
    is asked; `prices`: what the shop's own sales suggest. `own_shipping`: said of sending this unit alone.
    """

    sheet: BuyerSheet
    done: tuple[str, ...]
    left_out: tuple[str, ...]
    to_do: tuple[str, ...]
    untested: tuple[str, ...]
    price_minor: Minor | None
    own_shipping: str
    trade: TradeSettings
    prices: OwnPrices

    @property
    def shipping(self) -> str:
        """What is said of sending: the unit's own words, else the shop's."""
        return self.own_shipping or self.trade.listing_shipping

    @property
    def whole(self) -> GradeLine:
        """What is said of the unit as a whole."""
        line = self.sheet.grades.line(WHOLE)
        return line if line.holds else GradeLine(line.part, line.label)

    @property
    def parts_said(self) -> tuple[GradeLine, ...]:
        """The parts of which something was said and which were tested, but for the whole."""
        return tuple(line for line in self.sheet.graded if line.part != WHOLE and line.tested)

    @property
    def faults(self) -> tuple[str, ...]:
        """Everything on record that a buyer must be told: flaws by grade, and readings to be stated."""
        told = (*self._bad_cell(), *self.sheet.locks, *self.sheet.known_faults)
        return tuple(dict.fromkeys((*told, *self._flaws(), *self._findings())))

    @property
    def not_tested(self) -> tuple[str, ...]:
        """What nobody measured, graded or tested."""
        return (*self.sheet.not_tested, *self.untested)

    @property
    def renewed(self) -> tuple[Renewed, ...]:
        """The parts that were put in and are in it now, each with the readings that it has changed."""
        return tuple(
            Renewed(part.name, part.used, part.at_us, tuple(self._changed(part)))
            for part in self.sheet.parts
            if part.into
        )

    def _changed(self, part: PartChange) -> Iterator[str]:
        """Every figure read since the part came in, beside the one before the work."""
        about = subject_of_part(part.name)
        for lines in self.sheet.condition.subjects:
            if lines.subject == about:
                before = _newest(lines.before)
                since = _newest(line for line in lines.after if line.at_us >= part.at_us)
                for name, fact in since.items():
                    was = f"{before[name].shown} before, " if name in before else ""
                    yield f"{fact.label} {was}{fact.shown} after"

    @property
    def measured(self) -> tuple[Measured, ...]:
        """The newest figures of everything measured, one line a thing."""
        told: dict[tuple[str, str], list[str]] = {}
        late: set[tuple[str, str]] = set()
        for line in self.sheet.before_after:
            thing = (line.subject, line.part)
            told.setdefault(thing, []).append(_figure(line))
            if line.after:
                late.add(thing)
        return tuple(
            Measured(f"{subject} {part}".rstrip(), "; ".join(words), (subject, part) not in late)
            for (subject, part), words in told.items()
        )

    def _bad_cell(self) -> Iterator[str]:
        finding = self.sheet.condition.cell_finding
        if finding is not None:
            yield f"Battery: {FINDINGS[finding]} is on record: not for sale like this"

    def _flaws(self) -> Iterator[str]:
        for line in self.sheet.graded:
            steps = [step for step in (line.function, line.looks) if step is not None and step.position > 1]
            if steps:
                names = ", ".join(step.name for step in steps)
                yield f"{line.label}: {names}{f': {line.sentence}' if line.sentence else ''}"

    def _findings(self) -> Iterator[str]:
        for lines in self.sheet.condition.subjects:
            for part in lines.parts:
                yield from _stated(lines, part)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What was typed for the unit's listing."""

    price_minor: Minor | None
    shipping: str


_ASKED = Query(
    _Asked, "SELECT price_minor, shipping FROM unit_listing WHERE unit_id = :unit_id AND removed = 0"
)


def read_listing(desk: Desk, unit_id: int) -> Listing:
    """The records a listing is written from, in one snapshot. NotFound when there is no such unit."""
    now_us = desk.clock.now_us()
    with desk.store.read() as connection:
        tasks = tasks_of(connection, particulars(connection, unit_id))
        sheet = buyer_sheet(connection, unit_id, now_us, desk.store.path)
        asked = _ASKED.first(connection, unit_id=unit_id) or _Asked(None, "")
        trade, prices = settings(connection), own_prices(connection, unit_id, now_us, falls=False)
    public = [task for task in tasks if task.public]

    def named(state: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(task.name for task in public if task.state == state and task.holds))

    again = tuple(dict.fromkeys(f"{task.name}, again" for task in public if not task.holds))
    return Listing(
        sheet=sheet,
        done=named("done"),
        left_out=named("skipped"),
        to_do=(*named("todo"), *again),
        untested=_untested(tasks),
        price_minor=asked.price_minor,
        own_shipping=asked.shipping,
        trade=trade,
        prices=prices,
    )


def _untested(tasks: Sequence[TaskLine]) -> tuple[str, ...]:
    """The tests meant for the unit of which none holds, by their kind: the name of a task may be private."""
    passed = {task.test for task in tasks if task.state == "done" and task.holds}
    kinds = dict.fromkeys(task.test for task in tasks if task.test and task.test not in passed)
    return tuple(f"{KINDS[kind].label}: none that passed is on record" for kind in kinds)


def _figure(line: BeforeAfter) -> str:
    told = line.after or line.before
    was = f" (before {line.before})" if line.after and line.before not in ("", line.after) else ""
    return f"{line.label} {told}{was}"


def _newest(readings: Iterable[ReadingLine]) -> dict[str, Fact]:
    """The newest of every figure, from readings handed in newest first."""
    found: dict[str, Fact] = {}
    for line in readings:
        found = {**for_buyers(line.figures), **found}
    return found


def _stated(lines: SubjectLines, part: PartFigures) -> Iterator[str]:
    name = f"{lines.label} {part.part}".rstrip()
    given = (*verdicts(lines.subject, part.after or part.before), *part.compared)
    for verdict in given:
        if verdict.standing in (STATE, ACT):
            yield f"{name}: {verdict.words}"
