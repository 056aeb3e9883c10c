"""A unit opened: its particulars, its tasks and what each takes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.domain.queue import Running
from bench.domain.safety import SafetyView
from bench.domain.wipe import UnwipedReason


@dataclass(frozen=True, slots=True)
class Use:
    """What a task takes of a consumable, in thousandths of its base unit; `on_hand` is what is left."""

    consumable_id: int
    name: str
    base_unit: str
    quantity: int
    on_hand: int
    hazard: str = ""


@dataclass(frozen=True, slots=True)
class EntryLine:
    """A time entry as a line that can be opened and corrected."""

    entry_id: int
    task_id: int
    task: str
    unit_id: int
    tag: str
    stage: str
    person_id: int
    person: str
    started_us: int
    stopped_us: int | None
    attended: bool
    corrected: bool


@dataclass(frozen=True, slots=True)
class TaskLine:
    """One task of a unit. `state`: todo, done or skipped. `spent_us`: closed entries of all people.

    `opens`: it takes the cover off. `cover_on`: it needs the cover on. `hazard`: a kind of `domain.safety`.
    `holds`: False for a test that was done before the unit was opened again or came back.
    """

    task_id: int
    stage_id: int
    stage: str
    position: int
    name: str
    estimate_minutes: int
    unattended: bool
    lid_off: bool
    state: str
    spent_us: int
    running: tuple[Running, ...]
    uses: tuple[Use, ...]
    ended_us: int | None
    skip_reason: str | None
    opens: bool = False
    cover_on: bool = False
    hazard: str = ""
    holds: bool = True


@dataclass(frozen=True, slots=True)
class UnitSheet:
    """Everything about one unit. Money in minor units of the shop's currency.

    `owner`: whose it is, where it was brought in for repair; empty for the shop's own.

    `without`: what was said for listing it without something, as far as it still answers.
    """

    unit_id: int
    tag: str
    maker: str
    model: str
    serial: str
    note: str
    route_id: int | None
    route: str
    stage_id: int
    stage: str
    stage_since_us: int
    added_us: int
    due_on: date | None
    price_minor: int | None
    held: str | None
    held_us: int | None
    tasks: tuple[TaskLine, ...]
    safety: SafetyView
    attended_us: int
    unattended_us: int
    materials_minor: int
    currency: str
    zone: str
    without: tuple[UnwipedReason, ...] = ()
    owner: str = ""
    owner_contact: str = ""
