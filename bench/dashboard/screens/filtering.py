"""The line in which a table is filtered, and how a person has the tables of a screen."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from textual.containers import Horizontal
from textual.widget import Widget
from textual.widgets import Input, Label

from bench.dashboard.doing import say
from bench.dashboard.screens.row_acts import Copyable, RowActs
from bench.dashboard.widgets.jump_box import FilterBox
from bench.dashboard.widgets.row_table import RowTable

COLUMNS = "bench.dashboard.screens.dialogs.choose_columns:ColumnsDialog"
NO_TABLE = "There is no table here."


class Tables(RowActs):
    """Mixed into the screens of tables. The class `-finding` shows the line that is typed into."""

    _filtered: RowTable | None = None  # the table that the line is of

    def filter_line(self) -> Iterable[Widget]:
        """The line, as on the first screen."""
        yield Horizontal(
            Label("filter", id="filter-label"), FilterBox("words of a line", id="filter"), id="find"
        )

    def prepare_tables(self) -> None:
        """Have every table as the person has it."""
        for table in self.query(RowTable):
            arrangement = self.bench.table_choices.of(table.table.name)
            if arrangement != table.arrangement:
                table.set_arrangement(arrangement)

    def current_table(self) -> RowTable | None:
        """The table that the next key goes to; None while another panel has it."""
        return next((one for one in self.query(RowTable) if one.is_current), None)

    def table_meant(self) -> RowTable | None:
        """That table, or the one that is being filtered, else the one of which there is no other."""
        if isinstance(self.screen.focused, FilterBox):
            return self._filtered
        tables = [one for one in self.query(RowTable) if one.rows.can_focus]
        return self.current_table() or (tables[0] if len(tables) == 1 else None)

    def mark_row(self) -> bool:
        """Mark the row under the cursor of the table."""
        table = self.current_table()
        return table is not None and table.mark_here()

    def unmark(self) -> None:
        """Take all marks off."""
        for table in self.query(RowTable):
            table.unmark()

    def copies(self) -> tuple[Copyable, ...]:
        """Of the table, of the unit that it is about, and of the document that can be saved."""
        from bench.dashboard.screens.copying import copies_of_document, copies_of_rows, copies_of_unit

        found: tuple[Copyable, ...] = ()
        table = self.table_meant()
        if table is not None:
            rows = table.rows.items
            found = copies_of_rows(table.table, table.chosen, rows, hidden=table.hidden_places)
        document, unit = self._if_here("document"), self._if_here("unit")
        if document is not None:
            found += copies_of_document(document)
        unit_id, tag = getattr(unit, "unit_id", None), getattr(unit, "tag", None)
        if isinstance(unit_id, int) and isinstance(tag, str):
            found += copies_of_unit(unit_id, tag)
        return found

    def action_filter(self) -> None:
        """Type what the table is to be narrowed to."""
        table = self.table_meant()
        if table is None:
            say(self.app, NO_TABLE)
            return
        self._filtered = table
        box = self.query_one(FilterBox)
        with box.prevent(Input.Changed):
            box.value = table.filter_text
        title = str(table.title).casefold()
        self.query_one("#filter-label", Label).update(f"filter {title}".rstrip())
        self.add_class("-finding")
        self.screen.set_focus(box)

    def action_columns(self) -> None:
        """Choose by which column it is sorted, and which are shown."""
        table = self.table_meant()
        if table is None:
            say(self.app, NO_TABLE)
        else:
            self.open_screen(COLUMNS, table)

    def cleared(self) -> bool:
        """Take away what was selected, filtered or marked in the table; False where nothing was."""
        table = self.table_meant()
        if self.screen.selections:
            self.screen.clear_selection()
        elif table is not None and table.filter_text:
            self._filter(table, "")
        elif table is not None and table.rows.marked:
            table.unmark()
        else:
            return False
        return True

    # Handlers here go by their names: the framework sees `@on` only in classes of its own.

    def on_input_changed(self, event: Input.Changed) -> None:
        """Filter as one types."""
        if isinstance(event.input, FilterBox) and self._filtered is not None:
            self._filtered.filter_by(event.value)

    def on_filter_box_done(self) -> None:
        """Go to the table and keep the filter."""
        self._leave_line()

    def on_filter_box_emptied(self) -> None:
        """Show every line."""
        if self._filtered is not None:
            self._filter(self._filtered, "")

    def on_row_table_arranged(self, event: RowTable.Arranged) -> None:
        """Keep how a person has it."""
        table = event.source
        self.bench.table_choices.keep(table.table.name, table.arrangement)

    def _if_here(self, what: str) -> Any:
        """As `here`; None too on a screen that is about no such thing."""
        return self.here(what) if hasattr(self, f"{what}_here") else None

    def _filter(self, table: RowTable, typed: str) -> None:
        table.filter_by(typed)
        if table is self._filtered:
            box = self.query_one(FilterBox)
            with box.prevent(Input.Changed):
                box.value = typed
            self._leave_line()

    def _leave_line(self) -> None:
        if self._filtered is not None:
            if isinstance(self.screen.focused, FilterBox):
                self._filtered.take_focus()
            self.set_class(bool(self._filtered.filter_text), "-finding")
