"""Repairs of owners' machines: what is asked at the counter, what is found, and when it is ready."""

from __future__ import annotations

from dataclasses import dataclass

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.dates import read_day
from bench.domain.repair_jobs import check_consent
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields
from bench.errors import Refused
from bench.store.tables import RepairJob, Unit
from bench.work.change import Change, change
from bench.work.lookups import today
from bench.work.names import tells_if_changed
from bench.work.standing import is_out

LONGEST = 400


@dataclass(frozen=True, slots=True)
class JobOpened:
    """A repair that was taken in."""

    job_id: int
    unit_id: int
    tag: str


def open_job(
    desk: Desk,
    unit_id: int,
    *,
    complaint: str,
    came_along: str = "",
    arrival: str = "",
    data_consent: str = "",
    diagnosis: str = "",
) -> JobOpened:
    """Take in a repair of an owner's machine: the complaint in their words, and what is noted at the counter.

    `came_along`: charger, bag. `arrival`: its state. `data_consent`: what the owner says of the data.
    Refused for a unit of the shop's own, one that has left, and while another repair of it lasts.
    """
    with change(desk, "open repair") as made:
        unit = made.get(Unit, unit_id, "unit")
        if unit.owner_id is None:
            raise Refused(
                f"Unit {unit.tag} is the shop's own: nobody has it repaired.", "Say first whose it is."
            )
        if is_out(made, unit):
            raise Refused(f"Unit {unit.tag} has left.", "Move it back to a stage first.")
        if job_at_hand(made, unit_id) is not None:
            raise Refused(f"A repair of unit {unit.tag} lasts already.", "Change that one.")
        job = RepairJob(unit_id=unit_id, at_us=made.now_us, person_id=desk.person_id, complaint="")
        _fill(job, complaint, came_along, arrival, data_consent, diagnosis)
        made.add(job)
        made.tells(f"Took in the repair of {unit.tag}", unit_id=unit_id)
        assert job.id is not None
        return JobOpened(job.id, unit_id, unit.tag)


def edit_job(
    desk: Desk,
    job_id: int,
    *,
    complaint: str,
    came_along: str,
    arrival: str,
    data_consent: str,
    diagnosis: str,
) -> None:
    """Correct what was noted of a repair, and say what was diagnosed; all of it, as typed."""
    with change(desk, "edit repair") as made:
        job = made.get(RepairJob, job_id, "repair job")
        _fill(job, complaint, came_along, arrival, data_consent, diagnosis)
        unit = made.get(Unit, job.unit_id, "unit")
        tells_if_changed(made, f"Noted the repair of {unit.tag}", unit.id)


def tell_ready(desk: Desk, job_id: int, day_text: str = "") -> None:
    """Note on which day the owner was told that the machine is ready; nothing typed is today."""
    with change(desk, "ready") as made:
        job = lasting(made, job_id)
        fields = TypedFields()
        day = fields.read("day_text", read_day, day_text, today(made), "The day")
        fields.check()
        job.ready_on = (day or today(made)).isoformat()
        unit = made.get(Unit, job.unit_id, "unit")
        tells_if_changed(made, f"The owner of {unit.tag} was told that it is ready", unit.id)


def lasting(made: Change, job_id: int) -> RepairJob:
    """A repair whose machine was not handed back; Refused otherwise."""
    job = made.get(RepairJob, job_id, "repair job")
    if job.collected_on is not None:
        unit = made.get(Unit, job.unit_id, "unit")
        raise Refused(f"Unit {unit.tag} was handed back on {job.collected_on}.", "Undo that first.")
    return job


def job_at_hand(made: Change, unit_id: int) -> RepairJob | None:
    """The repair of a unit that lasts."""
    statement = select(RepairJob).where(
        RepairJob.unit_id == unit_id, RepairJob.removed == 0, col(RepairJob.collected_on).is_(None)
    )
    return made.session.exec(statement).first()


def _fill(
    job: RepairJob, complaint: str, came_along: str, arrival: str, data_consent: str, diagnosis: str
) -> None:
    fields = TypedFields()
    job.complaint = fields.read("complaint", clean_line, complaint, "The complaint", LONGEST)
    job.came_along = fields.read(
        "came_along", clean_line, came_along, "What came along", LONGEST, allow_empty=True
    )
    job.arrival = fields.read(
        "arrival", clean_line, arrival, "The state at arrival", LONGEST, allow_empty=True
    )
    job.data_consent = fields.read("data_consent", check_consent, data_consent)
    job.diagnosis = fields.read(
        "diagnosis", clean_line, diagnosis, "The diagnosis", LONGEST, allow_empty=True
    )
    fields.check()
