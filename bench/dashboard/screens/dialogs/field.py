"""A field of a form: one widget that takes the keys, its label, and the sentence of what is wrong with it."""

from __future__ import annotations

from abc import abstractmethod
from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from textual.geometry import Region, Spacing
from textual.strip import Strip
from textual.widget import Widget

from bench.dashboard.presenters.pieces import Line as Painting
from bench.dashboard.presenters.pieces import Part, fit, wrap
from bench.dashboard.widgets.painted import strip_of
from bench.dashboard.widgets.steady import Steady

# What a scan in a field means: text, nothing (a number is not scanned), or the code the field waits for.
TEXT, NUMBER, TAG, SERIAL, CODE, CONSUMABLE = "text", "number", "tag", "serial", "code", "consumable"

# Of a field's label, where its screen says nothing else as `label_cells`. A screen's `tail_cells`: the room
# kept behind every control.
LABEL_CELLS = 17
LEAST_BESIDE = 36  # cells that a sentence needs to stand beside the label's column and not under it


class Field(Steady):
    """One field. Its value is text, so that it can be kept as a draft; an error names the field it is of.

    The widget's content is where one types or chooses; the label stands in the padding before it, the words
    behind it in the one after, the sentence in the one below. In a row it has a label as wide as it says
    itself, and its sentence is the dialog's to say.
    """

    DEFAULT_CSS = """
    Field { height: 1; padding: 0 1 0 18; background: $boost; }
    Field:focus { background: $primary 15%; }
    Field.wrong { background: $error 15%; }
    """
    ALLOW_SELECT = False
    takes = TEXT
    control_lines = 1
    own_label_cells: int | None = None  # as a cell of a row
    most_cells = 0  # that the control may have; 0: all there are
    value: str

    def __init__(self, name: str, label: str, **widget: Any) -> None:
        super().__init__(id=f"field-{name}", classes="control", **widget)
        self.field_name = name
        self.label = label
        self.started_as = ""
        self.said = ""
        self.tail = Part("")
        self._drawn: dict[int, tuple[Strip, int, str, Part, Strip]] = {}

    @property
    def is_cell(self) -> bool:
        """Whether it stands in a row beside others."""
        return self.own_label_cells is not None

    @property
    def control(self) -> Widget:
        """What has the focus while one types here."""
        return self

    @property
    def given(self) -> Any:
        """What the use case is handed; BadInput where it must not be empty and is."""
        return self.value

    @abstractmethod
    def put(self, value: str) -> None:
        """Put a value into the field."""

    def start(self, value: str) -> None:
        """Give the value that the file holds; what was typed meanwhile stays."""
        untouched = not self.changed
        self.started_as = value
        if untouched:
            self.put(value)
            self.select()

    def select(self) -> None:
        """Have the next character replace what stands in the field, where it has the focus."""

    @property
    def changed(self) -> bool:
        """Whether a person has typed something else than it started with."""
        return self.value != self.started_as

    def take_focus(self) -> None:
        """Have the next key go to this field, unless it has gone meanwhile or a list of it has the keys."""
        if self.is_attached and self.control.is_attached and not self._has_the_keys:
            self.screen.set_focus(self.control)

    @property
    def _has_the_keys(self) -> bool:
        focused = self.screen.focused
        return focused is not None and self in focused.ancestors

    def tell(self, part: Part) -> None:
        """Put some words behind the control, in the look they have."""
        self.tail = part
        self._make_room()
        self.refresh()

    def say(self, sentence: str) -> None:
        """Put a sentence of what is wrong under the field; an empty one takes it away."""
        if sentence != self.said:
            self.said = sentence
            self.set_class(self.is_cell and bool(sentence), "wrong")
            self._drawn.clear()
            self._make_room()
            self.refresh()

    @property
    def label_cells(self) -> int:
        """The cells of the label."""
        return self.styles.padding.left - 1

    def on_mount(self) -> None:
        """As much room around the control as the screen wants."""
        self._make_room()

    def on_resize(self) -> None:
        """The sentence may be broken elsewhere."""
        self._make_room()

    def on_focus(self) -> None:
        """Show that the next key goes here."""
        self.refresh()

    def on_blur(self) -> None:
        """Show that it does not."""
        self.refresh()

    def render_lines(self, crop: Region) -> list[Strip]:
        """The control's lines with what stands around them."""
        width = self.outer_size.width
        strips = super().render_lines(Region(0, crop.y, width, crop.height))
        lines = [self._around(y, strip, width) for y, strip in zip(crop.line_range, strips, strict=False)]
        return lines if crop.width == width else [line.crop(crop.x, crop.right) for line in lines]

    def lines(self) -> list[str]:
        """All that it shows."""
        return [strip.text.rstrip() for strip in self.render_lines(Region(0, 0, *self.outer_size))]

    def _around(self, y: int, strip: Strip, width: int) -> Strip:
        look = "running" if self.control.has_focus else "muted"
        before = self._drawn.get(y)
        if before is not None and before[0] is strip and before[1:4] == (width, look, self.tail):
            return before[4]
        line = self._line(y, strip, width, look)
        self._drawn[y] = (strip, width, look, self.tail, line)
        return line

    def _line(self, y: int, strip: Strip, width: int, look: str) -> Strip:
        below = y - self.control_lines
        if below >= 0:
            sentence = self._sentence(width)
            return Strip(self._beside(sentence[below] if below < len(sentence) else (), width), width)
        label_cells, behind = self.label_cells, self.styles.padding.right - 1
        label = (Part(fit(self.label, label_cells - 1), look),) if y == 0 and label_cells else ()
        tail = (Part(" "), self.tail) if y == 0 else ()
        middle = strip.crop(label_cells, width - behind)
        return Strip([*self._beside(label, label_cells), *middle, *self._beside(tail, behind)], width)

    def _beside(self, line: Painting, width: int) -> list[Segment]:
        parent = self.parent if isinstance(self.parent, Widget) else self
        return [*strip_of(parent, line, width)] if width else []

    def _sentence(self, width: int) -> list[Painting]:
        beside = self.label_cells if width - self.label_cells >= LEAST_BESIDE else 2
        indent = Part(" " * beside)
        return [(indent, Part(line, "alert")) for line in wrap(self.said, width - beside)]

    def _make_room(self) -> None:
        if not self.is_attached:
            return
        width = self.outer_size.width
        label_cells = self.own_label_cells
        if label_cells is None:
            label_cells = getattr(self.screen, "label_cells", LABEL_CELLS)
        words = cell_len(self.tail.text) + 1 if self.tail.text else 0
        behind = max(words, getattr(self.screen, "tail_cells", 0))
        if self.most_cells and width:
            behind = max(behind, width - label_cells - self.most_cells)
        below = len(self._sentence(width)) if self.said and width and not self.is_cell else 0
        room = Spacing(0, behind + 1, below, label_cells + 1)
        if self.styles.padding != room:
            self._drawn.clear()
            self.styles.padding = room
            self.styles.height = self.control_lines + below
