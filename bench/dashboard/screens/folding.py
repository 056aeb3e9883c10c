"""Panels beside the queue, or folded into one that a key cycles where there is no room for all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.pieces import clip

if TYPE_CHECKING:
    from bench.dashboard.doing import Doing as _Mixed
else:
    _Mixed = object

PANELS = {"safety": "Safety", "stock": "Stock", "week-panel": "Week", "tasks": "Tasks"}
STOPS = ("queue", "tasks", "stock")


WIDTHS = [(0, "-narrow"), (112, "-normal"), (180, "-wide")]
HEIGHTS = [(0, "-short"), (34, "-tall")]


def classes_at_start(size: Size) -> str:
    """The style classes that the framework gives the screen at this size, and the first panel's.

    Given from the start they need not be set later: that would style every widget once more before the
    first paint.
    """
    of_width = [name for least, name in WIDTHS if size.width >= least][-1]
    of_height = [name for least, name in HEIGHTS if size.height >= least][-1]
    return f"{of_width} {of_height} -on-safety"


class Folding(_Mixed):
    """Mixed into the first screen. The class `-on-...` says which panel is shown while they are folded.

    `_low`: what is low, told beneath the safety panel while the stock is folded away.
    """

    _low: str

    def on_resize(self) -> None:
        """Name the panels for the new size, once its style classes are set."""
        self.call_after_refresh(self._name_panels)

    @property
    def folded(self) -> bool:
        """Whether only one panel is shown at a time."""
        return self.has_class("-narrow") or self.has_class("-short")

    def action_next_panel(self) -> None:
        """Show the next panel; where all are shown, give the next one the focus."""
        if self.folded:
            names = [name for name in PANELS if name != "tasks" or not self.has_class("-wide")]
            at = next((at for at, name in enumerate(names) if self.has_class(f"-on-{name}")), -1)
            self._unfold(names[(at + 1) % len(names)])
            self.query_one("#queue").focus()
            return
        stops = [stop for name in STOPS if (stop := self.query_one(f"#{name}")).display]
        at = next((at for at, stop in enumerate(stops) if stop.has_focus), -1)
        stops[(at + 1) % len(stops)].focus()

    def _unfold(self, shown: str) -> None:
        self.remove_class(*(f"-on-{name}" for name in PANELS if name != shown))
        self.add_class(f"-on-{shown}")

    def _name_panels(self) -> None:
        more = f"  ({key_shown('first.next_panel', self.bench.own_keys)}: next panel)" if self.folded else ""
        for name, title in PANELS.items():
            self.query_one(f"#{name}", Widget).border_title = title + more
        low = clip(self._low, self.bench.size.width - 6) if self.folded else ""
        self.query_one("#safety", Widget).border_subtitle = Content(low)
