"""The dashboard's own colours, for dark and for light terminals."""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import Theme

DARK = Theme(
    name="bench-dark",
    primary="#7db3d8",
    secondary="#9fb4c7",
    accent="#e3b75f",
    warning="#e8a04e",
    error="#ff7a6b",
    success="#86c995",
    foreground="#dde3e8",
    background="#11161b",
    surface="#171d24",
    panel="#202932",
    dark=True,
    variables={
        "border": "#3a4856",
        "block-cursor-background": "#27394b",
        "input-selection-background": "#36566f",
        "scrollbar": "#3a4856",
        "scrollbar-background": "#11161b",
    },
)
LIGHT = Theme(
    name="bench-light",
    primary="#1d5f8a",
    secondary="#47607a",
    accent="#7a5200",
    warning="#8a4b00",
    error="#b3261e",
    success="#1f6b36",
    foreground="#1f262d",
    background="#fbfaf7",
    surface="#f3f1ec",
    panel="#e7e4dc",
    dark=False,
    variables={
        "border": "#b4b0a5",
        "block-cursor-background": "#cfe0ee",
        "input-selection-background": "#bcd3e6",
        "scrollbar": "#b4b0a5",
        "scrollbar-background": "#fbfaf7",
    },
)
_LIGHT_BACKGROUNDS = {"7", "15"}


def own_theme(environ: Mapping[str, str]) -> str:
    """The theme to start with where the person named none: light where the terminal says it is light.

    Some terminals tell the numbers of their two colours in COLORFGBG, the background last.
    """
    background = environ.get("COLORFGBG", "").rpartition(";")[2]
    return LIGHT.name if background in _LIGHT_BACKGROUNDS else DARK.name
