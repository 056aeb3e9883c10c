"""Fields in which one types: a line, a number, a note of several lines."""

from __future__ import annotations

from collections.abc import Iterable

from rich.style import Style
from textual.app import ComposeResult
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, TextArea
from textual.widgets.input import Selection

from bench.dashboard.screens.dialogs.field import NUMBER, TEXT, Field
from bench.dashboard.widgets.looks import look_style
from bench.dashboard.widgets.steady import Steady
from bench.domain.dates import DAY_WORDS, WEEKDAY_WORDS

# The looks of what the framework gives each of its inputs styles of its own for: one set for the whole app.
LOOKS_OF = {
    "input--cursor": "caret",
    "input--selection": "selected",
    "input--placeholder": "placeholder",
    "input--suggestion": "placeholder",
    "text-area--cursor": "caret",
    "text-area--selection": "selected",
}


class Looked(Widget):
    """Takes the looks of cursor, selection and hint from the app, instead of working out its own."""

    def get_component_rich_style(
        self, *names: str, partial: bool = False, default: Style | None = None
    ) -> Style:
        """The look of one of them."""
        del partial, default
        look = LOOKS_OF.get(names[0])
        return look_style(self, look) if look is not None else Style.null()


class TextField(Field, Looked, Input, can_focus=True):
    """One line of text. Entering it selects what stands there.

    `hint` shows while nothing is typed; `takes`: what a scan in it means.
    """

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
        super().__init__(name, label, placeholder=hint, restrict=restrict)
        self.takes = takes
        self.started_as = value
        self.set_reactive(Input.value, value)
        self.set_reactive(Input.selection, Selection.cursor(len(value)))

    def on_mount(self) -> None:
        """A value longer than the field can be scrolled."""
        self.virtual_size = Size(self.content_width, 1)

    def put(self, value: str) -> None:
        """Put a value into the field, the cursor at its end."""
        self.value = value
        self.cursor_position = len(value)

    def select(self) -> None:
        """Have the next character replace what stands in the field, where it has the focus."""
        if self.has_focus:
            self.select_all()

    def hint(self, text: str) -> None:
        """What shows while nothing is typed."""
        self.placeholder = text

    def validate(self, value: str) -> None:
        """Nothing is wrong before the use case says so."""


class NumberField(TextField):
    """A number, a day or a time: nothing else can be typed or scanned into it. `like`: one of NUMBERS."""

    class Restricted(Message):
        """In a cell, which has no room for it: what cannot stand there."""

        def __init__(self, sentence: str) -> None:
            self.sentence = sentence
            super().__init__()

    def __init__(self, name: str, label: str, *, like: str, hint: str = "", value: str = "") -> None:
        super().__init__(name, label, hint=hint, value=value, takes=NUMBER, restrict=NUMBERS[like])
        self.like = like

    def restricted(self) -> None:
        """Say what cannot stand here, instead of ringing the bell."""
        sentence = f"{self.label} is {self.like}: {MADE_OF[self.like]}."
        self.say(sentence)
        if self.is_cell:
            self.post_message(self.Restricted(sentence))


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


class Note(Looked, TextArea, Steady, can_focus=True):
    """The lines of a note. An arrow at their edge leads on, as in any other field."""

    def watch_virtual_size(self, size: Size) -> None:
        """Fewer lines than before are not scrolled past their end; more are all drawn."""
        self._scroll_update(size)
        self.refresh()

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

    DEFAULT_CSS = """
    NoteField { height: 3; }
    NoteField Note { width: 1fr; height: 3; background: transparent; }
    NoteField:focus-within { background: $primary 15%; }
    """
    control_lines = 3

    def __init__(self, name: str, label: str, *, lines: int = 3) -> None:
        super().__init__(name, label)
        self.control_lines = lines
        self.styles.height = lines
        self._area = Note(compact=True, highlight_cursor_line=False)
        self._area.styles.height = lines

    def compose(self) -> ComposeResult:
        """An area of several lines."""
        yield self._area

    @property
    def control(self) -> Widget:
        """The area."""
        return self._area

    @property
    def value(self) -> str:
        """What stands in the field."""
        return self._area.text

    @value.setter
    def value(self, value: str) -> None:
        self._area.text = value

    def put(self, value: str) -> None:
        """Put a value into the field."""
        self._area.text = value

    def on_descendant_focus(self) -> None:
        """Show that the next key goes here."""
        self.refresh()

    def on_descendant_blur(self) -> None:
        """Show that it does not."""
        self.refresh()
