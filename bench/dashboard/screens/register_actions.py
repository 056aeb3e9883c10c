"""What the keys of the register do: save it, erase people's data that are due."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable

from bench.dashboard.doing import Doing, say
from bench.dashboard.presenters.register_rows import erased_words
from bench.domain.erasing import Erased
from bench.domain.register import Register
from bench.domain.weeks import local_day
from bench.views.parties import PartyLine

FOR_GOOD = "cannot be taken back; copies made before keep it"


class RegisterActions(Doing):
    """Mixed into the register's screen."""

    @abstractmethod
    def register_shown(self) -> Register | None:
        """What was read last."""

    @abstractmethod
    def party_here(self) -> PartyLine | None:
        """The person or firm under the cursor."""

    def action_save(self) -> None:
        """Save it as CSV, HTML, text or JSON."""
        register = self.register_shown()
        if register is not None:
            from bench.dashboard.screens.dialogs.file_forms import save_document_form
            from bench.reports.forms import register_forms

            name = f"register-{local_day(register.read_us, register.zone)}.csv"
            self.app.push_screen(save_document_form("the register", register, register_forms(), name))

    def action_erase(self) -> None:
        """Erase the data of the person under the cursor, once their time is over."""
        party, desk = self.party_here(), self.desk
        if party is None:
            say(self.app, "There is nobody under the cursor.")
            return

        def erase(reason: str) -> Erased:
            from bench.work.parties import erase_party

            return erase_party(desk, party.party_id, reason)

        self._ask_why(f"Erase party {party.party_id}: {FOR_GOOD}", f"erase {party.party_id}", erase)

    def action_erase_due(self) -> None:
        """Erase the data of everyone who is due."""
        desk = self.desk

        def erase(reason: str) -> Erased:
            from bench.work.parties import erase_due

            return erase_due(desk, reason)

        self._ask_why(f"Erase everyone who is due: {FOR_GOOD}", "erase due", erase)

    def _ask_why(self, heading: str, draft: str, erase: Callable[[str], Erased]) -> None:
        from bench.dashboard.screens.dialogs.questions import ReasonDialog

        def given(reason: str | None) -> None:
            if reason is not None:
                self.change(lambda: erase(reason), lambda erased: say(self.app, erased_words(erased)))

        self.app.push_screen(ReasonDialog(heading, "Why", draft=draft), given)
