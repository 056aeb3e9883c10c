"""The form of a unit that leaves otherwise than by a sale: handed back, kept, scrapped, broken for parts."""

from __future__ import annotations

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import MONEY, NumberField, TextField
from bench.domain.money import show_money
from bench.domain.text import for_display
from bench.domain.unit_money import UnitMoney
from bench.domain.ways_out import BESIDE_A_SALE, HANDED_BACK, WORDS, left_words
from bench.errors import ClosingFirst, ListingFirst
from bench.views.repair_jobs import JobSheet, read_job
from bench.views.unit_money import read_unit_money


@form
def leave_form(unit_id: int, tag: str) -> FormOf[bool]:
    """A unit leaves otherwise than by a sale; open tasks are skipped with the reason typed."""
    return FormOf(
        heading=f"{tag} leaves, not sold",
        draft=f"leave {unit_id}",
        fields=(
            ChoiceField("way", "Way out", none=None),
            TextField("reason", "Why", hint="open tasks are skipped with it"),
            NumberField("price_text", "Repair price", like=MONEY, hint="what its owner pays; 0 for nothing"),
            NumberField("proceeds_text", "Scrap proceeds", like=MONEY, hint="empty: nothing"),
        ),
        send="Let it leave",
        known="",
        reads=lambda desk: (read_unit_money(desk, unit_id), read_job(desk, unit_id)),
        begins=_begin_leaving,
        does=lambda filled: use_cases.leaving.leave_unit(filled.desk, unit_id, **filled.typed),
        asks=(ClosingFirst, ListingFirst),
        says=left_words,
    )


def _begin_leaving(ground: tuple[UnitMoney, JobSheet | None]) -> Begun:
    """The ways open to it: what is somebody else's is only handed back, for what its bill comes to."""
    money, job = ground
    ways = (HANDED_BACK,) if money.sold or money.owner else BESIDE_A_SALE
    billed = ""
    if job is not None and job.job.collected_on is None and job.billed_lines:
        billed = show_money(job.bill.total_minor, job.currency)
    return Begun(
        choices={"way": tuple((way, WORDS[way]) for way in ways)},
        values={"way": ways[0]},
        hints={"price_text": f"empty: {billed}, by its bill"} if billed else {},
        known=f"{f'The bill comes to {billed}. ' if billed else ''}{_whose_words(money)}",
    )


def _whose_words(money: UnitMoney) -> str:
    """Whose the unit is, and what becomes of its cost."""
    if money.owner:
        return f"It is {for_display(money.owner)}'s. The price of the repair is income of work, no margin."
    if money.sold:
        return "It is its buyer's: its sale stands."
    cost = show_money(money.cost_so_far_minor, money.currency)
    return f"Cost so far: {cost}. Scrapped or in parts it is lost today; kept for the shop it is not."
