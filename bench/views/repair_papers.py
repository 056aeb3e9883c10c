"""What the owner of a machine is given in writing: the quote, the bill, the note when it goes back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bench.desk import Desk
from bench.domain.amounts import Instant
from bench.domain.quote_totals import QuoteTotal, quote_total
from bench.domain.weeks import local_day
from bench.errors import NotFound
from bench.views.binder import Query
from bench.views.repair_jobs import RepairLine, billed_of, priced, the_job

QUOTE, BILL, HAND_BACK = "quote", "bill", "hand_back"
PAPERS = (QUOTE, BILL, HAND_BACK)


@dataclass(frozen=True, slots=True)
class RepairPaper:
    """One paper of a repair. `day`: of the quote, None while it was not given; else the day of handing back.

    `lines` and `total`: those of the quote, or those that are paid. `did`: tasks done; `fitted`: parts.
    The access word is in none of it.
    """

    paper: str
    shop: str
    unit_id: int
    job_id: int
    tag: str
    model: str
    serial: str
    owner: str
    owner_address: str
    day: date | None
    complaint: str
    diagnosis: str
    came_along: str
    arrival: str
    data_consent: str
    lines: tuple[RepairLine, ...]
    total: QuoteTotal
    quote_until: date | None
    answer: str | None
    answered_on: date | None
    answered_how: str
    warranty_days: int | None
    warranty_until: date | None
    did: tuple[str, ...]
    fitted: tuple[str, ...]
    currency: str
    zone: str
    made_us: Instant


@dataclass(frozen=True, slots=True)
class _Named:
    """A task that was done, or a part that was fitted."""

    name: str


_DID = Query(
    _Named,
    """
SELECT name FROM task WHERE unit_id = :unit_id AND removed = 0 AND state = 'done' AND ended_us >= :since
ORDER BY ended_us, id
""",
)
_FITTED = Query(
    _Named,
    """
SELECT TRIM(name || ' ' || serial) AS name FROM part
WHERE to_unit_id = :unit_id AND removed = 0 AND at_us >= :since ORDER BY id
""",
)


def read_repair_paper(desk: Desk, unit_id: int, paper: str) -> RepairPaper:
    """One paper of the unit's newest repair.

    NotFound where it has none, a quote or bill has no lines, or the machine was not handed back yet.
    """
    sheet = the_job(desk, unit_id)
    job = sheet.job
    lines = sheet.quoted_lines if paper == QUOTE else billed_of(sheet.lines, job.answer)
    if paper != HAND_BACK and not lines:
        raise NotFound(f"There is nothing in the {paper} for unit {job.tag} yet.", "Add its lines first.")
    if paper == HAND_BACK and job.collected_on is None:
        raise NotFound(f"Unit {job.tag} was not handed back yet.", "Let it leave first.")
    with desk.store.read() as connection:
        asked = {"unit_id": unit_id, "since": job.at_us}
        did = tuple(one.name for one in _DID.each(connection, **asked))
        fitted = tuple(one.name for one in _FITTED.each(connection, **asked))
    today = local_day(sheet.read_us, sheet.zone)
    return RepairPaper(
        paper=paper,
        shop=sheet.shop,
        unit_id=unit_id,
        job_id=job.job_id,
        tag=job.tag,
        model=job.model,
        serial=job.serial,
        owner=job.owner,
        owner_address=job.owner_address,
        day=job.quoted_on if paper == QUOTE else job.collected_on or today,
        complaint=job.complaint,
        diagnosis=job.diagnosis,
        came_along=job.came_along,
        arrival=job.arrival,
        data_consent=job.data_consent,
        lines=lines,
        total=quote_total(map(priced, lines)),
        quote_until=job.quote_until,
        answer=job.answer,
        answered_on=job.answered_on,
        answered_how=job.answered_how,
        warranty_days=job.warranty_days,
        warranty_until=job.warranty_until,
        did=did,
        fitted=fitted,
        currency=sheet.currency,
        zone=sheet.zone,
        made_us=sheet.read_us,
    )
