"""Fields in which one chooses: one of several, from a list that is there only meanwhile; yes or no."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from rich.cells import cell_len
from rich.text import Text
from textual import events, on
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bench.dashboard.keys import bindings_for
from bench.dashboard.presenters.pieces import Part, fit
from bench.dashboard.screens.dialogs.field import TEXT, Field
from bench.dashboard.widgets.painted import strip_of
from bench.domain.text import for_display
from bench.errors import BadInput

FORGOTTEN_SECONDS = 0.7  # after which the next letter begins another word
YES = "yes"
TICKED = "[✓]"
OPEN = "[ ]"


class ChoiceField(Field, can_focus=True):
    """One of several. The value is the key of the choice, empty for none. It leaves the arrows to the form.

    `none`: what stands there while nothing is chosen, and can be chosen; where it is None the first is.
    `ids`: the keys are numbers of rows. `needed`: none will not do.
    """

    DEFAULT_CSS = """
    ChoiceField { pointer: pointer; }
    ChoiceField ChoiceList {
        height: auto;
        max-height: 12;
        offset: -1 1;
        overlay: screen;
        constrain: none inside;
        background: $panel;
        &.-textual-compact > .option-list--option { padding: 0 1; }
    }
    """
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("choice")
    value = reactive("", init=False)

    class Changed(Message):
        """Another one is chosen."""

        def __init__(self, field: ChoiceField) -> None:
            self.field = field
            super().__init__()

        @property
        def control(self) -> ChoiceField:
            """The field."""
            return self.field

    class Made(Message):
        """Someone chose from the list, be it what was chosen already."""

    def __init__(
        self,
        name: str,
        label: str,
        choices: Sequence[tuple[str, str]] = (),
        *,
        none: str | None = "none",
        value: str = "",
        takes: str = TEXT,
        ids: bool = False,
        needed: bool = False,
    ) -> None:
        super().__init__(name, label)
        self.takes = takes
        self.started_as = value
        self._none = none
        self._ids = ids
        self._needed = needed
        self._choices: dict[str, str] = {}
        self._list: ChoiceList | None = None
        self._take(choices)
        self.set_reactive(ChoiceField.value, self.validate_value(value))

    @property
    def given(self) -> Any:
        """The key, or the row's number, None for none; BadInput where one is needed."""
        if self._needed and not self.value:
            what = f"The {self.label.casefold()} is not chosen."
            raise BadInput(what, "Choose from the list.", field=self.field_name)
        if self._ids:
            return int(self.value) if self.value else None
        return self.value

    def put(self, value: str) -> None:
        """Make a choice; one that is not offered is none, or the first where there must be one."""
        self.value = value

    def offer(self, choices: Sequence[tuple[str, str]]) -> None:
        """Give other choices, each a key and what to show for it; none of them is made."""
        self._take(choices)
        self.value = ""
        self.refresh()

    def validate_value(self, key: str) -> str:
        """One that is offered."""
        if key in self._choices:
            return key
        return next(iter(self._choices), "") if self._none is None else ""

    def watch_value(self) -> None:
        """Tell the form."""
        if self.is_attached:
            self.post_message(self.Changed(self))

    def on_mount(self) -> None:
        """What is chosen from the beginning is news to the form."""
        if self.value:
            self.post_message(self.Changed(self))

    def render_line(self, y: int) -> Strip:
        """What is chosen, and a mark that there is a list."""
        width = self.content_size.width
        shown = Part(self._choices[self.value]) if self.value else Part(self._none or "choose", "hint")
        line = (Part(fit(shown.text, width - 2), shown.look), Part(" ▼", "hint"))
        return strip_of(self, line if y == 0 else (), width)

    def action_show_overlay(self) -> None:
        """Open the list."""
        if self._list is None:
            keys = list(self._choices) if self._none is None else ["", *self._choices]
            self._list = ChoiceList(
                [(key, self._choices.get(key, self._none or "")) for key in keys], self.value
            )
            longest = max(map(cell_len, self._choices.values()), default=0) if self.is_cell else 0
            self._list.styles.width = max(self.content_size.width, longest) + 2
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
            self.put(event.option_id or "")
            self.close()
            self.post_message(self.Made())

    @on(OptionList.OptionHighlighted)
    def _passed_over(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()

    def _take(self, choices: Sequence[tuple[str, str]]) -> None:
        self.close(focus=self._list is not None and self._list.has_focus)
        self._choices = {key: for_display(shown) for key, shown in choices}


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
        self._field().close()

    def on_blur(self) -> None:
        """Someone went elsewhere."""
        self.suppress_click()
        self._field().close(focus=False)

    def _field(self) -> ChoiceField:
        assert isinstance(self.parent, ChoiceField)
        return self.parent


class MarkField(Field, can_focus=True):
    """Yes or no, ticked by Space or mouse. The value is YES or empty."""

    BINDINGS: ClassVar[list[BindingType]] = bindings_for("mark")
    value = reactive("", init=False)

    class Changed(Message):
        """The tick was put or taken off."""

        def __init__(self, field: MarkField) -> None:
            self.field = field
            super().__init__()

        @property
        def control(self) -> MarkField:
            """The field."""
            return self.field

    def __init__(self, name: str, label: str, words: str, *, value: str = "") -> None:
        super().__init__(name, label)
        self.words = words
        self.started_as = value
        self.set_reactive(MarkField.value, value)

    @property
    def given(self) -> bool:
        """Whether it is ticked."""
        return self.value == YES

    def put(self, value: str) -> None:
        """Tick it for YES."""
        self.value = YES if value == YES else ""

    def render_line(self, y: int) -> Strip:
        """The box and its words."""
        words = Part(f"{TICKED if self.given else OPEN} {self.words}")
        return strip_of(self, (words,) if y == 0 else (), self.content_size.width)

    def watch_value(self) -> None:
        """Tell the form."""
        self.post_message(self.Changed(self))

    def action_tick(self) -> None:
        """Tick it, or take the tick off."""
        self.put("" if self.given else YES)

    def on_click(self) -> None:
        """The same by mouse."""
        self.action_tick()
