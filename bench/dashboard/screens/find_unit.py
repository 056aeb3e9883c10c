"""Finding a unit on the first screen: the filter, and the tag that is typed or scanned."""

from __future__ import annotations

from functools import partial

from textual import events
from textual.widgets import Input

from bench.dashboard.acting import Acting
from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import show_error
from bench.dashboard.scan_taking import ReceivesScans
from bench.dashboard.scanning import SeesKeysFirst
from bench.dashboard.widgets.jump_box import FilterBox, JumpBox
from bench.dashboard.widgets.queue_list import QueueList
from bench.domain.tags import read_tag
from bench.errors import BadInput
from bench.views.scans import UNIT, Found


class Finding(ReceivesScans, SeesKeysFirst, Acting):
    """Mixed into the first screen. The class `-finding` shows the line that is typed into."""

    def before_key(self, event: events.Key) -> None:
        """Open the jump box for a digit typed on the queue: it has the focus before the key is handed on."""
        digit = event.character is not None and event.character in "0123456789"
        if digit and not isinstance(self.screen.focused, Input):
            self._show_box(JumpBox)

    def scanned(self, found: Found) -> bool:
        """Put the cursor on the unit that was scanned; any other find is gone to as from everywhere."""
        if isinstance(self.screen.focused, JumpBox):
            self._leave()
        if found.kind == UNIT:
            self._go_to_tag(found.tag)
        return found.kind == UNIT

    def filter_changed(self) -> None:
        """Other units are shown than before."""

    def action_filter(self) -> None:
        """Type what the queue is to be narrowed to."""
        self._show_box(FilterBox)

    def action_clear(self) -> None:
        """Show every unit; where every one is shown, take the marks off."""
        box = self.query_one(FilterBox)
        if self.screen.selections:
            self.screen.clear_selection()
        elif box.value or self.screen.focused is box:
            box.value = ""
        else:
            self.unmark()
        self._leave()

    # Handlers here go by their names: the framework sees `@on` only in classes of its own.

    def on_input_changed(self, event: Input.Changed) -> None:
        """Filter as one types."""
        if isinstance(event.input, FilterBox):
            self.query_one(QueueList).filter_text = event.value
            self.filter_changed()

    def on_filter_box_done(self) -> None:
        """Go to the queue and keep the filter."""
        self._leave()

    def on_filter_box_emptied(self) -> None:
        """Show every unit."""
        self.action_clear()

    def on_jump_box_left(self) -> None:
        """Close the box."""
        if isinstance(self.screen.focused, JumpBox):
            self._leave()
        self._settle()

    def on_jump_box_typed(self, event: JumpBox.Typed) -> None:
        """Go to the unit with this tag."""
        # A scanner may already have put the next tag's digits into the box: then it stays open for them.
        box = self.query_one(JumpBox)
        if not box.value and box.has_focus:
            box.keeps_value = True
            self._leave()
        try:
            tag = read_tag(event.text)
        except BadInput as error:
            show_error(self.app, error)
            return
        self._go_to_tag(tag)

    def _go_to_tag(self, tag: str) -> None:
        queue = self.query_one(QueueList)
        row = queue.row_of_tag(tag)
        if row is None:
            self._open_unlisted(tag)
            return
        if not queue.go_to_unit(row.unit_id):
            self.query_one(FilterBox).value = ""
            queue.filter_text = ""
            queue.go_to_unit(row.unit_id)

    def _open_unlisted(self, tag: str) -> None:
        """A unit that has left the queue, such as a sold one, is opened; NotFound says there is none."""
        find = partial(call, "bench.views.particulars:unit_by_tag", self.desk, tag)
        self.do(find, partial(self.open_screen, places.UNIT))

    def _show_box(self, box: type[FilterBox] | type[JumpBox]) -> None:
        self.add_class("-finding")
        self.set_class(box is JumpBox, "-jumping")
        self.screen.set_focus(self.query_one(box))

    def _leave(self) -> None:
        self.screen.set_focus(self.query_one(QueueList))
        self._settle()

    def _settle(self) -> None:
        self.remove_class("-jumping")
        self.set_class(bool(self.query_one(FilterBox).value), "-finding")
