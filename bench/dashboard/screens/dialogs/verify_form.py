"""A wipe verified: how, by whom, and whether it passed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bench.dashboard.doing import say
from bench.dashboard.screens.dialogs.choice_field import ChoiceField
from bench.dashboard.screens.dialogs.field import MOMENT, Field, NumberField, TextField
from bench.dashboard.screens.dialogs.form import Form
from bench.desk import Desk
from bench.domain.wipe import FAILED, PASSED
from bench.views.drives import DriveLine, WipeLine

RESULT = "result"
TYPED = ("verification", "at_text", "title", "location", "contact")


class VerifyForm(Form[bool]):
    """Records how the acting person verified the wipe, and its result."""

    def __init__(self, drive: DriveLine, wipe: WipeLine) -> None:
        super().__init__(
            f"Verify: {drive.name}, {wipe.method}, {wipe.technique}", draft=f"verify {wipe.wipe_id}"
        )
        self.wipe_id = wipe.wipe_id

    def fields(self) -> Sequence[Field]:
        """The way it was verified, and the result."""
        results = [(PASSED, PASSED), (FAILED, FAILED)]
        return (
            TextField("verification", "How", hint="such as full read-back"),
            ChoiceField(RESULT, "Result", results, none="choose"),
            NumberField("at_text", "When", like=MOMENT, hint="empty: now; or 14:30, yesterday 18:05"),
            TextField("title", "Your title"),
            TextField("location", "Location"),
            TextField("contact", "Your contact"),
        )

    def work(self) -> Callable[[], Any]:
        """Record it."""
        desk, wipe_id, result = self.desk, self.wipe_id, self.value(RESULT)
        typed = {name: self.value(name) for name in TYPED}
        return lambda: _verify(desk, wipe_id, result, typed)

    def sent(self, result: str) -> None:
        """Say what it means for the drive."""
        say(self.app, result)
        super().sent(result)


def _verify(desk: Desk, wipe_id: int, result: str, typed: dict[str, str]) -> str:
    from bench.work.wipes import verify_wipe

    kept = verify_wipe(desk, wipe_id, result=result, **typed)
    if kept.counts:
        return f"{kept.drive} counts as wiped: {kept.method}, {kept.result}."
    return f"{kept.drive} does not count as wiped: {kept.method}, {kept.result}."
