"""Half-filled forms come back as they were typed, and are no business of the journal's."""

from __future__ import annotations

from bench.desk import Desk
from bench.store.engine import Store
from bench.views.shop import read_draft
from bench.work.drafts import drop_draft, save_draft
from tests.work.bookkeeping import footprint

TYPED = {"maker": "[bold]“Ünïcode”\n\x1b", "price": "12,", "note": ""}


def test_a_draft_comes_back_as_it_was_typed(desk: Desk) -> None:
    before = footprint(desk)
    save_draft(desk, "add unit", TYPED)
    assert read_draft(desk, "add unit") == TYPED
    assert read_draft(desk, "restock") == {}
    assert footprint(desk) == before


def test_a_draft_survives_the_program(desk: Desk) -> None:
    save_draft(desk, "add unit", TYPED)
    again = Store(desk.store.path)
    assert read_draft(Desk(again, desk.clock, 1), "add unit") == TYPED
    again.close()


def test_the_newest_draft_of_a_form_counts(desk: Desk) -> None:
    save_draft(desk, "add unit", TYPED)
    save_draft(desk, "add unit", {"maker": "other"})
    assert read_draft(desk, "add unit") == {"maker": "other"}


def test_dropping_and_emptying(desk: Desk) -> None:
    save_draft(desk, "add unit", TYPED)
    drop_draft(desk, "add unit")
    drop_draft(desk, "add unit")
    assert read_draft(desk, "add unit") == {}
    save_draft(desk, "add unit", TYPED)
    save_draft(desk, "add unit", {"maker": ""})
    assert read_draft(desk, "add unit") == {"maker": ""}, "what was emptied is work too"
    save_draft(desk, "add unit", {})
    assert read_draft(desk, "add unit") == {}
