"""A control that shows one of several, and the list of them while one chooses."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.text import Text
from textual import events, on
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.parts import Line as Painting
from bench.dashboard.presenters.parts import Part, fit
from bench.dashboard.widgets.painted import Painted
from bench.domain.text import for_display

FORGOTTEN_SECONDS = 0.7  # after which the next letter begins another word


class Choice(Painted, can_focus=True, inherit_bindings=False):
    """One painted line; the list is there only while one chooses. It leaves the arrows to the form.

    `none`: what stands there while nothing is chosen, and can be chosen; where it is None the first is.
    """

    DEFAULT_CSS = """
    Choice { height: 1; pointer: pointer; }
    Choice ChoiceList {
        width: 1fr;
        height: auto;
        max-height: 12;
        offset-y: 1;
        overlay: screen;
        constrain: none inside;
        background: $panel;
        &.-textual-compact > .option-list--option { padding: 0 1; }
    }
    """
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("choice")
    ALLOW_SELECT = False

    class Changed(Message):
        """Another one is chosen."""

        def __init__(self, choice: Choice) -> None:
            self.choice = choice
            super().__init__()

        @property
        def control(self) -> Choice:
            """The control."""
            return self.choice

    class Made(Message):
        """Someone chose from the list, be it what was chosen already."""

    def __init__(self, choices: Sequence[tuple[str, str]], *, none: str | None, value: str) -> None:
        super().__init__(classes="control")
        self._none = none
        self._choices: dict[str, str] = {}
        self._value = ""
        self._list: ChoiceList | None = None
        self._take(choices, value)

    @property
    def value(self) -> str:
        """The key of the one chosen, empty for none."""
        return self._value

    def choose(self, key: str) -> None:
        """Make a choice; one that is not offered is none, or the first where there must be one."""
        before, self._value = self._value, self._known(key)
        self._tell(before)

    def offer(self, choices: Sequence[tuple[str, str]]) -> None:
        """Give other choices, each a key and what to show for it; none of them is made."""
        before = self._value
        self._take(choices, "")
        self._tell(before)

    def on_mount(self) -> None:
        """What is chosen from the beginning is news to the form."""
        self._tell("")

    def paint(self, width: int) -> Sequence[Painting]:
        """What is chosen, and a mark that there is a list."""
        shown = Part(self._choices[self._value]) if self._value else Part(self._none or "choose", "hint")
        return ((Part(" "), Part(fit(shown.text, width - 4), shown.look), Part(" ▼ ", "hint")),)

    def action_show_overlay(self) -> None:
        """Open the list."""
        if self._list is None:
            keys = list(self._choices) if self._none is None else ["", *self._choices]
            self._list = ChoiceList(
                [(key, self._choices.get(key, self._none or "")) for key in keys], self._value
            )
            self.mount(self._list)
            self.screen.set_focus(self._list, scroll_visible=False)

    def on_click(self, event: events.Click) -> None:
        """The same by mouse."""
        if event.widget is self:
            self.action_show_overlay()

    def close(self, *, focus: bool = True) -> None:
        """Close the list."""
        listed, self._list = self._list, None
        if listed is not None:
            if focus:
                self.screen.set_focus(self)
            listed.remove()

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if self._list is not None:
            self.choose(event.option_id or "")
            self.close()
            self.post_message(self.Made())

    @on(OptionList.OptionHighlighted)
    def _passed_over(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()

    def _take(self, choices: Sequence[tuple[str, str]], value: str) -> None:
        self.close(focus=self._list is not None and self._list.has_focus)
        self._choices = {key: for_display(shown) for key, shown in choices}
        self._value = self._known(value)
        self.repaint()

    def _known(self, key: str) -> str:
        if key in self._choices:
            return key
        return next(iter(self._choices), "") if self._none is None else ""

    def _tell(self, before: str) -> None:
        if self._value != before:
            self.repaint()
            if self.is_attached:
                self.post_message(self.Changed(self))


class ChoiceList(OptionList):
    """The list, over what lies below. Typing goes to the first that begins with it, or else holds it."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "close", show=False)]
    ALLOW_SELECT = False

    def __init__(self, choices: Sequence[tuple[str, str]], chosen: str) -> None:
        super().__init__(compact=True)
        self._choices = choices
        self._chosen = chosen
        self._typed = ""
        self._typed_at = 0.0

    def on_mount(self) -> None:
        """List them, and begin at the one chosen."""
        for key, shown in self._choices:
            self.add_option(Option(Text(shown, style="" if key else "dim"), id=key or None))
        keys = [key for key, _ in self._choices]
        self.highlighted = keys.index(self._chosen) if self._chosen in keys else 0

    def on_key(self, event: events.Key) -> None:
        """Go to what is typed."""
        if event.character is None or not event.is_printable:
            return
        event.stop()
        event.prevent_default()
        begun = "" if event.time - self._typed_at > FORGOTTEN_SECONDS else self._typed
        self._typed, self._typed_at = (begun + event.character).casefold(), event.time
        shown = [words.casefold() for _, words in self._choices]
        beginning = [at for at, words in enumerate(shown) if words.startswith(self._typed)]
        holding = [at for at, words in enumerate(shown) if self._typed in words]
        self.highlighted = next(iter(beginning + holding), self.highlighted)

    def check_consume_key(self, key: str, character: str | None = None) -> bool:
        """Whether it may take the key."""
        del key
        return character is not None and character.isprintable()

    def action_close(self) -> None:
        """Leave it as it was."""
        self._choice().close()

    def on_blur(self) -> None:
        """Someone went elsewhere."""
        self.suppress_click()
        self._choice().close(focus=False)

    def _choice(self) -> Choice:
        assert isinstance(self.parent, Choice)
        return self.parent
