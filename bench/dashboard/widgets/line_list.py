"""A list of lines with a cursor: drawn line by line, so that a hundred thousand cost no more than thirty."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import ClassVar, Generic, TypeVar

from textual import events
from textual.binding import BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.widget import Widget

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.pieces import Line, Part
from bench.dashboard.widgets.painted import DrawnByLine

Item = TypeVar("Item")
MARK = "◆"


class LineList(ScrollView, DrawnByLine, Generic[Item], can_focus=True):
    """Items as lines. Subclasses say how an item is drawn (`line_of`) and which ones the cursor stops at."""

    cursor_stays_lit = False  # whether the cursor shows while another panel has the focus
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("list")

    class Told(Message):
        """News from a list; `source` is the list."""

        def __init__(self, source: Widget) -> None:
            self.source = source
            super().__init__()

        @property
        def control(self) -> Widget:
            """The list it happened in, for selectors."""
            return self.source

    class Moved(Told):
        """The cursor stands at another item, or at none, or its item changed."""

        def can_replace(self, message: Message) -> bool:
            """Only where the cursor came to rest matters."""
            return isinstance(message, LineList.Moved) and message.source is self.source

    class Chosen(Told):
        """A double click on an item."""

    cursor: reactive[int] = reactive(-1, init=False, repaint=False)

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, classes=classes)
        self.items: Sequence[Item] = ()
        self._marks: frozenset[Hashable] = frozenset()

    def line_of(self, item: Item, width: int) -> Line:
        """An item as parts for so many cells."""
        raise NotImplementedError

    def stops_at(self, item: Item) -> bool:
        """Whether the cursor may stand on this item; on every one unless a subclass says otherwise."""
        del item
        return True

    def when_empty(self) -> Line:
        """What the list says while it has no items."""
        return ()

    def mark_key(self, item: Item) -> Hashable:
        """What a mark on this item is kept by; None for one that cannot be marked."""
        del item
        return None

    @property
    def line_width(self) -> int:
        """The cells of a line, the scrollbar apart."""
        return self.scrollable_content_region.width

    @property
    def current(self) -> Item | None:
        """The item under the cursor."""
        return self.items[self.cursor] if 0 <= self.cursor < len(self.items) else None

    def show(self, items: Sequence[Item], cursor: int) -> None:
        """Show these items with the cursor at that index; only visible lines that differ are drawn again."""
        before, self.items = self.items, items
        if len(before) != len(items):
            self.virtual_size = Size(0, len(items))
            self.refresh()
        else:
            for y in self.visible_range:
                if before[y] != items[y]:
                    self.refresh_line(y)
        if cursor == self.cursor:
            self.post_message(self.Moved(self))
        self.cursor = cursor

    @property
    def marked(self) -> tuple[Item, ...]:
        """The items that are marked, in the order in which they are shown."""
        if not self._marks:
            return ()
        return tuple(item for item in self.items if self.mark_key(item) in self._marks)

    def mark_here(self) -> bool:
        """Mark the item under the cursor, or take its mark off, and go on; False where that cannot be."""
        key = self.mark_key(self.current) if self.current is not None else None
        if key is None:
            return False
        self._marks ^= {key}
        self.refresh_line(self.cursor)
        self._step(1)
        return True

    def unmark(self) -> None:
        """Take all marks off."""
        self._marks = frozenset()
        self.refresh()

    def on_resize(self) -> None:
        """Keep the cursor in view."""
        if self.current is not None:
            self._bring_into_view(self.cursor)

    def watch_cursor(self, before: int, after: int) -> None:
        """Draw the two lines concerned and bring the cursor into view."""
        self.refresh_line(before)
        self.refresh_line(after)
        self._bring_into_view(after)
        self.post_message(self.Moved(self))

    def watch_has_focus(self, has_focus: bool) -> None:
        """Light the cursor up or let it rest."""
        super().watch_has_focus(has_focus)
        self.refresh_line(self.cursor)

    def move_to(self, index: int, step: int = 1) -> None:
        """Put the cursor at the index, or where it may stand next in the direction of `step`, or before."""
        found = self._stop_from(index, step)
        if found is not None:
            self.cursor = found

    def action_up(self) -> None:
        """One item up."""
        self._step(-1)

    def action_down(self) -> None:
        """One item down."""
        self._step(1)

    def action_page_up(self) -> None:
        """A screenful up."""
        self.move_to(self.cursor - max(self.size.height - 1, 1), -1)

    def action_page_down(self) -> None:
        """A screenful down."""
        self.move_to(self.cursor + max(self.size.height - 1, 1), 1)

    def action_first(self) -> None:
        """The first item."""
        self.move_to(0, 1)

    def action_last(self) -> None:
        """The last item."""
        self.move_to(len(self.items) - 1, -1)

    def on_click(self, event: events.Click) -> None:
        """A click puts the cursor there; a double click opens."""
        index = event.y + self.scroll_offset.y
        if 0 <= index < len(self.items) and self.stops_at(self.items[index]):
            self.cursor = index
            if event.chain == 2:
                self.post_message(self.Chosen(self))

    def render_line(self, y: int) -> Strip:
        """One line on the screen."""
        index, width = y + self.scroll_offset.y, self.line_width
        if not self.items and y == 0:
            return self.strip_of(self.when_empty(), width)
        if index >= len(self.items):
            return Strip.blank(width, self.rich_style)
        item = self.items[index]
        line, mark = self.line_of(item, width), self._mark_on(item)
        if index != self.cursor or not (self.has_focus or self.cursor_stays_lit):
            strip = self.strip_of((mark or Part(" "), *line), width)
        else:
            strip = self.strip_of(
                (mark or Part("▌" if self.has_focus else " "), *line), width, under="cursor"
            )
        return self.selectable(strip, index)

    def seen_lines(self) -> range:
        """The indexes of the items on the screen now."""
        return self.visible_range

    def text_of(self, line: int) -> str:
        """What that item's line says, but for the cursor and the mark before it."""
        return " " + super().text_of(line)[1:]

    def refresh_cells(self, index: int, x: int, width: int) -> None:
        """Draw again some cells of one line."""
        self.refresh(Region(x, index - self.scroll_offset.y, width, 1))

    @property
    def visible_range(self) -> range:
        """The indexes of the items on the screen now."""
        top = self.scroll_offset.y
        return range(top, min(top + self.size.height, len(self.items)))

    def _mark_on(self, item: Item) -> Part | None:
        key = self.mark_key(item) if self._marks else None
        return Part(MARK, "strong") if key is not None and key in self._marks else None

    def _step(self, step: int) -> None:
        onward = range(self.cursor + step, len(self.items) if step > 0 else -1, step)
        found = next((at for at in onward if self.stops_at(self.items[at])), None)
        if found is None:  # show what lies beyond the edge, such as a heading
            self.scroll_to(y=0 if step < 0 else self.max_scroll_y, animate=False, immediate=True)
        else:
            self.cursor = found

    def _stop_from(self, index: int, step: int) -> int | None:
        if not self.items:
            return None
        start = min(max(index, 0), len(self.items) - 1)
        ways = (range(start, len(self.items)), range(start, -1, -1))
        for way in ways if step > 0 else reversed(ways):
            for at in way:
                if self.stops_at(self.items[at]):
                    return at
        return None

    def _bring_into_view(self, index: int) -> None:
        top, height = self.scroll_offset.y, self.size.height
        first = index
        while first > 0 and not self.stops_at(self.items[first - 1]):
            first -= 1
        if first < top:
            self.scroll_to(y=first, animate=False, immediate=True)
        elif height and index >= top + height:
            self.scroll_to(y=index - height + 1, animate=False, immediate=True)
