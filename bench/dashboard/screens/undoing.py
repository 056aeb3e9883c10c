"""Undo and redo from any screen: what it will do is seen first; a reason is asked for where one is due."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing, say, show_error
from bench.errors import NotFound, Refused
from bench.views.undo import UndoOffer

if TYPE_CHECKING:
    from bench.work.undo import Undone


def undo_line(screen: Doing, journal_id: int) -> None:
    """Undo a line of the journal, or redo it where it is undone; ask for a reason where one is due."""
    read = partial(call, "bench.work.undo:read_offer_to_undo", screen.desk, journal_id)
    screen.do(read, partial(_offered, screen))


def _offered(screen: Doing, offer: UndoOffer | None) -> None:
    if offer is None:
        show_error(screen.app, NotFound("This line changed nothing that can be undone.", "Choose another."))
    elif offer.refusal:
        show_error(screen.app, Refused(offer.refusal, "Choose another line."))
    elif offer.needs_reason:
        heading, draft = f"Undo: {offer.summary}", f"undo {offer.journal_id}"
        then = partial(_do, screen, offer)
        screen.open_screen(places.REASON, heading, offer.needs_reason, then=then, draft=draft)
    else:
        _do(screen, offer, "")


def _do(screen: Doing, offer: UndoOffer, reason: str) -> None:
    act, did = ("bench.work.undo:redo", "Redone") if offer.again else ("bench.work.undo:undo", "Undone")

    def then(undone: Undone) -> None:
        say(screen.app, f"{did}: {undone.summary}")

    screen.run_use_case(act, offer.journal_id, reason=reason, then=then)
