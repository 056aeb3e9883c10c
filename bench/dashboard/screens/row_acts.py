"""What can be done to the rows of every screen: mark them, copy from them, repeat the last act on one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from bench.dashboard.acting import Acting
from bench.dashboard.acts.act import SAFETY, Act
from bench.dashboard.clipboard import NOTHING
from bench.dashboard.doing import say
from bench.dashboard.keys import acts_on
from bench.dashboard.reading import none_if_gone
from bench.desk import Desk
from bench.domain.text import quoted

COPY_MENU = "bench.dashboard.screens.dialogs.copy_menu:CopyMenu"
NOT_MARKED = "This line cannot be marked."
NOTHING_DONE = "Nothing was done yet that could be repeated: do it once by its own key."


@dataclass(frozen=True, slots=True)
class Copyable:
    """Something to copy, by its `letter`. `what`: in the list; `said`: in the sentence after.

    `text`: reads it, in a thread.
    """

    letter: str
    what: str
    said: str
    text: Callable[[Desk], str]


class RowActs(Acting):
    """Mixed into the screens that have rows."""

    def mark_row(self) -> bool:
        """Mark the row under the cursor, or take its mark off; False where that cannot be."""
        return False

    def copies(self) -> tuple[Copyable, ...]:
        """What can be copied here now."""
        return ()

    def action_mark(self) -> None:
        """Mark the row under the cursor, and go on to the next one."""
        if not self.mark_row():
            say(self.app, NOT_MARKED)

    def action_copy(self) -> None:
        """Choose what is copied, of what is there."""
        copies = self.copies()
        if not copies:
            say(self.app, NOTHING)
            return

        def chosen(letter: str) -> None:
            self._copy(next(one for one in copies if one.letter == letter))

        self.open_screen(COPY_MENU, copies, then=chosen)

    def action_repeat(self) -> None:
        """Do the last act again, on what is under the cursor; a form comes filled as it was sent."""
        done = self.bench.repeating.last
        if done is None:
            say(self.app, NOTHING_DONE)
        elif done.act.group == SAFETY:
            say(self.app, f"{quoted(done.act.label)} is never repeated: each unit is looked at on its own.")
        else:
            act = self._same_here(done.act)
            if act is None:
                say(self.app, f"{quoted(done.act.label)} was done last: that is none of this screen's acts.")
            else:
                self.bench.repeating.begin_again(done)
                self.carry_out(*act.ways)

    def _same_here(self, done: Act) -> Act | None:
        """The act of this screen that does the same."""
        return next((one for one in acts_on(self.keys) if one.ways and one.ways == done.ways), None)

    def _copy(self, one: Copyable) -> None:
        def then(text: str | None) -> None:
            self.bench.copy_out(text or "", one.said)

        self.do(none_if_gone(partial(one.text, self.desk)), then)
