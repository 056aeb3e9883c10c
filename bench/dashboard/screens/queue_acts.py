"""What is done to the rows of the first screen: units are marked, and copied from, as are tasks and stock."""

from __future__ import annotations

from typing import Any

from bench.dashboard.presenters.choices import Marked, marked
from bench.dashboard.presenters.queue_order import order_words
from bench.dashboard.presenters.rows import Row, rows_of
from bench.dashboard.screens.filtering import COLUMNS
from bench.dashboard.screens.row_acts import Copyable, RowActs
from bench.dashboard.widgets.queue_list import QueueList, QueueNames
from bench.dashboard.widgets.safety_panel import StockPanel
from bench.dashboard.widgets.tasks_panel import TasksPanel
from bench.views.columns import Table
from bench.views.kinds import PLAIN, context_of
from bench.views.queue import QueueRow


class QueueActs(RowActs):
    """Mixed into the first screen."""

    def marked_units_here(self) -> Marked | None:
        """The units that are marked in the queue."""
        return marked(tuple(row.unit_id for row in self._marked()), "unit")

    def marked_on_hold_here(self) -> Marked | None:
        """The same where all of them are on hold."""
        rows = self._marked()
        on_hold = all(row.held is not None for row in rows)
        return marked(tuple(row.unit_id for row in rows), "unit") if on_hold else None

    def unmark(self) -> None:
        """Take the marks off the queue."""
        self.query_one(QueueList).unmark()
        self.tell_marks()

    def filter_changed(self) -> None:
        """The marks that count are those that are seen."""
        self.tell_marks()

    def prepare_queue(self) -> None:
        """Have the queue sorted as the person has it."""
        queue = self.query_one(QueueList)
        queue.set_arrangement(self.bench.table_choices.of(queue.table.name))
        self.query_one(QueueNames).order = order_words(queue.arrangement)

    def action_columns(self) -> None:
        """Choose by what the units of each stage are sorted."""
        self.open_screen(COLUMNS, self.query_one(QueueList))

    def on_queue_list_arranged(self) -> None:
        """Keep how a person has it."""
        queue = self.query_one(QueueList)
        self.bench.table_choices.keep(queue.table.name, queue.arrangement)
        self.query_one(QueueNames).order = order_words(queue.arrangement)

    def mark_row(self) -> bool:
        """Mark the unit under the cursor; the panels beside the queue have no marks."""
        queue = self.query_one(QueueList)
        marked_it = queue.has_focus and queue.mark_here()
        self.tell_marks()
        return marked_it

    def copies(self) -> tuple[Copyable, ...]:
        """Of the panel that has the focus, and of the unit under the cursor."""
        from bench.dashboard.screens import copying

        rows, table = self._shown_rows()
        unit, several = self.query_one(QueueList).row, [(row.unit_id, row.tag) for row in self._marked()]
        of_units: tuple[Copyable, ...] = ()
        if len(several) > 1:
            of_units = copying.copies_of_units(several)
        elif unit is not None:
            of_units = copying.copies_of_unit(*(several[0] if several else (unit.unit_id, unit.tag)))
        return (*copying.copies_of_rows(table, rows), *of_units)

    def _marked(self) -> tuple[QueueRow, ...]:
        return tuple(row for row in self.query_one(QueueList).marked if isinstance(row, QueueRow))

    def tell_marks(self) -> None:
        """Say over the queue how many units are marked."""
        self.query_one(QueueNames).marked = len(self._marked())

    def _shown_rows(self) -> tuple[tuple[Row, ...], Table[Any]]:
        """What is marked or under the cursor of the panel that has the focus, as rows of its table."""
        from bench.views.tables.queue import QUEUE
        from bench.views.tables.stock import STOCK
        from bench.views.tables.tasks import TASKS

        queue, tasks = self.query_one(QueueList), self.query_one(TasksPanel)
        stock = self.query_one(StockPanel)
        table: Table[Any]
        records: tuple[object, ...]
        if tasks.has_focus:
            table, records = TASKS, (tasks.task_line,)
        elif stock.has_focus:
            table, records = STOCK, (stock.current,)
        else:
            table, records = QUEUE, self._marked() or (queue.row,)
        shop = queue.view.shop if queue.view is not None else None
        context = context_of(shop, self.desk.clock.now_us()) if shop is not None else PLAIN
        there: list[Any] = [one for one in records if one is not None]
        return tuple(rows_of(table, there, context)), table
