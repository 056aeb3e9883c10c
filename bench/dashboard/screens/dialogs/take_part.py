"""A part taken out of one unit for another one, or for the shelf; its cost goes along."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from textual import on
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from bench.dashboard.doing import say
from bench.dashboard.presenters.part_rows import moved_words
from bench.dashboard.reading import Reading
from bench.dashboard.screens.dialogs.choose_drive import ask_which_drive
from bench.dashboard.screens.dialogs.field import MONEY, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.field import TAG as TAG_SCAN
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.part_form import part_fields
from bench.domain.money import show_money
from bench.errors import BadInput, BenchError, NotFound, WhichDrive

TAG, WORTH = "tag_text", "worth_text"
TYPED = ("name", "cost_text", "serial", "note")
SUGGESTS = "Typing what the part is worth suggests its share of the cost left on its unit."


class TakePart(Form[bool]):
    """`into`: the part comes into this unit; else it leaves it, for the shelf where no tag is typed."""

    send_label = "Move it"

    def __init__(self, unit_id: int, tag: str, *, into: bool) -> None:
        super().__init__(
            f"Part into {tag}" if into else f"Part out of {tag}",
            draft=f"take part {'into' if into else 'out of'} {unit_id}",
        )
        self.unit_id = unit_id
        self.into = into
        self._drives: dict[str, int] = {}
        self._suggesting = Reading(self, self._suggest, self._show)

    def fields(self) -> Sequence[Field]:
        """The other unit, the part, and what it is worth, to work out the cost that goes along."""
        hint = "its tag, also a donor's" if self.into else "its tag; empty: the shelf"
        label = "Out of unit" if self.into else "Into unit"
        name, cost, *rest = part_fields()
        worth = NumberField(WORTH, "It is worth", like=MONEY, hint="suggests the cost")
        return (TextField(TAG, label, takes=TAG_SCAN, hint=hint), name, worth, cost, *rest)

    def body(self) -> Iterable[Widget]:
        """The fields, then the cost that is suggested."""
        yield from super().body()
        yield Static(Content(SUGGESTS), id="known", markup=False)

    def work(self) -> Callable[[], Any]:
        """Move it."""
        desk, unit_id, into, tag = self.desk, self.unit_id, self.into, self.value(TAG).strip()
        typed = {name: self.value(name) for name in TYPED}
        said = self._drives.pop("drive_id", None)
        if into and not tag:
            raise BadInput("Tag of the other unit is empty.", "Type its tag, or scan it.", field=TAG)

        def take() -> str:
            from bench.views.particulars import unit_by_tag
            from bench.work.parts import take_part

            other = unit_by_tag(desk, tag) if tag else None
            giver, taker = (other, unit_id) if into and other is not None else (unit_id, other)
            return moved_words(take_part(desk, giver, to_unit_id=taker, drive_id=said, **typed))

        return take

    def refused(self, error: BenchError) -> bool:
        """Which drive moves is asked over the form; then it is sent again."""
        if not isinstance(error, WhichDrive):
            return super().refused(error)

        def again(drive_id: int) -> None:
            self._drives[error.field] = drive_id
            self.action_send()

        ask_which_drive(self, error, again)
        return True

    def sent(self, result: str) -> None:
        """Say where it went and what is left."""
        say(self.app, result)
        super().sent(result)

    @on(Input.Changed, f"#field-{WORTH} Input")
    @on(Input.Changed, f"#field-{TAG} Input")
    def _worth_typed(self) -> None:
        self._suggesting.ask()

    def _suggest(self) -> Callable[[], str]:
        desk, worth, tag, unit_id = self.desk, self.value(WORTH), self.value(TAG).strip(), self.unit_id
        into = self.into

        def work() -> str:
            from bench.views.particulars import unit_by_tag
            from bench.views.parts import read_part_cost
            from bench.views.shop import read_shop

            if not worth.strip() or (into and not tag):
                return ""
            try:
                giver = unit_by_tag(desk, tag) if into else unit_id
                return show_money(read_part_cost(desk, giver, worth), read_shop(desk).currency)
            except (BadInput, NotFound):  # half a number or half a tag while it is being typed
                return ""

        return work

    def _show(self, cost: str) -> None:
        if cost:
            self.field("cost_text").start(cost)
        words = f"Its share of the cost left: {cost}" if cost else SUGGESTS
        self.query_one("#known", Static).update(Content(words))
