"""Undo and redo from any screen: what it will do is seen first; a reason is asked for where one is due."""

from __future__ import annotations

from bench.dashboard.doing import Doing, say, show_error
from bench.errors import NotFound, Refused
from bench.views.undo import UndoOffer


def choose_and_undo(screen: Doing) -> None:
    """Show one's newest changes, and undo or redo the one chosen."""
    from bench.dashboard.screens.dialogs.pick import ChooseUndo

    def chosen(journal_id: int | None) -> None:
        if journal_id is not None:
            undo_line(screen, journal_id)

    screen.app.push_screen(ChooseUndo(), chosen)


def undo_line(screen: Doing, journal_id: int) -> None:
    """Undo a line of the journal, or redo it where it is undone; ask for a reason where one is due."""
    desk = screen.desk

    def work() -> UndoOffer | None:
        from bench.work.undo import read_offer_to_undo

        return read_offer_to_undo(desk, journal_id)

    screen.do(work, lambda offer: _offered(screen, offer))


def _offered(screen: Doing, offer: UndoOffer | None) -> None:
    if offer is None:
        show_error(screen.app, NotFound("This line changed nothing that can be undone.", "Choose another."))
    elif offer.refusal:
        show_error(screen.app, Refused(offer.refusal, "Choose another line."))
    elif offer.needs_reason:
        from bench.dashboard.screens.dialogs.questions import ReasonDialog

        ask = ReasonDialog(f"Undo: {offer.summary}", offer.needs_reason, draft=f"undo {offer.journal_id}")
        screen.app.push_screen(ask, lambda reason: _with_reason(screen, offer, reason))
    else:
        _do(screen, offer, "")


def _with_reason(screen: Doing, offer: UndoOffer, reason: str | None) -> None:
    if reason is not None:
        _do(screen, offer, reason)


def _do(screen: Doing, offer: UndoOffer, reason: str) -> None:
    desk = screen.desk

    def work() -> str:
        from bench.work.undo import redo, undo

        act = redo if offer.again else undo
        return act(desk, offer.journal_id, reason=reason).summary

    did = "Redone" if offer.again else "Undone"
    screen.change(work, lambda summary: say(screen.app, f"{did}: {summary}"))
