"""Widgets that take the size a layout gives them without asking for another layout of the whole screen."""

from __future__ import annotations

from textual.containers import Horizontal, Vertical
from textual.geometry import Size
from textual.reactive import Reactive
from textual.widget import Widget
from textual.widgets import Static


class Steady(Widget):
    """Stands behind the framework's class among the bases. A scrollbar that comes or goes still lays out."""

    virtual_size = Reactive(Size(0, 0), repaint=False)


class Words(Static, Steady):
    """A text."""


class Stacked(Vertical, Steady):
    """Widgets under one another."""


class SideBySide(Horizontal, Steady):
    """Widgets beside one another."""
