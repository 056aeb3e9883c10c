"""Every key there is, for the help, the palette, `bench keys`, the README and the check of a person's own."""

from __future__ import annotations

from bench.dashboard.acts.act import Act
from bench.dashboard.keys import TABLES, acts_on

APP = acts_on("app")
SCREEN_KEYS = {screen: acts_on(screen) for screen in TABLES if screen != "app"}


def keys_of(screen: str) -> tuple[Act, ...]:
    """The acts of a screen in the order of its key bar, those of the whole app last."""
    return (*SCREEN_KEYS[screen], *APP)
