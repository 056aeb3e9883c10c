"""Asking from a form whether what seems to be on record already is taken in all the same, and why."""

from __future__ import annotations

from typing import Generic, TypeVar

from bench.dashboard.screens.dialogs.form import Form
from bench.domain.text import for_display
from bench.errors import BenchError, KnownAlready

Answer = TypeVar("Answer")


class AsksTwice(Form[Answer], Generic[Answer]):
    """A form that hands `again`, the reason typed for it, to its use case; empty until it was asked for."""

    again = ""

    def refused(self, error: BenchError) -> bool:
        """What seems to be taken in twice is asked about; with the reason it is sent again."""
        if not isinstance(error, KnownAlready):
            return super().refused(error)
        from bench.dashboard.screens.dialogs.reason import ReasonDialog

        def given(reason: str | None) -> None:
            if reason is not None:
                self.again = reason
                self.action_send()

        asked = ReasonDialog(for_display(str(error)), "Why again", draft=f"{self.draft} again")
        self.app.push_screen(asked, given)
        return True
