"""The parts of a unit: bought for it, out of other units, given away, swapped; their cost goes along."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial

from textual.widget import Widget

from bench.dashboard.acts.act import call
from bench.dashboard.doing import say
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.part_rows import moved_words, parts_head
from bench.dashboard.screens.document import Document, label_document
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.parts import PartMoved
from bench.errors import BenchError, WhichDrive
from bench.views.kinds import context_of
from bench.views.parts import PartLine, UnitParts, read_parts
from bench.views.tables.parts import IN_IT, PARTS, parts_of

ASK_WHICH_DRIVE = "bench.dashboard.screens.dialogs.asking:ask_which_drive"
EDIT_PART = "bench.dashboard.screens.dialogs.part_forms:edit_part_form"


class PartsScreen(Sheet[UnitParts]):
    """One table; Enter sets a part right."""

    keys = "parts"

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """All that came and went; what is in it now."""
        own = self.bench.own_keys
        fit, take = key_shown("parts.fit", own), key_shown("parts.take_in", own)
        none = f"No part came or went. {fit} fits a bought one, {take} one out of another unit."
        yield RowTable(replace(PARTS, empty=none), id="rows")
        yield RowTable(IN_IT, id="in_it")

    def read(self) -> Callable[[], UnitParts]:
        """The parts, and the cost still on the unit."""
        desk, unit_id = self.desk, self.unit_id

        return lambda: read_parts(desk, unit_id)

    def show(self, facts: UnitParts) -> None:
        """The parts."""
        self.query_one("#head", LinesPanel).show(lambda width: parts_head(facts, width))
        self.table("rows").fill(parts_of(facts), context_of(facts))
        self.table("in_it").fill(facts.in_it, context_of(facts))

    def unit_here(self) -> UnitParts | None:
        """The unit with its parts."""
        return self.facts

    def part_here(self) -> PartLine | None:
        """The part under the cursor."""
        table = self.current_table() or self.table("rows")
        key = table.key
        lines = self.facts.lines if self.facts else ()
        return next((one for one in lines if one.part_id == key), None)

    def document_here(self) -> Document | None:
        """The label of the part under the cursor."""
        return label_document(self.part_here())

    def open_row(self) -> None:
        """Set the part right."""
        part = self.part_here()
        if part is not None and self.facts is not None:
            self.open_screen(EDIT_PART, part, self.facts.currency)

    def fit(self, part_id: int, drive_id: int | None = None) -> None:
        """Fit a part from the shelf; which of the drives on record it is may be asked on the way."""

        def then(moved: PartMoved) -> None:
            say(self.app, moved_words(moved))

        def failed(error: BenchError) -> bool:
            if isinstance(error, WhichDrive):
                call(ASK_WHICH_DRIVE, self, error, partial(self.fit, part_id))
            return isinstance(error, WhichDrive)

        self.run_use_case(
            "bench.work.parts:fit_from_shelf",
            part_id,
            self.unit_id,
            drive_id=drive_id,
            then=then,
            failed=failed,
        )
