"""A field of a form: its label, where one types or chooses, and room for the sentence of what is wrong."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterable, Sequence

from rich.cells import cell_len
from textual import on
from textual.app import ComposeResult
from textual.geometry import Size
from textual.message import Message
from textual.reactive import Reactive
from textual.widget import Widget
from textual.widgets import Input, TextArea

from bench.dashboard.presenters.parts import Line as Painting
from bench.dashboard.presenters.parts import Part, fit, wrap
from bench.dashboard.widgets.painted import Painted
from bench.domain.dates import DAY_WORDS, WEEKDAY_WORDS

# What a scan in a field means: text, nothing (a number is not scanned), or the code the field waits for.
TEXT, NUMBER, TAG, SERIAL, CODE, CONSUMABLE = "text", "number", "tag", "serial", "code", "consumable"

# Of a field's label, where its screen says nothing else as `label_cells`. A screen's `tail_cells`: the room
# kept behind every control.
LABEL_CELLS = 17
LEAST_BESIDE = 36  # cells that a sentence needs to stand beside the label's column and not under it


class Field(Painted):
    """One field. Its value is text, so that it can be kept as a draft; an error names the field it is of.

    The control is a widget; the label beside it, the words behind it and the sentence below are painted.
    """

    DEFAULT_CSS = """
    Field { height: auto; }
    Field .control { width: 1fr; background: $boost; }
    Field .control:focus { background: $primary 25%; }
    Field Input.control { padding: 0 1; }
    Field TextArea.control { height: 3; padding: 0 1; }
    """

    takes = TEXT

    def __init__(self, name: str, label: str) -> None:
        super().__init__(id=f"field-{name}")
        self.field_name = name
        self.label = label
        self.started_as = ""
        self.said = ""
        self.tail = Part("")
        self._control: Widget | None = None
        self._is_current = False

    def compose(self) -> ComposeResult:
        """What takes the keys."""
        self._control = self.control()
        self._make_room(self._control)
        yield self._control

    def paint(self, width: int) -> Sequence[Painting]:
        """The label beside the control, the sentence below it."""
        control = self._control
        if control is None:
            return ()
        look = "running" if self._is_current else "muted"
        label = Part(fit(self.label, self.label_cells - 1), look)
        behind = Part(" " * (control.outer_size.width + 2))
        empty: list[Painting] = [()] * (control.outer_size.height - 1)
        return ((label, behind, self.tail), *empty, *self._sentence(width))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The control's lines and the sentence's."""
        return Widget.get_content_height(self, container, viewport, width) + len(self._sentence(width))

    def on_resize(self) -> None:
        """The control may stand elsewhere."""
        self.repaint()

    @property
    def label_cells(self) -> int:
        """The cells of the label."""
        return int(getattr(self.screen, "label_cells", LABEL_CELLS))

    def _sentence(self, width: int) -> list[Painting]:
        beside = self.label_cells if width - self.label_cells >= LEAST_BESIDE else 2
        indent = Part(" " * beside)
        return [(indent, Part(line, "alert")) for line in wrap(self.said, width - beside)]

    def _make_room(self, control: Widget) -> None:
        words = cell_len(self.tail.text) + 1 if self.tail.text else 0
        behind = max(words, int(getattr(self.screen, "tail_cells", 0)))
        control.styles.margin = (0, behind, 0, self.label_cells)

    @abstractmethod
    def control(self) -> Widget:
        """The widget that takes the keys."""

    @property
    @abstractmethod
    def value(self) -> str:
        """What stands in the field."""

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

    def on_descendant_focus(self) -> None:
        """Show that the next key goes here."""
        self._is_current = True
        self.repaint()

    def on_descendant_blur(self) -> None:
        """Show that it does not."""
        self._is_current = False
        self.repaint()

    def take_focus(self) -> None:
        """Have the next key go to this field, unless it has gone meanwhile."""
        if self.is_attached and self._control is not None and self._control.is_attached:
            self.screen.set_focus(self._control)

    def tell(self, part: Part) -> None:
        """Put some words behind the control, in the look they have."""
        self.tail = part
        if self._control is not None:
            self._make_room(self._control)
        self.repaint()

    def say(self, sentence: str) -> None:
        """Put a sentence of what is wrong under the field; an empty one takes it away."""
        if sentence != self.said:
            self.said = sentence
            self.repaint(layout=True)


class Line(Input):
    """One line of a field. Entering it selects what stands there; what cannot be part of it is said."""

    virtual_size = Reactive(Size(0, 0))  # the framework's lays out the whole screen at every character

    class Barred(Message):
        """A character was typed that cannot stand here."""

    def restricted(self) -> None:
        """Tell the field, instead of ringing the bell."""
        self.post_message(self.Barred())


