"""The manual on the screen: the page for where one stands, the list of pages, and finding words in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Input

from bench.dashboard.presenters.manual_lines import PageLines, holds, page_lines
from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.presenters.rows import Row, cell, room
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.text_finder import TextFinder
from bench.manual.pages import TOPICS, Page, read_page
from bench.views.columns import Table

PAGES = Table[Page]("manual", "Pages", (room("", 20, grow=1),))
Place = tuple[int, int]  # a page's number and its block's


class ManualScreen(Sheet[tuple[Page, ...]]):
    """One page at a time. `place`: the topic it opens at, and behind # the heading."""

    keys = "manual"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "manual.tcss"]
    AUTO_FOCUS = "#text"

    def __init__(self, place: str) -> None:
        super().__init__()
        self.topic, _, self.heading = place.partition("#")
        self.sought = ""
        self.at: Place | None = None  # of the last place found
        self._made = PageLines((), ())
        self._gone_to = (0, 0)  # the block that was last gone to, and the line that it began at

    def panels(self) -> Iterable[Widget]:
        """The pages, and the text of one."""
        yield RowTable(PAGES, stays_lit=True, id="pages")
        with Vertical(id="reading"):
            yield TextFinder(id="finder")
            yield LinesScroll(id="text")

    def read(self) -> Callable[[], tuple[Page, ...]]:
        """Every page: they are files of the program and short."""
        return lambda: tuple(read_page(topic) for topic in TOPICS)

    def show(self, facts: tuple[Page, ...]) -> None:
        """The pages, and the one that is open."""
        self.table("pages").show([Row(page.topic, (cell(page.title),)) for page in facts], at=self.topic)
        self._show_page()
        self.call_after_refresh(self._go_to_heading)

    @property
    def page(self) -> Page:
        """The page that is open."""
        return read_page(self.topic)

    def open_row(self) -> None:
        """Read the page under the cursor."""
        self._open(str(self.table("pages").key))
        self.set_focus(self.query_one(LinesScroll))

    def action_next_panel(self) -> None:
        """From the text to the list of pages, and back."""
        pages = self.table("pages")
        self.set_focus(self.query_one(LinesScroll) if pages.is_current else pages.rows)

    def action_find(self) -> None:
        """Type what is sought."""
        self.query_one(TextFinder).add_class("shown")
        self.set_focus(self.query_one(TextFinder))

    def action_next_place(self) -> None:
        """On to the next place that has what is sought, on this page or one after it."""
        self._to_next_of(list(self._places()))

    def action_previous_place(self) -> None:
        """Back to the one before."""
        self._to_next_of(list(self._places())[::-1])

    @on(LineList.Moved)
    def _page_under_cursor(self) -> None:
        if self.table("pages").is_current:
            self._open(str(self.table("pages").key))

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        self.sought, self.at = event.value.strip(), None
        self._show_page()
        if self.sought:
            self.action_next_place()

    @on(TextFinder.Next)
    def _next_asked(self) -> None:
        self.action_next_place()

    @on(TextFinder.Left)
    def _finder_left(self) -> None:
        self.query_one(TextFinder).remove_class("shown")
        self.set_focus(self.query_one(LinesScroll))

    def _open(self, topic: str) -> None:
        if topic != self.topic:
            self.topic, self.heading = topic, ""
            self._show_page()
            self._go_to_block(0)

    def _show_page(self) -> None:
        page, sought = self.page, self.sought
        text = self.query_one(LinesScroll)
        text.border_title = page.title

        def lines(width: int) -> tuple[Line, ...]:
            self._made = page_lines(page.blocks, width, sought)
            return self._made.lines

        text.show(lines)
        self._head()

    def _head(self, note: str = "") -> None:
        found = f"  “{self.sought}”" if self.sought else ""
        title = (Part(" Manual", "strong"), Part(f"  {note or self.page.title}{found}", "muted"))
        self.query_one("#head", LinesPanel).show(lambda _width: (title,))

    def _go_to_heading(self) -> None:
        if self.heading:
            self._go_to_block(self.page.index_of(self.heading))

    def _go_to_block(self, block: int) -> None:
        text = self.query_one(LinesScroll)
        if block < len(self._made.starts):
            text.scroll_to(y=self._made.starts[block], animate=False, immediate=True)
        self._gone_to = (block, text.scroll_offset.y)

    @on(LinesScroll.Remade)
    def _remade(self) -> None:
        """Where nobody has scrolled since, the same heading stays at the top: a line may be elsewhere now."""
        block, at = self._gone_to
        if self.query_one(LinesScroll).scroll_offset.y == at:
            self._go_to_block(block)

    def _places(self) -> Iterator[Place]:
        if self.sought:
            for number, topic in enumerate(TOPICS):
                for at, block in enumerate(read_page(topic).blocks):
                    if holds(block, self.sought):
                        yield number, at

    def _to_next_of(self, places: list[Place]) -> None:
        """To the place that follows the last one in this order, else to the first, of this page if any."""
        if not places:
            self._head("not found" if self.sought else "")
            return
        if self.at in places:
            self.at = places[(places.index(self.at) + 1) % len(places)]
        else:
            here = TOPICS.index(self.topic)
            self.at = next((one for one in places if one[0] == here), places[0])
        number, block = self.at
        self._open(TOPICS[number])
        self._head(f"{places.index(self.at) + 1} of {len(places)}")
        self._go_to_block(block)
