"""A model as the shop knows it: how it comes apart, its screws, what its units took and fetched."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from bench.domain.amounts import Instant, Length, Minor
from bench.domain.faults import OPEN, STATES, STAYS
from bench.domain.money import show_money
from bench.domain.outcomes import KINDS
from bench.domain.own_prices import OwnPrices
from bench.domain.return_rate import Rate, rate_words
from bench.domain.specification import Specification, specification_lines
from bench.domain.text import quoted
from bench.errors import BadInput

MOST_SCREWS = 200
MOST_STEP = 500  # characters
MOST_TORQUE_MNM = 5_000  # far above any screw of a laptop (common practice, no source)
# SI brochure, 9th edition: prefixes; the newton metre is the unit of a moment of force.
_MNM = {"mnm": 1, "ncm": 10, "nm": 1_000}
_TORQUE = re.compile(r"([0-9]{1,5}(?:[.,][0-9]{1,4})?)\s*(mnm|ncm|nm)", re.IGNORECASE)
# Of a specification what says nothing of another unit of the model.
OF_ONE_UNIT = frozenset(("drives", "system", "licence", "firmware", "firmware_lock", "account_lock"))
NOTHING = "Nothing is written on its page yet."
WRITTEN = ("battery", "drives", "memory", "traps", "note")
LABELS = {
    "battery": "battery it takes",
    "drives": "drives it takes",
    "memory": "memory it takes",
    "traps": "traps",
    "note": "note",
}


@dataclass(frozen=True, slots=True)
class ModelStepLine:
    """One step of taking it apart, in order."""

    step_id: int
    position: int
    words: str


@dataclass(frozen=True, slots=True)
class ScrewLine:
    """Screws of one kind at one place. `torque_mnm`: millinewton metres; None: not known."""

    screw_id: int
    place: str
    size: str
    count: int
    torque_mnm: int | None
    note: str

    @property
    def words(self) -> str:
        """Such as: 8 M2 x 4, bottom cover, 200 mN·m."""
        size = f" {self.size}" if self.size else ""
        torque = f", {show_torque(self.torque_mnm)}" if self.torque_mnm is not None else ""
        return f"{self.count}{size}, {self.place}{torque}"


@dataclass(frozen=True, slots=True)
class TaskHours:
    """How long a task took on units of the model: hands-on, of those that were timed."""

    name: str
    jobs: int
    median_us: Length
    p80_us: Length


@dataclass(frozen=True, slots=True)
class FittedPart:
    """A part that was bought for units of the model. `cost_minor`: of the newest; `supplier`: who sold it."""

    name: str
    times: int
    cost_minor: Minor
    supplier: str


@dataclass(frozen=True, slots=True)
class FoundFault:
    """A fault of one unit of the model."""

    fault_id: int
    unit_id: int
    tag: str
    place: str
    symptom: str
    cause: str
    done: str
    state: str
    found_us: Instant


@dataclass(frozen=True, slots=True)
class KnownFault:
    """A fault that units of the model had: how often, and what cured it, by the newest that says it.

    `fault_id`, `unit_id`, `tag`, `found_us`: of the newest. `open`: how many of them are open.
    """

    place: str
    symptom: str
    cause: str
    done: str
    state: str
    times: int
    open: int
    found_us: Instant
    fault_id: int
    unit_id: int
    tag: str

    @property
    def cured_by(self) -> str:
        """The cause that was found, and what was done, or why it stays."""
        told = "; ".join(one for one in (self.cause, self.done) if one)
        if self.state == STAYS:
            return f"stays: {told}"
        return told or STATES[self.state]

    @property
    def words(self) -> str:
        """Such as: hinge: lid flexes, 2 times (hinge set replaced)."""
        where = f"{self.place}: " if self.place else ""
        often = f", {self.times} times" if self.times > 1 else ""
        return f"{where}{self.symptom}{often} ({self.cured_by})"


@dataclass(frozen=True, slots=True)
class FailedTest:
    """A kind of test that units of the model failed: first attempts of each, and how many of them failed."""

    kind: str
    failed: Rate

    @property
    def words(self) -> str:
        """Such as: soak test 2 of 7, 28.57 % (95 %: 3.66 % to 70.96 %)."""
        label = KINDS[self.kind].label.lower()
        return f"{label} {self.failed.events} of {self.failed.trials}, {rate_words(self.failed)}"


@dataclass(frozen=True, slots=True)
class ModelPhotograph:
    """A photograph on the page, taken of the unit `tag`. `step_id`: the step it shows; None for the page."""

    photograph_id: int
    unit_id: int
    tag: str
    name: str
    caption: str
    step_id: int | None
    position: int | None
    path: str
    there: bool = False


@dataclass(frozen=True, slots=True)
class Paid:
    """What was paid for units of the model: how many are told, the median, the least and the most."""

    units: int
    median_minor: Minor
    least_minor: Minor
    most_minor: Minor


@dataclass(frozen=True, slots=True)
class ModelPageSheet:
    """All that the shop knows of a model. `page_id`: None while nothing was written on its page.

    `sold`, `returned`: units sold, and those of them that came back. `days_to_sell`: the median from coming
    in to the sale; None while none was sold. `returns`: the share of those sold that came back, with its
    interval. `specification`: the newest that any of its units has, `specified_tag`: that unit's.
    """

    page_id: int | None
    maker: str
    model: str
    battery: str
    drives: str
    memory: str
    traps: str
    note: str
    currency: str
    zone: str
    steps: tuple[ModelStepLine, ...] = ()
    screws: tuple[ScrewLine, ...] = ()
    here: int = 0
    sold: int = 0
    returned: int = 0
    days_to_sell: int | None = None
    paid: Paid | None = None
    hours: tuple[TaskHours, ...] = ()
    parts: tuple[FittedPart, ...] = ()
    returns: Rate | None = None
    faults: tuple[KnownFault, ...] = ()
    tests: tuple[FailedTest, ...] = ()
    photographs: tuple[ModelPhotograph, ...] = ()
    specification: Specification | None = None
    specified_tag: str = ""
    fetched: OwnPrices | None = field(default=None, kw_only=True)

    @property
    def name(self) -> str:
        """Maker and model in one line."""
        return f"{self.maker} {self.model}".strip()

    @property
    def written(self) -> bool:
        """Whether the shop has written anything of it."""
        return bool(self.steps or self.screws or any(getattr(self, one) for one in WRITTEN))

    @property
    def screws_in_all(self) -> int:
        """How many screws are known."""
        return sum(one.count for one in self.screws)

    @property
    def made_of(self) -> tuple[str, ...]:
        """What its newest unit that said so was made of, a line each; nothing where none did."""
        if self.specification is None:
            return ()
        lines = specification_lines(self.specification)
        return tuple(f"{one.label}: {one.text}" for one in lines if one.name not in OF_ONE_UNIT)

    @property
    def past_words(self) -> tuple[str, ...]:
        """What came of its units, a sentence each."""
        sentences = [f"{self.here} in the queue, {self.sold} sold, {self.returned} of them came back."]
        if self.returns is not None:
            sentences.append(f"Came back: {rate_words(self.returns)}.")
        if self.tests:
            sentences.append(f"Failed at first: {'; '.join(one.words for one in self.tests)}.")
        if self.paid is not None:
            least, middle, most = (
                show_money(one, self.currency)
                for one in (self.paid.least_minor, self.paid.median_minor, self.paid.most_minor)
            )
            sentences.append(f"Paid for {self.paid.units}: {least} to {most}, 50 % cost {middle} or less.")
        if self.days_to_sell is not None:
            sentences.append(f"50 % were sold within {self.days_to_sell} days of coming in.")
        if self.fetched is not None:
            sentences += [self.fetched.words, self.fetched.fall_words]
        return tuple(sentences)


def known_faults(found: Iterable[FoundFault]) -> tuple[KnownFault, ...]:
    """The faults that were found, those of the same place and words as one, the newest first.

    What cured one is told by the newest of them that is not open.
    """
    alike: dict[tuple[str, str], list[FoundFault]] = {}
    for one in sorted(found, key=lambda one: (one.found_us, one.fault_id), reverse=True):
        alike.setdefault((one.place, " ".join(one.symptom.casefold().split())), []).append(one)
    return tuple(_known(faults) for faults in alike.values())


def _known(faults: list[FoundFault]) -> KnownFault:
    newest = faults[0]
    telling = next((one for one in faults if one.state != OPEN), newest)
    return KnownFault(
        place=newest.place,
        symptom=newest.symptom,
        cause=telling.cause,
        done=telling.done,
        state=telling.state,
        times=len(faults),
        open=sum(one.state == OPEN for one in faults),
        found_us=newest.found_us,
        fault_id=newest.fault_id,
        unit_id=newest.unit_id,
        tag=newest.tag,
    )


def read_torque(text: str) -> int:
    """Millinewton metres from such as 0.2 Nm, 20 Ncm or 200 mNm; BadInput for anything else.

    Source: SI brochure (BIPM, 9th edition, 2019): 1 N·m = 100 N·cm = 1000 mN·m.
    """
    typed = text.strip().replace("·", "").replace(" ", "")
    found = _TORQUE.fullmatch(typed)
    if found is None:
        raise BadInput(f"{quoted(text)} is not a torque.", "Write it with its unit, such as 0.2 Nm.")
    whole, _, part = found[1].replace(",", ".").partition(".")
    scale = _MNM[found[2].casefold()]
    ten_thousandths = (int(whole) * 10_000 + int(part.ljust(4, "0") or "0")) * scale
    mnm, rest = divmod(ten_thousandths, 10_000)
    if rest or not 0 < mnm <= MOST_TORQUE_MNM:
        raise BadInput(
            f"{quoted(text)} is not a torque of a laptop's screw.",
            f"Give whole mN·m from 1 to {MOST_TORQUE_MNM}, such as 200 mNm.",
        )
    return mnm


def show_torque(mnm: int) -> str:
    """A torque in words that `read_torque` reads again."""
    return f"{mnm} mN·m"
