"""The register of second-hand goods, and the people in it whose data may be erased."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.presenters.register_rows import (
    erased_words,
    first_page_head,
    line_detail,
    register_head,
)
from bench.dashboard.screens.document import Document
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.desk import Desk
from bench.domain.weeks import local_day
from bench.reports.forms import register_forms
from bench.views.kinds import context_of
from bench.views.parties import PartyLine, read_parties
from bench.views.register import Register, read_register
from bench.views.tables.register import PEOPLE, REGISTER, Person

FIRST_PAGE = 50  # units and people: more than any window shows at once


@dataclass(frozen=True, slots=True, eq=False)  # each was read at another instant: no two are the same
class RegisterFacts:
    """The register, the people, and the day it is. `whole`: not only the first page of both."""

    register: Register
    people: tuple[PartyLine, ...]
    today: date
    whole: bool


class RegisterScreen(Sheet[RegisterFacts]):
    """The lines; all of the one under the cursor; the people."""

    keys = "register"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "register.tcss"]

    def panels(self) -> Iterable[Widget]:
        """The lines, one line in full, the people."""
        yield RowTable(REGISTER, stays_lit=True, id="rows")
        yield LinesPanel(title="The line", id="detail")
        nobody = "Nobody is named."
        yield RowTable(replace(PEOPLE, empty=nobody), id="people")

    def read(self) -> Callable[[], RegisterFacts]:
        """The first page of the register and the people, and from then on all of both."""
        desk, most = self.desk, FIRST_PAGE if self.facts is None else None

        def work() -> RegisterFacts:
            register, people = read_register(desk, most=most), read_parties(desk, most=most)
            whole = most is None or (register.units < most and len(people) < most)
            return RegisterFacts(register, people, local_day(register.read_us, register.zone), whole)

        return work

    def goes_on(self, facts: RegisterFacts) -> bool:
        """After the first page, where there is more."""
        return not facts.whole

    def show(self, facts: RegisterFacts) -> None:
        """Everything on the screen; sums when all of it has been read."""
        head = register_head if facts.whole else first_page_head
        self.query_one("#head", LinesPanel).show(lambda width: head(facts.register, width))
        self.table("rows").fill(facts.register.lines, context_of(facts.register))
        self.table("people").fill(Person(one, facts.today) for one in facts.people)

    def document_here(self) -> Document | None:
        """The register, to be saved: whole or not at all."""
        if self.facts is None or not self.facts.whole:
            return None
        name = f"register-{self.facts.today}.csv"
        return Document("the register", self.facts.register, register_forms(), name)

    def party_here(self) -> PartyLine | None:
        """The person or firm under the cursor."""
        key = self.table("people").key
        people = self.facts.people if self.facts else ()
        return next((one for one in people if one.party_id == key), None)

    def open_row(self) -> None:
        """The unit of the line."""
        key = self.table("rows").key
        if self.table("rows").is_current and isinstance(key, tuple):
            self.open_screen(places.UNIT, key[0])

    @on(LineList.Moved, "#rows RowList")
    def _moved(self) -> None:
        register, line = self.facts.register if self.facts else None, self.table("rows").record
        if register is not None:
            context = self.context_for(register)
            self.query_one("#detail", LinesPanel).show(
                lambda width: line_detail(register, line, context, width)
            )


def erase_party(desk: Desk, party_id: int, reason: str) -> str:
    """Erase the data of one, once their time is over; answers what was done in words."""
    return erased_words(call("bench.work.parties:erase_party", desk, party_id, reason))


def erase_due(desk: Desk, reason: str) -> str:
    """Erase the data of everyone who is due; answers what was done in words."""
    return erased_words(call("bench.work.parties:erase_due", desk, reason))
