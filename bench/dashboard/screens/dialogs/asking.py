"""What is asked over a dialog that cannot go on without it; with the answer it is tried again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bench.dashboard.doing import Doing
from bench.dashboard.screens.dialogs.described import Typed
from bench.domain.safety import CLOSING, OPENING
from bench.domain.text import for_display
from bench.errors import (
    BatteryFirst,
    BenchError,
    ClosingFirst,
    KnownAlready,
    ListingFirst,
    OutcomeFirst,
    TasksOpen,
    WhichDrive,
)


def ask_over(form: Any, error: BenchError, besides: Typed) -> None:
    """Ask about a refusal over the form. The answer goes into what is sent besides; then it is sent again."""
    again = form.action_send

    def with_answer(name: str) -> Callable[[Any], None]:
        def go_on(answer: Any) -> None:
            besides[name] = answer
            again()

        return go_on

    if isinstance(error, KnownAlready):
        ask_why(form, for_display(str(error)), "Why again", f"{form.draft} again", with_answer("again"))
    elif isinstance(error, WhichDrive):
        ask_which_drive(form, error, with_answer(error.field))
    elif isinstance(error, ListingFirst):
        ask_before_listing(form, error, again)
    elif isinstance(error, TasksOpen):
        _ask_about_tasks(form, error, besides)
    elif isinstance(error, OutcomeFirst):
        ask_outcome(form, error, again)
    else:
        ask_list(form, error, again)


def ask_why(screen: Doing, title: str, question: str, draft: str, then: Callable[[str], None]) -> None:
    """Ask for a reason; go on with it."""
    from bench.dashboard.screens.dialogs.questions import ReasonDialog

    _ask(screen, ReasonDialog(title, question, draft=draft), then)


def ask_which_drive(screen: Doing, error: WhichDrive, again: Callable[[int], None]) -> None:
    """Ask which drive moves; try again with it."""
    from bench.dashboard.screens.dialogs.pick import choose_drive

    _ask(screen, choose_drive(error), again)


def ask_list(screen: Doing, error: BenchError, again: Callable[[], None]) -> None:
    """Open the checklist that comes first; once it, or those of its items, are ticked, try again."""
    from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog

    assert isinstance(error, (BatteryFirst, ClosingFirst))
    which, items = (OPENING, error.items) if isinstance(error, BatteryFirst) else (CLOSING, ())
    asked = SafetyListDialog(error.unit_id, which, items)
    _ask(screen, asked, lambda ticked: again() if ticked else None)


def ask_outcome(screen: Doing, error: OutcomeFirst, again: Callable[[], None]) -> None:
    """Ask how the test ended; once it has passed, try again."""
    from bench.dashboard.screens.dialogs.finish import FinishDialog

    _ask(screen, FinishDialog(error.task_id), lambda passed: again() if passed else None)


def ask_before_listing(screen: Doing, error: ListingFirst, again: Callable[[], None]) -> None:
    """Ask about what is wanting before listing; once it is answered for, try again."""
    from bench.dashboard.screens.dialogs.questions import BeforeListing

    _ask(screen, BeforeListing(error), lambda done: again() if done else None)


def _ask_about_tasks(form: Any, error: TasksOpen, besides: Typed) -> None:
    from bench.dashboard.screens.dialogs.tasks_in_the_way import SettleTasks

    asked = SettleTasks(error.tasks, draft=f"skip all {form.draft}")

    def go_on(chosen: bool) -> None:
        if chosen:
            besides["open_tasks"], besides["reason"] = asked.settled
            form.action_send()

    _ask(form, asked, go_on)


def _ask(screen: Doing, dialog: Any, then: Callable[[Any], object]) -> None:
    def answered(answer: Any) -> None:
        if answer is not None:
            then(answer)

    screen.app.push_screen(dialog, answered)
