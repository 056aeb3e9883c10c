"""What the app does with a scan: it goes into the field that waits for it, or leads to what it names."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from textual.widget import Widget
from textual.widgets import Input, TextArea

from bench.dashboard.acts import places
from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing, say
from bench.dashboard.scanning import Scan
from bench.domain.text import quoted
from bench.errors import BenchError
from bench.views.scans import CARD, CONSUMABLE, DRIVE, PART, UNIT, Found

UNKNOWN_SCAN = "bench.dashboard.screens.dialogs.questions:UnknownScan"


class ReceivesScans:
    """For a screen that has its own use for a scan."""

    def keeps_scan(self, widget: Widget) -> bool:
        """Whether the text that came into this widget stays there."""
        del widget
        return False

    def scan_kept(self, widget: Widget) -> None:
        """The text stays in the widget, and the scan is over."""

    def scanned(self, found: Found) -> bool:
        """Deal with what a scan was found to be; False leaves that to the app."""
        del found
        return False


class TakesScans(Doing):
    """Mixed into the app."""

    def take_scan(self, scan: Scan, done: Callable[[], None]) -> None:
        """Deal with a scan, then say that the next key may come."""
        screen: object = self.app.screen
        widget = scan.into.widget if scan.into is not None else self.app.focused
        # A box of the framework's own: text it is.
        keeps = not isinstance(screen, ReceivesScans)
        if isinstance(widget, (Input, TextArea)) and (keeps or _keeps(screen, widget)):
            if scan.into is None:
                start, end = sorted(widget.selection)
                widget.replace(scan.text, start, end)  # type: ignore[arg-type]
            self._keep(screen, widget, done)
            return
        if scan.into is not None:
            scan.into.put_back()
        self.go_to_scanned(scan.text, done)

    def _keep(self, screen: object, widget: Widget, done: Callable[[], None]) -> None:
        def through() -> None:
            if isinstance(screen, ReceivesScans):
                screen.scan_kept(widget)
            done()

        if not widget.call_later(through):
            done()

    def go_to_scanned(self, text: str, done: Callable[[], None] = lambda: None) -> None:
        """Look up what a scanned text names and go there, or put it where it is waited for."""

        def then(found: Found) -> None:
            self._go(found)
            done()

        def failed(_error: BenchError) -> bool:
            done()
            return False

        self.do(partial(call, "bench.views.scans:resolve_scan", self.desk, text), then, failed=failed)

    def _go(self, found: Found) -> None:
        screen: object = self.app.screen
        if isinstance(screen, ReceivesScans) and screen.scanned(found):
            return
        if found.kind == CARD and not self.app.screen.is_modal:
            call("bench.dashboard.cards:obey", self, found)
            return
        if self.app.screen.is_modal:
            say(self.app, f"Scanned {found_words(found)} Nothing here waits for it.")
        else:
            self.bench.visits.open(_place_of(found))


def _place_of(found: Found) -> places.Place:
    """Where what was found is shown; what nobody knows is asked about."""
    from bench.dashboard.finding import line_scanned, place_of

    line = line_scanned(found)
    return place_of(line) if line is not None else places.Place(UNKNOWN_SCAN, (found,))


def _keeps(screen: object, widget: Widget) -> bool:
    return isinstance(screen, ReceivesScans) and screen.keeps_scan(widget)


def found_words(found: Found) -> str:
    """What was scanned, as a sentence."""
    if found.kind == UNIT:
        return f"unit {found.tag}, {found.name}."
    if found.kind == DRIVE:
        return f"the drive {found.name}" + (f" in unit {found.tag}." if found.tag else ".")
    if found.kind == PART:
        return f"the part {quoted(found.name)}" + (f" in unit {found.tag}." if found.tag else ".")
    if found.kind == CONSUMABLE:
        return f"{found.name}, a consumable."
    if found.kind == CARD:
        return f"the card of {quoted(found.name)}."
    return f"{quoted(found.text)}. {found.says}"
