"""A field as it is drawn: label beside the control, words behind it, the sentence of what is wrong below."""

from __future__ import annotations

from textual.containers import Vertical
from textual.geometry import Region

from bench.dashboard.presenters.pieces import Part
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.stock_forms import restock_form
from bench.dashboard.screens.dialogs.text_fields import NoteField
from bench.dashboard.screens.dialogs.unit_forms import hold_form
from bench.dashboard.widgets.looks import look_style
from bench.desk import Desk
from tests.screen.host import opened, runs, settled
from tests.screen.workshop import new_unit

SENTENCE = "The reason is empty. Say what the unit waits for, in a word or two: the next person reads it."


async def test_a_sentence_stands_below_its_control_and_goes(desk: Desk) -> None:
    async with opened(desk, hold_form(new_unit(desk), "10014")) as (app, pilot):
        field = app.screen.query_one(Field)
        assert field.lines()[0].split()[0] == "Reason"
        field.say(SENTENCE)
        await settled(pilot)
        first, *below = field.lines()
        assert first.split()[0] == "Reason"
        assert " ".join(" ".join(below).split()) == SENTENCE
        assert {line[: field.label_cells].strip() for line in below} == {""}, "beside the label's column"
        assert field.outer_size.height == 1 + len(below)
        field.say("")
        await settled(pilot)
        assert field.outer_size.height == 1


async def test_a_sentence_stands_below_all_lines_of_a_note(desk: Desk) -> None:
    async with opened(desk, hold_form(new_unit(desk), "10014")) as (app, pilot):
        note = NoteField("more", "More")
        await app.screen.query_one("#body", Vertical).mount(note)
        note.say("Too long.")
        await settled(pilot)
        lines = note.lines()
        assert [line.strip() for line in lines] == ["More", "", "", "Too long."]


async def test_words_stand_behind_the_control_in_their_look(desk: Desk) -> None:
    async with opened(desk, restock_form()) as (app, pilot):
        form = app.screen
        assert runs(form, restock_form)
        field = form.field("quantity_text")
        field.tell(Part("[b]ml[/b]", "warning"))
        await settled(pilot)
        assert field.lines()[0].endswith("[b]ml[/b]")
        (line,) = field.render_lines(Region(0, 0, *field.outer_size))
        (tail,) = [segment for segment in line if segment.text == "[b]ml[/b]"]
        assert tail.style is not None
        assert tail.style.color == look_style(field, "warning").color
        assert field.content_region.right < field.region.right - len(" [b]ml[/b]")
        assert field.region.x + field.label_cells + 1 == field.content_region.x
