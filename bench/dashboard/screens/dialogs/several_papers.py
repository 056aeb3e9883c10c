"""The form that saves the papers of several units, of one kind, in one file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Filled, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.desk import Desk
from bench.reports.forms import Forms, labels_forms, papers_forms


@dataclass(frozen=True, slots=True)
class OfSeveral:
    """A kind of paper: its title, and what is made of the units, with its forms."""

    title: str
    made: Callable[[Desk, tuple[int, ...]], tuple[Any, Forms]]


@form
def save_papers_form(unit_ids: tuple[int, ...], words: str) -> FormOf[bool]:
    """The papers of the units that are marked; none is saved where one cannot be written yet."""
    choices = [(name, kind.title) for name, kind in KINDS.items()]

    def save(filled: Filled) -> Path:
        from bench.reports.saving import save_as

        view, forms = KINDS[str(filled.typed["paper"])].made(filled.desk, unit_ids)
        return save_as(view, forms, filled.typed["path"])

    return FormOf(
        heading=f"Save papers of {words} in one file",
        draft="save papers",
        fields=(
            ChoiceField("paper", "Papers", choices, value="labels"),
            TextField("path", "File", value="papers.pdf"),
        ),
        known="A name that ends in .pdf is to print, each paper from a new page on; .txt is text.",
        does=save,
        says=lambda path: f"Saved {path}",
    )


def _labels(desk: Desk, unit_ids: tuple[int, ...]) -> tuple[Any, Forms]:
    from bench.views.labels import unit_labels
    from bench.views.particulars import particulars

    with desk.store.read() as connection:
        tags = [particulars(connection, one).tag for one in unit_ids]
    in_one_file = {ending: made for ending, made in labels_forms().items() if ending != ".png"}
    return unit_labels(desk, tags), in_one_file


def _listings(desk: Desk, unit_ids: tuple[int, ...]) -> tuple[Any, Forms]:
    from bench.reports.listing import listing_paper, listing_text
    from bench.views.listing import read_listing

    return [read_listing(desk, one) for one in unit_ids], papers_forms(listing_text, listing_paper)


def _buyer_sheets(desk: Desk, unit_ids: tuple[int, ...]) -> tuple[Any, Forms]:
    from bench.reports.buyer_sheet import buyer_paper, buyer_text
    from bench.views.buyer_sheet import read_buyer_sheet

    return [read_buyer_sheet(desk, one) for one in unit_ids], papers_forms(buyer_text, buyer_paper)


def _hand_overs(desk: Desk, unit_ids: tuple[int, ...]) -> tuple[Any, Forms]:
    from bench.reports.hand_over import hand_over_paper, hand_over_text
    from bench.views.hand_over import read_hand_over

    return [read_hand_over(desk, one) for one in unit_ids], papers_forms(hand_over_text, hand_over_paper)


KINDS: Mapping[str, OfSeveral] = {
    "labels": OfSeveral("Labels", _labels),
    "listings": OfSeveral("Listings", _listings),
    "buyer_sheets": OfSeveral("Buyer's sheets", _buyer_sheets),
    "hand_overs": OfSeveral("Hand-over notes", _hand_overs),
}
