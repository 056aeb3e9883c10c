"""The drives in a unit: what they are, how each was wiped and verified, and the certificate."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts.drives import CERTIFICATE, VERIFY
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.drive_rows import (
    drive_detail,
    drives_head,
)
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.domain.wipe import NOT_VERIFIED, PASSED
from bench.views.drives import DriveLine, DriveSheet, WipeLine, read_drives
from bench.views.kinds import context_of
from bench.views.tables.wiping import DRIVES, WIPES


class WipingScreen(Sheet[DriveSheet]):
    """Drives above, the wipes of the one under the cursor below."""

    keys = "wiping"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "wiping.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """Drives, wipes, and what else is known."""
        own = self.bench.own_keys
        no_drive = (
            f"No drive recorded. {key_shown('wiping.add_drive', own)} records one, "
            f"{key_shown('wiping.none_in_it', own)} says that you looked and none is in it."
        )
        no_wipe = f"No wipe record. {key_shown('wiping.record', own)} records one."
        yield RowTable(replace(DRIVES, empty=no_drive), stays_lit=True, id="drives")
        yield RowTable(replace(WIPES, empty=no_wipe), stays_lit=True, id="wipes")
        yield LinesPanel(title="The drive", id="detail")

    def read(self) -> Callable[[], DriveSheet]:
        """The drives and their wipes."""
        desk, unit_id = self.desk, self.unit_id

        return lambda: read_drives(desk, unit_id)

    def show(self, facts: DriveSheet) -> None:
        """The drives; the wipes of the one under the cursor follow."""
        self.query_one("#head", LinesPanel).show(lambda width: drives_head(facts, width))
        self.table("drives").fill(facts.drives)

    def unit_here(self) -> DriveSheet | None:
        """The unit with its drives."""
        return self.facts

    def drive_here(self) -> DriveLine | None:
        """The drive under the cursor."""
        key = self.table("drives").key
        drives = self.facts.drives if self.facts else ()
        return next((one for one in drives if one.drive_id == key), None)

    def wipe_here(self) -> WipeLine | None:
        """The wipe under the cursor of that drive."""
        drive, key = self.drive_here(), self.table("wipes").key
        return next((one for one in drive.wipes if one.wipe_id == key), None) if drive else None

    def focused_wipe_here(self) -> WipeLine | None:
        """The wipe under the cursor, while the next key goes to the wipes."""
        return self.wipe_here() if self.table("wipes").is_current else None

    def wipe_to_verify_here(self) -> WipeLine | None:
        """The wipe under the cursor where it waits to be verified, else the drive's first one that does."""
        drive, wipe = self.drive_here(), self.wipe_here()
        wipes = (wipe, *drive.wipes) if drive is not None else ()
        return next((one for one in wipes if one is not None and one.result == NOT_VERIFIED), None)

    def open_row(self) -> None:
        """From a drive to its wipes; there, what the wipe still needs."""
        wipe = self.wipe_here()
        if not self.table("wipes").is_current:
            self.table("wipes").take_focus()
        elif wipe is not None and wipe.result == NOT_VERIFIED:
            self.carry_out(*VERIFY)
        elif wipe is not None and wipe.result == PASSED:
            self.carry_out(CERTIFICATE)

    @on(LineList.Moved, "#drives RowList")
    def _moved(self) -> None:
        facts, drive = self.facts, self.drive_here()
        if facts is not None:
            self.table("wipes").fill(drive.wipes if drive is not None else (), context_of(facts))
            detail = self.query_one("#detail", LinesPanel)
            context = self.context_for(facts)
            detail.show(lambda width: drive_detail(facts, drive, context, width))
            detail.display = bool(drive_detail(facts, drive, context, 80))
