"""Every look in both themes can be read on every ground it may stand on: 4.5:1, WCAG 2.2, criterion 1.4.3."""

from __future__ import annotations

import pytest
from rich.color import ColorTriplet
from textual.color import Color

from bench.dashboard.presenters.pieces import LOOKS
from bench.dashboard.screens.dialogs.questions import AskEmpty
from bench.dashboard.themes import DARK, LIGHT
from bench.desk import Desk
from tests.docs.contrast import LEAST, contrast
from tests.screen.host import Host, opened, settled

GROUNDS = ("background", "surface", "panel", "block-cursor-background")
# How much of which colour lies over the surface behind a field, as the style sheets have it.
BLENDED = {"focused": ("primary", 0.15), "wrong": ("error", 0.15)}


def test_the_ratio_is_that_of_the_standard() -> None:
    """Black on white is 21:1 and a colour on itself 1:1 by its definition; #767676 on white is the well-known
    4.54:1, the lightest grey that does (from memory)."""
    black, white, grey = ColorTriplet(0, 0, 0), ColorTriplet(255, 255, 255), ColorTriplet(0x76, 0x76, 0x76)
    assert contrast(black, white) == contrast(white, black) == pytest.approx(21)
    assert contrast(grey, grey) == 1
    assert contrast(grey, white) == pytest.approx(4.54, abs=0.005)
    assert contrast(ColorTriplet(0x77, 0x77, 0x77), white) < LEAST


@pytest.mark.parametrize("theme", [DARK.name, LIGHT.name])
async def test_every_look_on_every_ground(busy: Desk, theme: str) -> None:
    faint = []
    async with opened(busy, AskEmpty("a form")) as (app, pilot):
        app.theme = theme
        await settled(pilot)
        for name, ground in grounds(app).items():
            for look in ("", *LOOKS):
                front, back = colours(app, look, ground)
                ratio = contrast(front, back)
                if ratio < LEAST:
                    faint.append(f"{look or 'plain'} on {name}: {ratio:.2f}")
    assert faint == []


def grounds(app: Host) -> dict[str, Color]:
    """What a line may stand on."""
    variables = {name: Color.parse(app.theme_variables[name]) for name in (*GROUNDS, "primary", "error")}
    found = {name: variables[name] for name in GROUNDS}
    for name, (colour, share) in BLENDED.items():
        found[name] = variables["surface"].blend(variables[colour], share)
    return found


def colours(app: Host, look: str, ground: Color) -> tuple[ColorTriplet, ColorTriplet]:
    """Those of a letter and of what is behind it."""
    front = Color.parse(app.theme_variables["foreground"])
    if look:
        styles = app.get_component_styles(f"look--{look}")
        front = styles.color if styles.has_rule("color") else front
        ground = ground + styles.background if styles.has_rule("background") else ground
        if front.auto:
            front = ground.get_contrast_text(front.a)
    return _triplet(ground + front), _triplet(ground)


def _triplet(colour: Color) -> ColorTriplet:
    return ColorTriplet(colour.r, colour.g, colour.b)
