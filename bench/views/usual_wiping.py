"""With what, as whom and where a person wiped and verified last, of the newest 500 wipes: offered again."""

from __future__ import annotations

from dataclasses import dataclass

from bench.desk import Desk
from bench.views.binder import Query


@dataclass(frozen=True, slots=True)
class UsualWiping:
    """Of a person's newest wipe; all empty before their first."""

    tool: str = ""
    tool_version: str = ""
    title: str = ""
    location: str = ""
    contact: str = ""


@dataclass(frozen=True, slots=True)
class UsualVerifying:
    """Of a person's newest verification, else of their newest wipe."""

    title: str = ""
    location: str = ""
    contact: str = ""


_WIPING = Query(
    UsualWiping,
    """
SELECT tool, tool_version, title, location, contact FROM (SELECT * FROM wipe ORDER BY id DESC LIMIT 500)
WHERE person_id = :person_id AND removed = 0 ORDER BY id DESC LIMIT 1
""",
)

_VERIFYING = Query(
    UsualVerifying,
    """
SELECT verifier_title AS title, verifier_location AS location, verifier_contact AS contact
FROM (SELECT * FROM wipe ORDER BY id DESC LIMIT 500)
WHERE verified_by_id = :person_id AND removed = 0 ORDER BY verified_us DESC, id DESC LIMIT 1
""",
)


def read_usual_wiping(desk: Desk) -> UsualWiping:
    """What the acting person used, and was, at their newest wipe."""
    with desk.store.read() as connection:
        return _WIPING.first(connection, person_id=desk.person_id) or UsualWiping()


def read_usual_verifying(desk: Desk) -> UsualVerifying:
    """As whom and where the acting person verified last."""
    with desk.store.read() as connection:
        verified = _VERIFYING.first(connection, person_id=desk.person_id)
        if verified is not None:
            return verified
        wiped = _WIPING.first(connection, person_id=desk.person_id) or UsualWiping()
        return UsualVerifying(wiped.title, wiped.location, wiped.contact)
