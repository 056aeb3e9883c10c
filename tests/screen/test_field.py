"""A field as it is drawn: label beside the control, words behind it, the sentence of what is wrong below."""

from __future__ import annotations

from textual.containers import Vertical

from bench.dashboard.presenters.parts import Part
from bench.dashboard.screens.dialogs.field import Field, NoteField
from bench.dashboard.screens.dialogs.hold import HoldDialog
from bench.dashboard.screens.dialogs.restock import RestockDialog
from bench.desk import Desk
from tests.screen.host import opened, settled
from tests.screen.waiting import text_of
from tests.screen.workshop import new_unit

SENTENCE = "The reason is empty. Say what the unit waits for, in a word or two: the next person reads it."


async def test_a_sentence_stands_below_its_control_and_goes(desk: Desk) -> None:
    async with opened(desk, HoldDialog(new_unit(desk), "10014")) as (app, pilot):
        field = app.screen.query_one(Field)
        assert text_of(field).split() == ["Reason"]
        field.say(SENTENCE)
        await settled(pilot)
        first, *below = text_of(field).splitlines()
        assert first.split() == ["Reason"]
        assert " ".join(" ".join(below).split()) == SENTENCE
        assert {line[: field.label_cells].strip() for line in below} == {""}, "beside the label's column"
        assert field.size.height == 1 + len(below)
        field.say("")
        await settled(pilot)
        assert field.size.height == 1


async def test_a_sentence_stands_below_all_lines_of_a_note(desk: Desk) -> None:
    async with opened(desk, HoldDialog(new_unit(desk), "10014")) as (app, pilot):
        note = NoteField("more", "More")
        await app.screen.query_one("#body", Vertical).mount(note)
        note.say("Too long.")
        await settled(pilot)
        lines = text_of(note).splitlines()
        assert [line.strip() for line in lines] == ["More", "", "", "Too long."]


async def test_words_stand_behind_the_control_in_their_look(desk: Desk) -> None:
    async with opened(desk, RestockDialog()) as (app, pilot):
        form = app.screen
        assert isinstance(form, RestockDialog)
        field = form.field("quantity_text")
        field.tell(Part("[b]ml[/b]", "warning"))
        await settled(pilot)
        assert text_of(field).rstrip().endswith(" [b]ml[/b]")
        assert field.painted(field.size.width)[0][-1] == Part("[b]ml[/b]", "warning")
        control = next(iter(field.children))
        assert control.region.right <= field.region.right - len(" [b]ml[/b]")
        assert field.region.x + field.label_cells == control.region.x
