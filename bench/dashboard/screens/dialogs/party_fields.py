"""The fields for who a unit is bought from or sold to, alike in every form."""

from __future__ import annotations

from collections.abc import Mapping

from bench.dashboard.presenters.trade_choices import party_typed
from bench.dashboard.screens.dialogs.field import Field, TextField
from bench.dashboard.screens.dialogs.mark_field import YES, MarkField
from bench.domain.party import PartyTyped

PARTY = ("name", "address", "contact", "identity_seen")
FIRM = "firm"


def party_fields(who: str, *, papers: bool) -> tuple[Field, ...]:
    """Name, address, contact, and whether it is a firm. `papers`: also which paper was looked at."""
    seen = TextField("identity_seen", "Paper seen", hint="where a local code asks it")
    return (
        TextField("name", who),
        TextField("address", "Address"),
        TextField("contact", "Contact", hint="mail or telephone"),
        *((seen,) if papers else ()),
        MarkField(FIRM, "", "a firm, not a private person"),
    )


def party_in(fields: Mapping[str, Field]) -> PartyTyped | None:
    """Who was typed; None where nothing was."""
    values = {name: fields[name].value for name in PARTY if name in fields}
    return party_typed(values, private=fields[FIRM].value != YES)