class TextField(Field):
    """One line of text. `hint` shows while nothing is typed; `takes`: what a scan in it means."""

    def __init__(
        self,
        name: str,
        label: str,
        *,
        hint: str = "",
        value: str = "",
        takes: str = TEXT,
        restrict: str | None = None,
    ) -> None:
        super().__init__(name, label)
        self.takes = takes
        self.started_as = value
        self._input = Line(value, placeholder=hint, compact=True, restrict=restrict, classes="control")

    def control(self) -> Widget:
        """An input of one line."""
        return self._input

    @property
    def value(self) -> str:
        """What stands in the field."""
        return self._input.value

    def put(self, value: str) -> None:
        """Put a value into the field, the cursor at its end."""
        self._input.value = value
        self._input.cursor_position = len(value)

    def select(self) -> None:
        """Have the next character replace what stands in the field, where it has the focus."""
        if self._input.has_focus:
            self._input.select_all()

    def hint(self, text: str) -> None:
        """What shows while nothing is typed."""
        self._input.placeholder = text


class NumberField(TextField):
    """A number, a day or a time: nothing else can be typed or scanned into it. `like`: one of NUMBERS."""

    def __init__(self, name: str, label: str, *, like: str, hint: str = "", value: str = "") -> None:
        super().__init__(name, label, hint=hint, value=value, takes=NUMBER, restrict=NUMBERS[like])
        self.like = like

    @on(Line.Barred)
    def _barred(self, event: Line.Barred) -> None:
        event.stop()
        self.say(f"{self.label} is {self.like}: {MADE_OF[self.like]}.")


WHOLE, AMOUNT, MONEY, SHARE, LENGTH = "a whole number", "an amount", "money", "a share", "a length of time"
FIGURE, DAY, MOMENT = "a figure", "a day", "a time"


def _word(words: Iterable[str]) -> str:
    """A run of letters that may still become one of the words."""
    begun = sorted({word[:length] for word in words for length in range(1, len(word) + 1)})
    return f"(?<![A-Za-z])(?i:{'|'.join(begun)})(?![A-Za-z])"


_LENGTH_WORDS = ("hours", "mins", "minutes")
_MOMENT_WORDS = (*DAY_WORDS, *WEEKDAY_WORDS, *_LENGTH_WORDS, "second", "t", "z")
# Each takes all that its reader takes, and every beginning of it; but no currency before an amount.
NUMBERS = {
    WHOLE: r"[0-9]*",
    AMOUNT: r"([0-9.,][0-9 .,']*[A-Za-z]{0,6} ?)?",
    MONEY: r"([0-9.,][0-9 .,']*[A-Za-z]{0,3} ?)?",
    SHARE: r"[0-9 .,]*%?",
    LENGTH: rf"([0-9]([0-9 :]|{_word(_LENGTH_WORDS)})*)?",
    FIGURE: r"([-+−]? ?([0-9.,][0-9 .,']*([A-Za-z°%\"″”µμ/][A-Za-z°²³23/ ]{0,6})?)?)?",
    DAY: rf" ?([0-9-]*|\+[0-9]*|{_word(DAY_WORDS)}) ?",
    MOMENT: rf"([0-9 :+-]|{_word(_MOMENT_WORDS)})*",
}
MADE_OF = {
    WHOLE: "digits only",
    AMOUNT: "digits, a point or comma, and its unit",
    MONEY: "digits, and a point or comma",
    SHARE: "digits, a point or comma, and %",
    LENGTH: "minutes, such as 90, or 1h30",
    FIGURE: "digits, a point or comma, and its unit",
    DAY: "2026-11-30, today, tomorrow or +14",
    MOMENT: "14:30, yesterday 18:05, mon 18:05 or 2026-11-24 18:05",
}


class Note(TextArea):
    """The lines of a note. An arrow at their edge leads on, as in any other field."""

    def action_cursor_up(self, select: bool = False) -> None:
        """One line up; from the first, to the field before."""
        if select or not self.cursor_at_first_line:
            super().action_cursor_up(select)
        else:
            self.screen.focus_previous()

    def action_cursor_down(self, select: bool = False) -> None:
        """One line down; from the last, to the next field."""
        if select or not self.cursor_at_last_line:
            super().action_cursor_down(select)
        else:
            self.screen.focus_next()


class NoteField(Field):
    """Several lines of text."""

    def __init__(self, name: str, label: str) -> None:
        super().__init__(name, label)
        self._area = Note(compact=True, highlight_cursor_line=False, classes="control")

    def control(self) -> Widget:
        """An area of several lines."""
        return self._area

    @property
    def value(self) -> str:
        """What stands in the field."""
        return self._area.text

    def put(self, value: str) -> None:
        """Put a value into the field."""
        self._area.text = value
