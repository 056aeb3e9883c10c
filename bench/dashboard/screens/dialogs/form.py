"""A dialog of fields: Enter goes on and sends from the last one, and a half-filled form survives a crash."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeVar

from textual import on
from textual.content import Content
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Input, Static, TextArea

from bench.dashboard.doing import say
from bench.dashboard.reading import ReadsFirst
from bench.dashboard.screens.dialogs.choice import Choice
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.mark_field import Mark
from bench.errors import BadInput, BenchError

Answer = TypeVar("Answer")
QUIET_SECONDS = 0.4
KEPT = "Kept as a draft: what you typed is there when you open this again."


class Form(ReadsFirst, Dialog[Answer]):
    """Fields to fill in. `draft`: the name under which what was typed is kept until it is sent or emptied."""

    def __init__(self, heading: str, *, draft: str) -> None:
        super().__init__(heading)
        self.draft = draft
        self._fields: dict[str, Field] = {}
        self._save_soon: Timer | None = None
        self._kept = False

    @abstractmethod
    def fields(self) -> Sequence[Field]:
        """The fields, in the order of the keys."""

    def read(self) -> Any:
        """What the form begins with, read in a thread."""
        return None

    def begin(self, facts: Any) -> None:
        """Give the fields what `read` answered."""

    def restore(self, typed: dict[str, str]) -> None:
        """Make room for what was typed but never sent; a form whose fields vary adds those it needs."""

    def body(self) -> Iterable[Widget]:
        """The fields, and a line that tells when something was restored."""
        yield Static(id="restored", markup=False)
        for field in self.fields():
            self._fields[field.field_name] = field
            yield field

    def field(self, name: str) -> Field:
        """The field of that name."""
        return self._fields[name]

    def value(self, name: str) -> str:
        """What stands in the field of that name."""
        return self._fields[name].value

    def chosen(self, name: str) -> int:
        """The number of the choice made in a field; BadInput while there is none."""
        if not self.value(name):
            what = f"The {self.field(name).label.casefold()} is not chosen."
            raise BadInput(what, "Choose from the list.", field=name)
        return int(self.value(name))

    def on_mount(self) -> None:
        """Read what the form begins with, and what was typed but never sent."""
        self.begin_anew()

    def begin_anew(self) -> None:
        """Read both again, for the next of those that one dialog asks about one after the other."""

        def work() -> tuple[Any, dict[str, str]]:
            facts = self.read()
            return facts, self.typed_before(facts)

        self.do(work, lambda answer: self._begin(*answer), failed=self._unreadable)

    def typed_before(self, facts: Any) -> dict[str, str]:
        """What was typed but never sent, read in a thread after `facts`."""
        from bench.views.shop import read_draft

        del facts
        return read_draft(self.desk, self.draft)

    def keep_typed(self, values: dict[str, str], then: Callable[[], object]) -> None:
        """Keep what is typed; `then` runs once it is kept, also when the form was left meanwhile."""
        desk, draft, app = self.desk, self.draft, self.app

        def work() -> None:
            from bench.work.drafts import save_draft

            save_draft(desk, draft, values)
            app.call_later(then)

        self.change(work)

    def drop_typed(self) -> None:
        """Keep it no longer."""
        desk, draft = self.desk, self.draft

        def work() -> None:
            from bench.work.drafts import drop_draft

            drop_draft(desk, draft)

        self.change(work)

    def refused(self, error: BenchError) -> bool:
        """Show each sentence under the field it belongs to, and go to the first of them."""
        faults = error.faults if isinstance(error, BadInput) else (error,)
        by_field: dict[Field | None, list[BenchError]] = {}
        for fault in faults:
            by_field.setdefault(self._field_of(fault), []).append(fault)
        elsewhere = by_field.pop(None, [])
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
        from bench.dashboard.screens.dialogs.ask_empty import AskEmpty

        def answered(yes: bool | None) -> None:
            if yes:
                self._empty()

        if any(field.changed for field in self._fields.values()):
            self.app.push_screen(AskEmpty(self.heading), answered)

    def _empty(self) -> None:
        for field in self._fields.values():
            field.put(field.started_as)
        self.drop()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A form can be emptied."""
        return True if action == "empty" else super().check_action(action, parameters)

    def action_cancel(self) -> None:
        """Leave without change; what was typed is kept for the next time, and that is said."""
        self.keep_or_drop()
        super().action_cancel()

    def sent(self, result: Any) -> None:
        """The use case has written: nothing need be kept any more."""
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

    def _begin(self, facts: Any, typed: dict[str, str]) -> None:
        self.begin(facts)
        self.restore(typed)
        restored = {name: value for name, value in typed.items() if name in self._fields}
        for name, value in restored.items():
            self._fields[name].put(value)
        if restored:
            self._kept = True
            line = self.query_one("#restored", Static)
            line.update(Content(f"restored what you had typed;{self._key_behind('empty')} empties the form"))
            line.add_class("shown")
        self.now_read()

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
        return self.focused is not None and last in self.focused.ancestors

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_enter()

    @on(Choice.Made)
    def _made(self, event: Choice.Made) -> None:
        event.stop()
        self.focus_next()

    @on(Mark.Changed)
    @on(Input.Changed)
    @on(Choice.Changed)
    @on(TextArea.Changed)
    def _changed(self, event: Mark.Changed | Input.Changed | Choice.Changed | TextArea.Changed) -> None:
        for field in self._fields.values():
            if field in event.control.ancestors:
                field.say("")
        self._keep_soon()

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
