"""A field of a form: its label, where one types or chooses, and room for the sentence of what is wrong."""

from __future__ import annotations

from abc import abstractmethod

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static, TextArea

from bench.dashboard.presenters.parts import Part
from bench.domain.text import for_display


class Field(Vertical):
    """One field. Its value is text, so that it can be kept as a draft; an error names the field it is of."""

    def __init__(self, name: str, label: str) -> None:
        super().__init__(id=f"field-{name}", name=name)
        self.field_name = name
        self.label = label
        self.started_as = ""
        self._tail = Static(classes="tail", markup=False)
        self._wrong = Static(classes="wrong", markup=False)

    def compose(self) -> ComposeResult:
        """The label beside the control, the sentence below."""
        with Horizontal(classes="line"):
            yield Static(Content(for_display(self.label)), classes="label")
            yield self.control()
            yield self._tail
        yield self._wrong

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

    @property
    def changed(self) -> bool:
        """Whether a person has typed something else than it started with."""
        return self.value != self.started_as

    def on_descendant_focus(self) -> None:
        """Show that the next key goes here."""
        self.add_class("current")

    def on_descendant_blur(self) -> None:
        """Show that it does not."""
        self.remove_class("current")

    def take_focus(self) -> None:
        """Have the next key go to this field, unless it has gone meanwhile."""
        if self.is_attached:
            for control in self.query(".control"):
                self.screen.set_focus(control)

    def tell(self, part: Part) -> None:
        """Put some words behind the control, in the look they have."""
        self._tail.update(Content(part.text))
        self._tail.set_classes(f"tail {part.look}")

    def say(self, sentence: str) -> None:
        """Put a sentence of what is wrong under the field; an empty one takes it away."""
        self._wrong.update(Content(sentence))
        self._wrong.set_class(bool(sentence), "shown")


class TextField(Field):
    """One line of text. `hint` shows while nothing is typed."""

    def __init__(self, name: str, label: str, *, hint: str = "", value: str = "") -> None:
        super().__init__(name, label)
        self.started_as = value
        self._input = Input(value, placeholder=hint, compact=True, select_on_focus=False, classes="control")

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

    def hint(self, text: str) -> None:
        """What shows while nothing is typed."""
        self._input.placeholder = text


class NoteField(Field):
    """Several lines of text."""

    def __init__(self, name: str, label: str) -> None:
        super().__init__(name, label)
        self._area = TextArea(compact=True, highlight_cursor_line=False, classes="control")

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
