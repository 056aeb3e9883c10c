"""What all dialogs share: a heading, a body, the one sentence of what went wrong, and two buttons."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable, Iterator
from pathlib import PurePath
from typing import Any, ClassVar, TypeVar

from rich.console import RenderableType
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.renderables.background_screen import BackgroundScreen
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Button, Static

from bench.dashboard.doing import Doing
from bench.dashboard.keys import bindings_everywhere, bindings_for
from bench.dashboard.presenters.key_bar import shown_key
from bench.dashboard.scan_taking import ReceivesScans
from bench.dashboard.screens.dialogs.field import CODE, CONSUMABLE, NUMBER, SERIAL, TAG, Field
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.dashboard.screens.drawing import Dimmed, SparingScreen
from bench.dashboard.widgets.safety_panel import AlarmBar
from bench.dashboard.widgets.steady import SideBySide, Stacked, Steady, Words
from bench.domain.text import for_display
from bench.errors import BadInput, BenchError
from bench.views.scans import CARD, DRIVE, PART, UNIT, UNKNOWN, Found
from bench.views.scans import CONSUMABLE as CONSUMABLE_FOUND

Answer = TypeVar("Answer")


class FormScroll(VerticalScroll, Steady, can_focus=False, inherit_bindings=False):
    """What a dialog is scrolled in as the focus moves. The arrows are the dialog's own."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pageup", "page_up", show=False),
        Binding("pagedown", "page_down", show=False),
    ]


class DialogButton(Button, Steady):
    """A button whose looks are worked out as it is mounted, not at each class that it is given before."""

    def update_node_styles(self, animate: bool = True) -> None:
        """Follow a class, once there is something to be seen."""
        if self.is_attached:
            super().update_node_styles(animate=animate)


