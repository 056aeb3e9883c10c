"""The first screen: the queue, and beside it safety, stock, the week, and the tasks where there is room."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from textual import on
from textual.app import ComposeResult
from textual.geometry import Size
from textual.reactive import reactive
from textual.widgets import Label

from bench.dashboard.doing import show_error
from bench.dashboard.keys import hints_for, key_shown
from bench.dashboard.messages import DataChanged, Tick
from bench.dashboard.presenters.choices import entry_to_stop, task_to_finish
from bench.dashboard.presenters.queue_cells import QueueColumns
from bench.dashboard.presenters.safety_lines import alarmed
from bench.dashboard.presenters.stock_lines import low_words
from bench.dashboard.reading import Reading
from bench.dashboard.screens.drawing import SparingScreen
from bench.dashboard.screens.find_unit import Finding
from bench.dashboard.screens.folding import HEIGHTS, WIDTHS, Folding, classes_at_start
from bench.dashboard.screens.queue_acts import QueueActs
from bench.dashboard.widgets.jump_box import FilterBox, JumpBox
from bench.dashboard.widgets.key_bar import KeyBar
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.queue_list import QueueList, QueueNames
from bench.dashboard.widgets.safety_panel import AlarmBar, SafetyPanel, StockPanel
from bench.dashboard.widgets.steady import SideBySide, Stacked
from bench.dashboard.widgets.tasks_panel import TasksPanel
from bench.dashboard.widgets.top_line import TopLine
from bench.dashboard.widgets.week_chart import WeekBar, WeekPanel
from bench.desk import Desk
from bench.domain.durations import MINUTE_US
from bench.domain.weeks import local_day
from bench.errors import BenchError, NotFound
from bench.views.queue import QueueRow, QueueView, read_queue
from bench.views.stock import StockBook, read_stock
from bench.views.tasks import TaskLine
from bench.views.unit import UnitSheet, read_unit


@dataclass(frozen=True, slots=True)
class FirstReading:
    """The queue, the stock, and the unit under the cursor (None while there is none)."""

    queue: QueueView
    stock: StockBook
    unit: UnitSheet | None


def read_first(desk: Desk, unit_id: int | None) -> FirstReading:
    """All panels. Where no unit is named, or it left the queue: the one the person times, else the first."""
    queue = read_queue(desk)
    if unit_id is None or queue.row(unit_id) is None:
        own = (entry.unit_id for entry in queue.running() if entry.person_id == desk.person_id)
        timed = (unit for unit in own if queue.row(unit) is not None)
        rows = (row.unit_id for stage in queue.stages for row in stage.rows)
        unit_id = next(timed, None) or next(rows, None)
    return FirstReading(queue, read_stock(desk), read_under_cursor(desk, unit_id))


def read_under_cursor(desk: Desk, unit_id: int | None) -> UnitSheet | None:
    """The unit under the cursor; None when there is none or it has just gone."""
    if unit_id is None:
        return None
    try:
        return read_unit(desk, unit_id)
    except NotFound:
        return None


class FirstScreen(QueueActs, Finding, Folding, SparingScreen[None]):
    """One screen beside the mat. `view` is the snapshot shown; its watcher hands it to the panels."""

    keys = "first"
    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    AUTO_FOCUS = "#queue"

    view: reactive[QueueView | None] = reactive(None, init=False, repaint=False)
    unit: reactive[UnitSheet | None] = reactive(None, init=False, repaint=False)

    def __init__(self, size: Size) -> None:
        super().__init__(classes=classes_at_start(size))
        self._go_to: int | None = None
        self._low = ""
        self._everything = Reading(self, self._read_everything, self._show)
        self._one = Reading(self, self._read_one, self._show_unit)

    def compose(self) -> ComposeResult:
        """Everything; the style sheet says what is seen at which size."""
        yield TopLine(id="top")
        yield AlarmBar(id="alarm")
        with SideBySide(id="body"):
            with Stacked(id="left"):
                with SideBySide(id="find"):
                    yield Label("filter", id="filter-label")
                    yield FilterBox("tag, model, task, stage or reason", id="filter")
                    yield Label("tag", id="jump-label")
                    yield JumpBox(id="jump")
                yield QueueNames(id="names")
                yield QueueList(id="queue")
            yield TasksPanel(id="tasks")
            with Stacked(id="side"):
                yield SafetyPanel(id="safety")
                yield StockPanel(id="stock")
                yield WeekPanel(id="week-panel")
        yield WeekBar(id="week")
        yield KeyBar(*hints_for("first", self.bench.own_keys))

    def on_mount(self) -> None:
        """Read once before the first paint; later reads run beside the keys."""
        own = self.bench.own_keys
        queue = self.query_one(QueueList)
        new, clear = key_shown("first.add_unit", own), key_shown("first.clear", own)
        demo = f"{key_shown('first.more', own)} {key_shown('more.demo', own)}"
        empty = "The bench is empty."
        queue.says_when_empty = f"{empty} Press {new} to put the first unit on it, {demo} for a demo."
        queue.says_when_no_match = f"Nothing matches. Press {clear} to see every unit."
        self.watch(queue, "columns", self._align_names)
        self.prepare_queue()
        self._tick(self.desk.clock.now_us())
        try:
            reading = read_first(self.desk, None)
            self._go_to = reading.unit.unit_id if reading.unit else None
            self._show(reading)
        except BenchError as error:
            show_error(self.app, error)

    def watch_view(self, view: QueueView | None) -> None:
        """Hand the snapshot on; each panel draws only what differs."""
        if view is None:
            return
        today = local_day(view.read_us, view.shop.zone)
        self.query_one(TopLine).view = view
        for screen in self.app.screen_stack:
            for bar in screen.query(AlarmBar):
                bar.rows = alarmed(view)
        self.query_one(QueueList).view = view
        self.tell_marks()
        for week in self.query(WeekBar):
            week.days, week.today = view.week, today

    def watch_unit(self, unit: UnitSheet | None) -> None:
        """Show the unit under the cursor beside the queue."""
        self.query_one(SafetyPanel).safety = unit.safety if unit else None
        self.query_one(TasksPanel).show_sheet(unit)

    def unit_here(self) -> QueueRow | None:
        """The unit under the cursor."""
        return self.query_one(QueueList).row

    def consumable_here(self) -> int | None:
        """The consumable under the cursor while the stock panel has the focus."""
        stock = self.query_one(StockPanel)
        return stock.current.consumable_id if stock.has_focus and stock.current else None

    def task_here(self) -> TaskLine | None:
        """The task under the cursor while the tasks panel has the focus."""
        tasks = self.query_one(TasksPanel)
        return tasks.task_line if tasks.has_focus else None

    def held_unit_here(self) -> QueueRow | None:
        """The unit under the cursor where it is on hold."""
        row = self.unit_here()
        return row if row is not None and row.held is not None else None

    def timer_here(self) -> int | None:
        """The time entry that start/stop stops on the unit under the cursor."""
        row = self.unit_here()
        entry = entry_to_stop(row, self.desk.person_id) if row is not None else None
        return entry.entry_id if entry is not None else None

    def to_finish_here(self) -> int | None:
        """The task under the cursor, or the one that runs on the unit, or its next one."""
        task, row = self.task_here(), self.unit_here()
        if task is not None:
            return task.task_id
        return task_to_finish(row, self.desk.person_id) if row is not None else None

    def go_to_unit(self, unit_id: int) -> None:
        """Put the cursor on this unit, now or when it has been read."""
        if not self.query_one(QueueList).go_to_unit(unit_id):
            self._go_to = unit_id

    def act_as(self, person_id: int) -> None:
        """Have someone else act from now on."""
        self.bench.act_as(person_id)

    def action_leave(self) -> None:
        """Quit."""
        self.app.exit(0)

    @on(LineList.Moved, "#queue")
    def _cursor_moved(self) -> None:
        row = self.unit_here()
        if row is None:
            self.unit = None
        elif self.unit is None or self.unit.unit_id != row.unit_id:
            self._one.ask()

    @on(LineList.Chosen)
    def _chosen(self) -> None:
        self.action_act("open_unit")

    @on(WeekBar.Opened)
    def _week_clicked(self) -> None:
        self.action_act("week")

    @on(AlarmBar.Clicked)
    def _alarm_clicked(self, event: AlarmBar.Clicked) -> None:
        self.go_to_unit(event.unit_id)

    @on(DataChanged)
    def _data_changed(self) -> None:
        self._everything.ask()

    @on(Tick)
    def _ticked(self, event: Tick) -> None:
        self._tick(event.now_us)
        if self.view is None:
            return
        rang = self.bench.second_hand.ring(self.view.running(), event.now_us)
        if rang or event.now_us - self.view.read_us >= MINUTE_US:
            self._everything.ask()  # hours, days and due dates move on without anyone writing

    def _align_names(self, columns: QueueColumns) -> None:
        self.query_one(QueueNames).columns = columns

    def _tick(self, now_us: int) -> None:
        self.query_one(TopLine).now_us = now_us
        self.query_one(QueueList).tick(now_us)
        self.query_one(TasksPanel).tick(now_us)

    def _read_everything(self) -> Callable[[], FirstReading]:
        desk, row = self.desk, self.unit_here()
        unit_id = row.unit_id if row else None
        return lambda: read_first(desk, unit_id)

    def _read_one(self) -> Callable[[], UnitSheet | None]:
        desk, row = self.desk, self.unit_here()
        unit_id = row.unit_id if row else None
        return lambda: read_under_cursor(desk, unit_id)

    def _show(self, reading: FirstReading) -> None:
        self.query_one(TopLine).acting_id = self.desk.person_id
        self.view = reading.queue
        self.query_one(StockPanel).show_book(reading.stock)
        self._low = low_words(reading.stock.lines)
        self._name_panels()
        if self._go_to is not None and self.query_one(QueueList).go_to_unit(self._go_to):
            self._go_to = None
        self._show_unit(reading.unit)

    def _show_unit(self, unit: UnitSheet | None) -> None:
        row = self.unit_here()
        if unit is None or row is None or row.unit_id == unit.unit_id:
            self.unit = unit if row is not None else None
        else:
            self._one.ask()  # the cursor has moved on meanwhile
