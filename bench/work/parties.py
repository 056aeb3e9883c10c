"""People and firms traded with: found again, edited, erased; and whose a unit is that was brought in.

What is typed of a party stands in its own row and nowhere else: the journal says only that one was added.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from sqlmodel import col, select

from bench.desk import Desk
from bench.domain.copies import BEFORE_ERASING
from bench.domain.party import ERASED, Erased, PartyTyped
from bench.domain.text import clean_line
from bench.domain.typed import TypedFields, read_field
from bench.domain.ways_out import HANDED_BACK
from bench.domain.weeks import local_day
from bench.errors import BadInput, NotFound, Refused
from bench.store.copies import copies_folder, copies_of, make_copy
from bench.store.scrubbing import scrub
from bench.store.tables import Party, Purchase, RepairJob, Sale, Unit, WayOut
from bench.views.export import table_names
from bench.views.parties import PartyLine, due_for_erasing, read_parties, where_words_stand
from bench.views.shop import read_shop
from bench.work.change import Change, change
from bench.work.names import tells_if_changed
from bench.work.photograph_erasing import delete_files, erase_of_owner
from bench.work.repair_jobs import job_at_hand
from bench.work.standing import is_out, last_sale
from bench.work.unlocking import forget_within

LONGEST_ADDRESS = 400
# A shorter word stands in too many other words to be looked for.
SHORTEST_SOUGHT = 3


def party_within(made: Change, typed: PartyTyped | None) -> int | None:
    """The number of who was typed, inside a transaction that does more; None where nothing was typed.

    Someone of just these particulars who is kept already is taken again. BadInput for an empty name.
    """
    if typed is None or not any((typed.name, typed.address, typed.contact, typed.identity_seen)):
        return None
    party = _party_from(typed)
    same = made.session.exec(
        select(Party.id).where(
            Party.name == party.name,
            Party.address == party.address,
            Party.contact == party.contact,
            Party.identity_seen == party.identity_seen,
            Party.private == party.private,
            Party.removed == 0,
            col(Party.erased_us).is_(None),
        )
    ).first()
    return same if same is not None else made.add(party).id


def edit_party(desk: Desk, party_id: int, typed: PartyTyped) -> None:
    """Correct what is kept of someone. The journal does not keep what stood there: no taking back."""
    with change(desk, "edit party") as made:
        party = made.get(Party, party_id, "party")
        if party.erased_us is not None:
            raise Refused("That party's data have been erased.", "Add them again with a sale or purchase.")
        fresh = _party_from(typed)
        party.name, party.address, party.contact = fresh.name, fresh.address, fresh.contact
        party.identity_seen, party.private = fresh.identity_seen, fresh.private
        made.tells(f"Corrected the particulars of party {party_id}; this cannot be undone")


def erase_party(desk: Desk, party_id: int, reason: str, *, early: bool = False) -> Erased:
    """Erase someone's name, address, contact and papers, and the notes of their sales; figures stay.

    Photographs of the machines that they own are erased too.

    Refused while the shop's time for keeping them is not over, unless `early`. It cannot be undone.
    The file is copied first, and rewritten so that nothing of it is left in there; the copies keep it.
    """
    line = next((one for one in read_parties(desk) if one.party_id == party_id), None)
    if line is None:
        raise NotFound(f"There is no party with number {party_id}.", "`bench parties` shows them all.")
    if line.erased_us is not None:
        raise Refused("That party's data have been erased already.", "There is nothing to erase.")
    today = local_day(desk.clock.now_us(), read_shop(desk).zone)
    if not early and (line.erase_on is None or line.erase_on > today):
        raise Refused(_too_early(line), "Erase early only where the law lets you; say so.")
    return _erase(desk, [line], reason)


def erase_due(desk: Desk, reason: str) -> Erased:
    """Erase everyone who is due. NotFound when nobody is."""
    due = due_for_erasing(desk)
    if not due:
        raise NotFound("Nobody's data are due for erasing.", "`bench parties` shows from when each is.")
    return _erase(desk, due, reason)


def rewrite_file(desk: Desk) -> str:
    """Rewrite the file without what was erased, where that did not go through at once; answers why not."""
    return scrub(desk.store.path)


def _erase(desk: Desk, lines: Sequence[PartyLine], reason: str) -> Erased:
    words = _words_of(lines)
    why = read_field("reason", clean_line, reason, "The reason for erasing")
    if any(word.casefold() in why.casefold() for word in words):
        raise BadInput(
            "The reason names who is to be erased, and it stays in the journal.", "Reword it.", field="reason"
        )
    desk.store.require_same_file()
    make_copy(desk.store.path, BEFORE_ERASING, desk.clock.now_us())
    with change(desk, "erase party") as made:
        made.session.connection().exec_driver_sql("PRAGMA secure_delete = ON")
        gone = []
        for line in lines:
            _blank(made, line.party_id)
            gone += erase_of_owner(made, line.party_id)
        _drop_drafts_with(made, words)
        numbers = ", ".join(str(line.party_id) for line in lines)
        made.tells(f"Erased the data of party {numbers}; this cannot be undone", reason=why)
    photographs_left = delete_files(desk, gone)
    with desk.store.read() as connection:
        left_in = where_words_stand(connection, table_names(connection), words)
    return Erased(
        party_ids=tuple(line.party_id for line in lines),
        left_in=left_in,
        not_rewritten=rewrite_file(desk),
        copies=len(copies_of(desk.store.path)),
        copies_folder=str(copies_folder(desk.store.path)),
        photographs=len(gone),
        photographs_left=photographs_left,
    )


def _blank(made: Change, party_id: int) -> None:
    party = made.session.get(Party, party_id)
    if party is None or party.erased_us is not None:
        raise NotFound(f"Party {party_id} was erased meanwhile.", "Look at the list again.")
    party.name, party.address, party.contact, party.identity_seen = ERASED, "", "", ""
    party.erased_us = made.now_us
    for sale in made.session.exec(select(Sale).where(Sale.party_id == party_id)):
        sale.note = ""
    of_theirs = select(RepairJob.id).join(Unit, col(Unit.id) == RepairJob.unit_id)
    for job_id in made.session.exec(of_theirs.where(Unit.owner_id == party_id)):
        assert job_id is not None
        forget_within(made, job_id)


def _drop_drafts_with(made: Change, words: Sequence[str]) -> None:
    """Drop the half-filled forms in which one of the words was typed. Drafts are not journaled."""
    connection = made.session.connection()
    for word in words:
        connection.exec_driver_sql(
            "DELETE FROM draft WHERE INSTR(body, ?)", (json.dumps(word, ensure_ascii=False)[1:-1],)
        )


def _party_from(typed: PartyTyped) -> Party:
    fields = TypedFields()
    party = Party(
        name=fields.read("name", clean_line, typed.name, "The name of who it is traded with"),
        address=fields.read(
            "address", clean_line, typed.address, "The address", LONGEST_ADDRESS, allow_empty=True
        ),
        contact=fields.read("contact", clean_line, typed.contact, "The contact", allow_empty=True),
        identity_seen=fields.read(
            "identity_seen", clean_line, typed.identity_seen, "The ID seen", allow_empty=True
        ),
        private=int(typed.private),
    )
    fields.check()
    return party


def _words_of(lines: Sequence[PartyLine]) -> tuple[str, ...]:
    words = (
        word for line in lines for word in (line.name, line.address, line.contact, line.identity_seen) if word
    )
    return tuple(dict.fromkeys(word for word in words if len(word) >= SHORTEST_SOUGHT))


def _too_early(line: PartyLine) -> str:
    if not line.private:
        return "That party is a business: its data are not a private person's."
    if line.in_stock:
        return "A unit bought from that person is still in the queue, and the register needs them."
    return f"That person's data are kept until {line.erase_on}, by the shop's setting."


def set_owner(desk: Desk, unit_id: int, owner: PartyTyped) -> None:
    """Correct whose a unit is; where nothing is typed, it is the shop's own.

    BadInput for an owner without a name or a unit with a price, Refused for a unit that was bought or has
    left, and for one whose repair was handed back and that would be the shop's own.
    """
    with change(desk, "owner") as made:
        unit = made.get(Unit, unit_id, "unit")
        owner_within(made, unit, owner)
        tells_if_changed(made, f"Corrected whose {unit.tag} is", unit_id)


def owner_within(made: Change, unit: Unit, owner: PartyTyped | None) -> None:
    """The same inside a transaction that does more; None leaves it as it is."""
    if owner is None:
        return
    party_id = _party(made, owner)
    if party_id is None and unit.owner_id is not None:
        _was_not_handed_back(made, unit)
        _is_not_in_repair(made, unit)
    if party_id is not None and unit.owner_id is None:
        _was_not_bought(made, unit)
    unit.owner_id = party_id
    no_price_of_an_owners(unit)


def no_price_of_an_owners(unit: Unit) -> None:
    """Pass, or raise BadInput: nothing is paid for what somebody else owns."""
    if unit.owner_id is not None and unit.price_minor is not None:
        raise BadInput(
            f"Unit {unit.tag} is its owner's: nothing was paid for it.",
            "Leave the price empty; what the repair costs is typed when it is handed back.",
            field="price_text",
        )


def _party(made: Change, owner: PartyTyped) -> int | None:
    try:
        return party_within(made, owner)
    except BadInput as error:
        fault = error.faults[0]
        raise fault.of_field("owner_contact" if fault.field == "contact" else "owner") from None


def _was_not_handed_back(made: Change, unit: Unit) -> None:
    statement = select(WayOut.id).where(
        WayOut.unit_id == unit.id, WayOut.way == HANDED_BACK, WayOut.removed == 0
    )
    if made.session.exec(statement).first() is not None:
        raise Refused(
            f"Unit {unit.tag} was handed back to its owner: it was not the shop's.",
            "Name another owner, or take the unit in again.",
        )


def _is_not_in_repair(made: Change, unit: Unit) -> None:
    assert unit.id is not None
    if job_at_hand(made, unit.id) is not None:
        raise Refused(
            f"Unit {unit.tag} is here for its owner's repair.",
            "Name another owner, or undo the repair first.",
        )


def _was_not_bought(made: Change, unit: Unit) -> None:
    assert unit.id is not None
    bought = made.session.exec(select(Purchase.id).where(Purchase.unit_id == unit.id)).first()
    if bought is not None or last_sale(made, unit.id) is not None:
        raise Refused(f"Unit {unit.tag} was bought: it is the shop's own.", "Undo its purchase first.")
    if is_out(made, unit):
        raise Refused(f"Unit {unit.tag} has left as the shop's own.", "Move it back to a stage first.")
