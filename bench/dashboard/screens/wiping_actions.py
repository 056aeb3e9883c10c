"""What the keys of a unit's drives do: record, verify, certify, go on without, move."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable

from bench.dashboard.doing import Doing, say
from bench.desk import Desk
from bench.domain.wipe import NOT_VERIFIED
from bench.views.drives import DriveLine, DriveSheet, WipeLine

NO_DRIVE = "There is no drive under the cursor."
NO_WIPE = "There is no wipe under the cursor."


class WipingActions(Doing):
    """Mixed into the screen of a unit's drives, which says where its cursors are."""

    unit_id: int

    @abstractmethod
    def sheet_shown(self) -> DriveSheet | None:
        """What was read last."""

    @abstractmethod
    def drive_here(self) -> DriveLine | None:
        """The drive under the cursor."""

    @abstractmethod
    def wipe_here(self) -> WipeLine | None:
        """The wipe under the cursor of that drive."""

    @abstractmethod
    def in_wipes(self) -> bool:
        """Whether the next key goes to the wipes."""

    def action_add_drive(self) -> None:
        """Record a drive that is in the unit."""
        from bench.dashboard.screens.dialogs.drive_forms import drive_form

        self.app.push_screen(drive_form(self.unit_id))

    def action_edit_drive(self) -> None:
        """Set its particulars right."""
        drive = self._drive_or_say()
        if drive is not None:
            from bench.dashboard.screens.dialogs.drive_forms import drive_form

            self.app.push_screen(drive_form(self.unit_id, drive))

    def action_record(self) -> None:
        """Record that it was wiped."""
        drive = self._drive_or_say()
        if drive is not None:
            from bench.dashboard.screens.dialogs.drive_forms import WipeForm

            self.app.push_screen(WipeForm(drive))

    def action_verify(self) -> None:
        """Record how the wipe was verified."""
        drive, wipe = self._drive_or_say(), self.wipe_here()
        if drive is None:
            return
        if wipe is None or wipe.result != NOT_VERIFIED:
            wipe = next((one for one in drive.wipes if one.result == NOT_VERIFIED), None)
        if wipe is None:
            say(self.app, f"No wipe of {drive.name} waits to be verified.")
            return
        from bench.dashboard.screens.dialogs.drive_forms import verify_form

        self.app.push_screen(verify_form(drive, wipe))

    def action_certificate(self) -> None:
        """The certificate of the wipe under the cursor."""
        wipe = self.wipe_here()
        if wipe is None:
            say(self.app, NO_WIPE)
            return
        from bench.dashboard.screens.papers import CertificateScreen

        self.app.push_screen(CertificateScreen(wipe.wipe_id))

    def action_without(self) -> None:
        """Let the unit be listed without a wipe, with a reason."""
        unit_id = self.unit_id
        self._ask_why(
            "List it without a passed wipe",
            f"no wipe {unit_id}",
            lambda desk, why: _without(desk, unit_id, why),
        )

    def action_move_drive(self) -> None:
        """Put the drive into another unit, or on the shelf."""
        drive = self._drive_or_say()
        if drive is not None:
            from bench.dashboard.screens.dialogs.drive_forms import move_drive_form

            self.app.push_screen(move_drive_form(drive))

    def action_remove(self) -> None:
        """Take the wipe off the records, or the drive where the cursor is among the drives."""
        drive, wipe = self.drive_here(), self.wipe_here()
        if self.in_wipes() and wipe is not None:
            self._ask_why(
                "Take the wipe off the records", f"wipe off {wipe.wipe_id}", _wipe_remover(wipe.wipe_id)
            )
        elif drive is not None:
            self._ask_why(
                f"Take {drive.name} off the records",
                f"drive off {drive.drive_id}",
                _drive_remover(drive.drive_id),
            )
        else:
            say(self.app, NO_DRIVE)

    def _ask_why(self, heading: str, draft: str, use_case: Callable[[Desk, str], None]) -> None:
        from bench.dashboard.screens.dialogs.questions import ReasonDialog

        desk = self.desk

        def given(reason: str | None) -> None:
            if reason is not None:
                self.change(lambda: use_case(desk, reason))

        self.app.push_screen(ReasonDialog(heading, "Why", draft=draft), given)

    def _drive_or_say(self) -> DriveLine | None:
        drive = self.drive_here()
        if drive is None:
            say(self.app, NO_DRIVE)
        return drive


def _without(desk: Desk, unit_id: int, reason: str) -> None:
    from bench.work.waivers import list_without

    list_without(desk, unit_id, reason)


def _wipe_remover(wipe_id: int) -> Callable[[Desk, str], None]:
    def remove(desk: Desk, reason: str) -> None:
        from bench.work.wipes import remove_wipe

        remove_wipe(desk, wipe_id, reason)

    return remove


def _drive_remover(drive_id: int) -> Callable[[Desk, str], None]:
    def remove(desk: Desk, reason: str) -> None:
        from bench.work.drives import remove_drive

        remove_drive(desk, drive_id, reason)

    return remove