class Dialog(ReceivesScans, Doing, SparingScreen[Answer], ModalScreen[Answer]):
    """A dialog over the screen it belongs to. Left without change it answers None.

    A subclass gives `body`, and `work`: the use case to run with what stands in the dialog now.
    """

    CSS_PATH: ClassVar[list[str | PurePath]] = ["dialog.tcss"]
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings_for("dialog"),
        *bindings_everywhere("stop_mine", "manual"),
        # First of all, so that what follows a Tab within one burst of keys lands in the next field.
        Binding("tab", "app.focus_next", show=False, priority=True),
        Binding("shift+tab", "app.focus_previous", show=False, priority=True),
    ]
    AUTO_FOCUS = "#body *"
    send_label = "Save"
    send_action = "send"
    cancel_label = "Cancel"

    def __init__(self, heading: str) -> None:
        super().__init__()
        self.heading = heading
        self._sending = False
        self._awaits_frame = False

    def compose(self) -> ComposeResult:
        """Heading, body, sentence, buttons; above them what the first screen sounds the alarm for."""
        yield AlarmBar(id="alarm")
        with FormScroll(id="box"):
            yield Words(Content(for_display(self.heading)), id="heading")
            with Stacked(id="body"):
                yield from self.body()
            yield Words(id="wrong", markup=False)
            with SideBySide(id="buttons"):
                yield from self.buttons()

    def render(self) -> RenderableType:
        """What lies beneath, dimmed."""
        beneath = super().render()
        return Dimmed(beneath.screen, beneath.color) if isinstance(beneath, BackgroundScreen) else beneath

    def _refresh_layout(self, size: Size | None = None, scroll: bool = False) -> None:
        """Lay out, for the first time at the next frame: with all that is there and read by then."""
        if size is not None and not self._awaits_frame:
            self._awaits_frame = True
            self.refresh(layout=True)
            return
        first = not self._compositor.size
        super()._refresh_layout(size or self.outer_size or self.app.size, scroll)
        if first:
            self._all_is_drawn()

    def on_mount(self) -> None:
        """The alarm is as loud over a dialog as beside none."""
        bars = [bar for screen in self.app.screen_stack[:-1] for bar in screen.query(AlarmBar)]
        for bar in self.query(AlarmBar):
            bar.rows = bars[-1].rows if bars else ()

    def _all_is_drawn(self) -> None:
        """What was set before the first drawing wants none of its own."""
        for widget in self._compositor.visible_widgets:
            widget._repaint_required = False
            widget._exchange_repaint_regions()

    @abstractmethod
    def body(self) -> Iterable[Widget]:
        """The widgets between the heading and the buttons."""

    def buttons(self) -> Iterable[Button]:
        """The buttons, the one that does it first."""
        yield self.button(self.send_label, self.send_action, variant="primary")
        yield self.button(self.cancel_label, "cancel")

    def button(self, label: str, action: str, *, variant: str = "default") -> Button:
        """A button that runs an action of this dialog and names the key that does the same."""
        return DialogButton(
            Content(f"{label}{self._key_behind(action)}"),
            variant=variant,  # type: ignore[arg-type]
            compact=True,
            action=f"screen.{action}",
            id=f"do-{action}",
        )

    def set_focus(
        self, widget: Widget | None, scroll_visible: bool = True, from_app_focus: bool = False
    ) -> None:
        """Scroll to the focus once it is known where it is: a dialog opens at its top, keys come fast."""
        super().set_focus(widget, scroll_visible=False, from_app_focus=from_app_focus)
        if scroll_visible and widget is not None:
            self.call_after_refresh(self._show_focus)

    def _show_focus(self) -> None:
        if self.focused is not None:
            self.focused.scroll_visible(animate=False)

    @property
    def focus_chain(self) -> list[Widget]:
        """Every control in the order of the DOM: where a field stands is not known before it is laid out."""
        return list(_controls(self))

    @abstractmethod
    def work(self) -> Callable[[], Any] | None:
        """The use case with the values of this moment; None when the dialog asks for something first.

        BadInput where a value is missing that the use case cannot be called without.
        """

    def answer(self, _result: Any) -> Answer | None:
        """What the dialog answers once its use case has written."""
        return True  # type: ignore[return-value]

    def action_send(self) -> None:
        """Run the use case, once, however often the key comes."""
        if self._sending:
            return
        try:
            work = self.work()
        except BadInput as error:
            self.refused(error)
            return
        if work is not None:
            self.send(work)

    def send(self, work: Callable[[], Any]) -> None:
        """Run what writes, unless something is written already, and leave with its answer."""
        if not self._sending:
            self._sending = True
            self.say("")
            self.change(work, self.sent, failed=self._refused)

    def action_enter(self) -> None:
        """Do it."""
        self.action_send()

    def action_next_field(self) -> None:
        """Go to the next field, line or button."""
        self.focus_next()

    def action_previous_field(self) -> None:
        """Go to the one before."""
        self.focus_previous()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only a form that is kept can be emptied."""
        return False if action == "empty" else super().check_action(action, parameters)

    def action_cancel(self) -> None:
        """Leave without change."""
        self.dismiss(None)

    def sent(self, result: Any) -> None:
        """The use case has written: leave with the answer."""
        self.tell_what_was_sent()
        self.dismiss(self.answer(result))

    def tell_what_was_sent(self) -> None:
        """The act that this dialog is of is done, and can be repeated."""
        self.bench.repeating.wrote()

    def keeps_scan(self, widget: Widget) -> bool:
        """Text stays where it was scanned, but for a number's field."""
        field = _field_around(widget)
        return field is None or field.takes != NUMBER

    def scan_kept(self, widget: Widget) -> None:
        """Go on to the next field; a scan comes to no button and sends nothing."""
        chain = self.focus_chain
        after = chain[chain.index(widget) + 1 :] if widget in chain else []
        if after and not isinstance(after[0], Button) and isinstance(widget, TextField):
            self.set_focus(after[0])

    def scanned(self, found: Found) -> bool:
        """Put what was scanned into the field that waits for it."""
        field = self._waits_for(found)
        if field is None:
            return False
        field.put(str(found.consumable_id) if field.takes == CONSUMABLE else found.text)
        field.take_focus()
        return True

    def _all_fields(self) -> list[Field]:
        return [one for one in self.query("*") if isinstance(one, Field)]

    def _waits_for(self, found: Found) -> Field | None:
        wanted = WAITS_FOR[found.kind] if found.kind != UNKNOWN or found.new_serial else (CODE,)
        waiting = [one for one in self._all_fields() if one.takes in wanted and one.display]
        empty = [one for one in waiting if not one.value]
        return next(iter(empty or [one for one in waiting if one.takes == CONSUMABLE]), None)

    def refused(self, error: BenchError) -> bool:
        """Show the sentence; what was typed stays. True: nobody else need show it."""
        self.say(str(error))
        return True

    def say(self, sentence: str) -> None:
        """Put a sentence of what is wrong above the buttons; an empty one takes it away."""
        wrong = self.query_one("#wrong", Static)
        wrong.update(Content(sentence))
        wrong.set_class(bool(sentence), "shown")

    def _refused(self, error: BenchError) -> bool:
        self._sending = False
        return self.refused(error)

    def _key_behind(self, action: str) -> str:
        for active in self.active_bindings.values():
            if active.binding.action == action:
                return f"  {shown_key(active.binding.key)}"
        return ""


# The kinds of scan, and the fields that wait for one of them.
WAITS_FOR = {
    CARD: (),
    PART: (),
    UNIT: (TAG,),
    DRIVE: (SERIAL,),
    CONSUMABLE_FOUND: (CONSUMABLE,),
    UNKNOWN: (SERIAL, CODE),
}


def _field_around(widget: Widget) -> Field | None:
    return next((one for one in widget.ancestors_with_self if isinstance(one, Field)), None)


def _controls(node: Widget) -> Iterator[Widget]:
    for child in node.displayed_children:
        if child.visible and not child.disabled:
            if child.allow_focus():
                yield child
            if child.allow_focus_children():
                yield from _controls(child)
