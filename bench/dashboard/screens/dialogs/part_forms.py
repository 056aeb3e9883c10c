"""The forms of a part: fitted, corrected, taken out or swapped. Its cost goes along."""

from __future__ import annotations

from collections.abc import Mapping

from bench.dashboard import use_cases
from bench.dashboard.presenters.part_rows import moved_words, part_values, swapped_words
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.field import SERIAL, TAG, Field
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import MONEY, NumberField, TextField
from bench.desk import Desk
from bench.domain.money import show_money
from bench.errors import BadInput, KnownAlready, NotFound, WhichDrive
from bench.views.drives import DriveSheet, read_drives
from bench.views.particulars import unit_by_tag
from bench.views.parts import PartLine, read_part_cost
from bench.views.shop import read_shop

SUGGESTS = "Typing what the part is worth suggests its share of the cost so fars unit."


def _part_fields() -> tuple[Field, ...]:
    return (
        TextField("name", "Part", hint="such as fan, battery, memory 8 GB"),
        NumberField("cost_text", "Cost", like=MONEY, hint="what goes along with it; 0 for none"),
        TextField("serial", "Serial number", takes=SERIAL),
        TextField("note", "Note"),
    )


@form
def fit_part_form(unit_id: int, tag: str) -> FormOf[bool]:
    """A part that was bought for the unit, where it was bought, and the drive it is, if it is one."""

    def begin(shelf: DriveSheet) -> Begun:
        drives = tuple((str(one.drive_id), f"{one.name}  ({one.standing})") for one in shelf.drives)
        return Begun(choices={"drive": drives})

    def fit(filled: Filled) -> str:
        typed = filled.typed
        chosen, asked = typed.pop("drive"), typed.pop("drive_id", None)
        drive_id = asked if chosen is None else chosen
        return moved_words(use_cases.parts.fit_part(filled.desk, unit_id, drive_id=drive_id, **typed))

    return FormOf(
        heading=f"Part bought for {tag}",
        draft=f"fit part {unit_id}",
        fields=(
            *_part_fields(),
            TextField("supplier", "Supplier"),
            ChoiceField("drive", "It is the drive", none="no drive from the shelf", ids=True),
        ),
        send="Fit it",
        reads=lambda desk: read_drives(desk, None),
        begins=begin,
        does=fit,
        asks=(KnownAlready, WhichDrive),
        says=str,
    )


@form
def edit_part_form(part: PartLine, currency: str) -> FormOf[bool]:
    """All that is kept of a part, corrected."""
    return FormOf(
        heading=f"Part: {part.name}",
        draft=f"part {part.part_id}",
        fields=(*_part_fields(), TextField("supplier", "Supplier")),
        begins=lambda _: Begun(values=part_values(part, currency)),
        does=lambda filled: use_cases.parts.edit_part(filled.desk, part.part_id, **filled.typed),
    )


@form
def take_part_form(unit_id: int, tag: str, *, into: bool) -> FormOf[bool]:
    """A part taken out of one unit for another one, or for the shelf where no tag is typed.

    `into`: the part comes into this unit; else it leaves it.
    """

    def suggest(desk: Desk, values: Mapping[str, str]) -> Begun:
        worth, other = values["worth_text"].strip(), values["tag_text"].strip()
        if not worth or (into and not other):
            return Begun(known=SUGGESTS)
        try:
            giver = unit_by_tag(desk, other) if into else unit_id
            minor = read_part_cost(desk, giver, worth)
        except (BadInput, NotFound):  # half a number or half a tag while it is being typed
            return Begun(known=SUGGESTS)
        cost = show_money(minor, read_shop(desk).currency)
        return Begun(values={"cost_text": cost}, known=f"Its share of the cost left: {cost}")

    def take(filled: Filled) -> str:
        desk, typed = filled.desk, filled.typed
        other, _ = typed.pop("tag_text").strip(), typed.pop("worth_text")
        if into and not other:
            raise BadInput("Tag of the other unit is empty.", "Type its tag, or scan it.", field="tag_text")
        other_id = unit_by_tag(desk, other) if other else None
        giver, taker = (other_id, unit_id) if into and other_id is not None else (unit_id, other_id)
        return moved_words(use_cases.parts.take_part(desk, giver, to_unit_id=taker, **typed))

    name, cost, *rest = _part_fields()
    hint = "its tag, also a donor's" if into else "its tag; empty: the shelf"
    return FormOf(
        heading=f"Part into {tag}" if into else f"Part out of {tag}",
        draft=f"take part {'into' if into else 'out of'} {unit_id}",
        fields=(
            TextField("tag_text", "Out of unit" if into else "Into unit", takes=TAG, hint=hint),
            name,
            NumberField("worth_text", "It is worth", like=MONEY, hint="suggests the cost"),
            cost,
            *rest,
        ),
        send="Move it",
        known=SUGGESTS,
        watches=("worth_text", "tag_text"),
        looks_up=suggest,
        does=take,
        asks=(KnownAlready, WhichDrive),
        says=str,
    )


@form
def swap_parts_form(unit_id: int, tag: str) -> FormOf[bool]:
    """A like part changed between two units in one step: this unit is A, the other one B.

    A drive moves along, its wipes with it; which one is asked.
    """

    def swap(filled: Filled) -> str:
        other = unit_by_tag(filled.desk, filled.typed.pop("tag_text").strip())
        return swapped_words(use_cases.parts.swap_parts(filled.desk, unit_id, other, **filled.typed))

    return FormOf(
        heading=f"Swap a part of {tag} with another unit",
        draft=f"swap parts {unit_id}",
        fields=(
            TextField("tag_text", "With unit", takes=TAG, hint="its tag"),
            TextField("name", "Part", hint="such as drive, memory"),
            NumberField("cost_a_text", "Cost it gives", like=MONEY, hint=f"out of {tag}"),
            TextField("serial_a", "Its serial", takes=SERIAL, hint="a drive moves by it"),
            NumberField("cost_b_text", "Cost it gets", like=MONEY, hint="out of the other unit"),
            TextField("serial_b", "The other's", takes=SERIAL, hint="serial number of the part that comes"),
            TextField("note", "Note"),
        ),
        send="Swap",
        does=swap,
        asks=(WhichDrive,),
        says=str,
    )
