"""A dialog of fields: Enter goes on and sends from the last one, and a half-filled form survives a crash."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import wraps
from typing import Any, ParamSpec, TypeVar

from textual import on
from textual.content import Content
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Input, Static, TextArea

from bench.dashboard import use_cases
from bench.dashboard.doing import say
from bench.dashboard.reading import Reading, ReadsFirst
from bench.dashboard.screens.dialogs.asking import ask_over
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf, Typed
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.field import CODE, SERIAL, TAG, Field
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.steady import Words
from bench.errors import BadInput, BenchError
from bench.views.shop import read_draft

Answer = TypeVar("Answer")
Named = ParamSpec("Named")
Typing = MarkField.Changed | Input.Changed | ChoiceField.Changed | TextArea.Changed
OWN = (TAG, SERIAL, CODE)
QUIET_SECONDS = 0.4
LONG = 14  # fields beyond which the buttons keep their place while the rest scrolls at 80x24
KEPT = "Kept as a draft: what you typed is there when you open this again."


class Form(ReadsFirst, Dialog[Answer]):
    """Runs a form from its description. `made_by`: what describes it, of the module `described_in`."""

    made_by = ""
    described_in = ""
    fills_again = True  # whether, repeated, it comes with what was typed into it last

    def __init__(self, of: FormOf[Answer]) -> None:
        super().__init__(of.heading)
        self.of = of
        self.draft = of.draft
        self.send_label = of.send
        self.send_action = "enter" if of.enter else "send"
        self.set_class(of.wide, "wide")
        self.set_class(len(of.fields) > LONG, "long")
        self.facts: Any = None
        self.besides: Typed = {}  # answered over the form, and sent along with what is typed
        self._fields: dict[str, Field] = {}
        self._save_soon: Timer | None = None
        self._kept = False
        self._begins_in: Field | None = None
        self._looked_up: dict[str, str] | None = None  # the values that were looked up last
        self._looking_up = Reading(self, self._look_up, self._show)

    def read(self) -> Any:
        """What the form begins with, read in a thread."""
        return self.of.reads(self.desk) if self.of.reads is not None else None

    def begin(self, facts: Any) -> None:
        """Give the fields what `read` answered."""
        self._show(self.of.begins(facts) if self.of.begins is not None else None)

    def restore(self, typed: dict[str, str]) -> None:
        """Make room for what was typed but never sent; a form whose fields vary adds those it needs."""

    def body(self) -> Iterable[Widget]:
        """The words above, a line that tells when something was restored, the fields, the words below."""
        if self.of.above is not None:
            yield Words(Content(self.of.above), id="above", markup=False)
        yield Words(id="restored", markup=False)
        for field in self.of.fields:
            self._fields[field.field_name] = field
            yield field
        if self.of.known is not None:
            yield Words(Content(self.of.known), id="known", markup=False)

    def field(self, name: str) -> Field:
        """The field of that name."""
        return self._fields[name]

    def value(self, name: str) -> str:
        """What stands in the field of that name."""
        return self._fields[name].value

    def add_fields(self, fields: Sequence[Field], *, before: str) -> None:
        """Put in fields that were not known from the beginning."""
        self._fields.update((field.field_name, field) for field in fields)
        self.query_one("#body").mount(*fields, before=before)

    def begin_in(self, field: Field) -> None:
        """Have the first key go to a field that `begin` put in: keys wait until it is there."""
        self._begins_in = field

    def values(self) -> dict[str, str]:
        """What stands in all of them."""
        return {name: field.value for name, field in self._fields.items()}

    def work(self) -> Callable[[], Any] | None:
        """The use case with what each field gives; BadInput where one that is needed is empty."""
        typed = {name: field.given for name, field in self._fields.items()}
        filled, does = Filled(self.desk, self.facts, typed | self.besides), self.of.does
        return lambda: does(filled)

    def answer(self, result: Any) -> Answer | None:
        """What the form answers once its use case has written."""
        return self.of.answers(result)

    def on_mount(self) -> None:
        """Read what the form begins with, and what was typed but never sent."""
        self.begin_anew()

    def begin_anew(self) -> None:
        """Read both again, for the next of those that one dialog asks about one after the other."""

        def both() -> tuple[Any, dict[str, str]]:
            facts = self.read()
            return facts, self.typed_before(facts)

        self.do(both, lambda answer: self._begin(*answer), failed=self._unreadable)

    def typed_before(self, facts: Any) -> dict[str, str]:
        """What was typed but never sent, read in a thread after `facts`."""
        del facts
        return read_draft(self.desk, self.draft)

    def keep_typed(self, values: dict[str, str], then: Callable[[], object]) -> None:
        """Keep what is typed; `then` runs once it is kept, also when the form was left meanwhile."""
        desk, draft, app = self.desk, self.draft, self.app

        def keep() -> None:
            use_cases.drafts.save_draft(desk, draft, values)
            app.call_later(then)

        self.change(keep)

    def drop_typed(self) -> None:
        """Keep it no longer."""
        desk, draft = self.desk, self.draft
        self.change(lambda: use_cases.drafts.drop_draft(desk, draft))

    def refused(self, error: BenchError) -> bool:
        """Ask about it over the form, or show each sentence under its field and go to the first of them."""
        if isinstance(error, self.of.asks):
            ask_over(self, error, self.besides)
            return True
        self.besides.clear()
        faults = error.faults if isinstance(error, BadInput) else (error,)
        by_field: dict[Field | None, list[BenchError]] = {}
        for fault in faults:
            by_field.setdefault(self._field_of(fault), []).append(fault)
        elsewhere = by_field.pop(None, [])
        for field in by_field:
            elsewhere += by_field[field] if field is not None and field.is_cell else []
        if elsewhere:
            self.say(" ".join(map(str, elsewhere)))
        for field, wrong in by_field.items():
            assert field is not None
            field.say(" ".join(map(str, wrong)))
        first = next((field for field in self._fields.values() if field in by_field), None)
        if first is not None:
            first.take_focus()
        return True

    def action_send(self) -> None:
        """Send what stands in the fields; what was wrong with them before is past."""
        if not self._sending:
            for field in self._fields.values():
                field.say("")
        super().action_send()

    def action_enter(self) -> None:
        """Go on to the next field; from the last one, send."""
        if self._in_last_field():
            self.action_send()
        else:
            self.focus_next()

    def action_empty(self) -> None:
        """Put every field back to what it began with, once that was asked."""
        from bench.dashboard.screens.dialogs.questions import AskEmpty

        def answered(yes: bool | None) -> None:
            if yes:
                self._empty()

        if any(field.changed for field in self._fields.values()):
            self.app.push_screen(AskEmpty(self.heading), answered)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A form can be emptied."""
        return True if action == "empty" else super().check_action(action, parameters)

    def action_cancel(self) -> None:
        """Leave without change; what was typed is kept for the next time, and that is said."""
        self.keep_or_drop()
        super().action_cancel()

    def sent(self, result: Any) -> None:
        """The use case has written: say so; nothing need be kept any more."""
        words = self.of.says(result) if self.of.says is not None else ""
        if words:
            say(self.app, words)
        self.drop()
        super().sent(result)

    def keep_or_drop(self) -> None:
        """Before the form is left: keep what a person typed and say so; nothing where nothing is."""
        if any(field.changed for field in self._fields.values()):
            app = self.app
            self._keep(lambda: say(app, KEPT))
        else:
            self.drop()

    def drop(self) -> None:
        """What was typed need be kept no more."""
        self._stop_saving()
        self.query_one("#restored").remove_class("shown")
        if self._kept:
            self._kept = False
            self.drop_typed()

    def tell(self, of: str, words: str) -> None:
        """Put other words there: `heading`, `above` or `known`."""
        line = self.query_one(f"#{of}", Static)
        if str(line.content) != words:
            line.update(Content(words))

    def _show(self, begun: Begun | None) -> None:
        if begun is None:
            return
        for of, words in (("heading", begun.heading), ("above", begun.above), ("known", begun.known)):
            if words is not None:
                self.tell(of, words)
        if begun.panel is not None:
            self.query_one(LinesPanel).show(begun.panel)
        for name, choices in begun.choices.items():
            field = self._fields[name]
            assert isinstance(field, ChoiceField)
            field.offer(choices)
        for name, hint in begun.hints.items():
            field = self._fields[name]
            assert isinstance(field, TextField)
            field.hint(hint)
        for name, tail in begun.tails.items():
            self._fields[name].tell(tail)
        for name, value in begun.values.items():
            self._fields[name].start(value)

    def _begin(self, facts: Any, typed: dict[str, str]) -> None:
        self.facts = facts
        self._looked_up = None
        self.begin(facts)
        self.restore(typed)
        again = self._typed_last() if not typed else {}
        restored = {name: value for name, value in (typed or again).items() if name in self._fields}
        for name, value in restored.items():
            self._fields[name].put(value)
        if restored:
            self._kept = True
            what = "as you sent it last" if again else "restored what you had typed"
            self.tell("restored", f"{what};{self._key_behind('empty')} empties the form")
            self.query_one("#restored").add_class("shown")
        if self._begins_in is not None:
            self._begins_in.call_after_refresh(self._go_in)
            return
        if self.focused is None and self.focus_chain:  # it may have read before the framework gave the focus
            self.set_focus(self.focus_chain[0])
        self.now_read()

    def _go_in(self) -> None:
        field, self._begins_in = self._begins_in, None
        if field is not None:
            field.take_focus()
        self.now_read()

    def tell_what_was_sent(self) -> None:
        """As of every dialog, with what was typed."""
        self.tell_what_was_typed()
        super().tell_what_was_sent()

    def tell_what_was_typed(self) -> None:
        """What the form can be filled with again; but for numbers that are one thing's alone."""
        fields = self._fields.items()
        self.bench.repeating.typed(
            (type(self).__name__, self.made_by),
            {name: field.value for name, field in fields if field.changed and field.takes not in OWN},
        )

    def _typed_last(self) -> Mapping[str, str]:
        last = self.bench.repeating.typed_last((type(self).__name__, self.made_by))
        return last if self.fills_again else {}

    def _field_of(self, error: BenchError) -> Field | None:
        """The field an error belongs to; what was typed wrong in a form's only field is that one's."""
        if error.field in self._fields:
            return self._fields[error.field]
        only = tuple(self._fields.values()) if isinstance(error, BadInput) else ()
        return only[0] if len(only) == 1 else None

    def _unreadable(self, _error: BenchError) -> bool:
        self.dismiss(None)
        self.now_read()
        return False

    def _in_last_field(self) -> bool:
        last = next(reversed(self._fields.values()), None)
        return self.focused is not None and last in self.focused.ancestors_with_self

    def _empty(self) -> None:
        for field in self._fields.values():
            field.put(field.started_as)
        self.drop()

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_enter()

    @on(ChoiceField.Made)
    def _made(self, event: ChoiceField.Made) -> None:
        event.stop()
        self.focus_next()

    @on(MarkField.Changed)
    @on(Input.Changed)
    @on(ChoiceField.Changed)
    @on(TextArea.Changed)
    def _changed(self, event: Typing) -> None:
        for name, field in self._fields.items():
            if field in event.control.ancestors_with_self:
                if field.is_cell and field.said:
                    self.say("")
                field.say("")
                if name in self.of.watches:
                    self.follow()
        self._keep_soon()

    def follow(self) -> None:
        """Show what follows from what stands in the fields now."""
        if self.of.follows is not None and self.is_read:
            self._show(self.of.follows(self.facts, self.values()))
        if self.of.looks_up is not None and self._looked_up != (values := self.values()):
            self._looked_up = values
            self._looking_up.ask()

    def _look_up(self) -> Callable[[], Begun | None]:
        desk, values, looks_up = self.desk, self.values(), self.of.looks_up
        return lambda: looks_up(desk, values) if looks_up is not None else None

    def _keep_soon(self) -> None:
        self._stop_saving()
        self._save_soon = self.set_timer(QUIET_SECONDS, self._keep)

    def _keep(self, then: Callable[[], object] = lambda: None) -> None:
        self._stop_saving()
        values = {name: field.value for name, field in self._fields.items() if field.changed}
        if values:
            self._kept = True
            self.keep_typed(values, then)
        else:
            self.drop()

    def _stop_saving(self) -> None:
        if self._save_soon is not None:
            self._save_soon.stop()


def form(describe: Callable[Named, FormOf[Answer]]) -> Callable[Named, Form[Answer]]:
    """Have the function answer the dialog that runs what it describes."""

    @wraps(describe)
    def made(*args: Named.args, **named: Named.kwargs) -> Form[Answer]:
        dialog = Form(describe(*args, **named))
        dialog.made_by = describe.__name__
        dialog.described_in = describe.__module__.rpartition(".")[2]
        return dialog

    return made
