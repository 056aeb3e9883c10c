"""The looks of parts as styles: asked of the app, so that they are worked out once and not once a widget."""

from __future__ import annotations

from functools import lru_cache

from rich.style import Style
from textual.color import Color
from textual.widget import Widget

from bench.dashboard.presenters.pieces import LOOKS

LOOK_CLASSES = frozenset(f"look--{look}" for look in LOOKS)


def ground_style(widget: Widget, look: str = "") -> Style:
    """The widget's own style, or with a look over it, for a whole line."""
    return widget.rich_style + look_style(widget, look) if look else widget.rich_style


def look_style(widget: Widget, look: str) -> Style:
    """What a look adds to the widget's own style; see-through colours are mixed with its background."""
    styles = widget.app.get_component_styles(f"look--{look}")
    return _style(
        widget.background_colors[1],
        styles.color if styles.has_rule("color") else None,
        styles.background if styles.has_rule("background") else None,
        styles.text_style,
    )


@lru_cache(maxsize=256)
def _style(behind: Color, colour: Color | None, background: Color | None, text_style: Style) -> Style:
    ground = behind if background is None else behind + background
    return text_style + Style(
        color=None if colour is None else (ground + colour).rich_color,
        bgcolor=None if background is None else ground.rich_color,
    )
