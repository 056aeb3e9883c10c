"""A machine's own file is taken in: into the unit whose screen it is, else into the one that it names."""

from __future__ import annotations

from bench.dashboard.acting import Acting
from bench.dashboard.acts import places

OF_ONE_UNIT = "unit"  # the screen whose acts are those of one unit


def take_in_file(screen: Acting) -> None:
    """Ask for the file; the unit is opened then, where its screen is not the one that asked."""
    of_one = screen.keys == OF_ONE_UNIT
    unit = screen.unit_here() if of_one else None  # type: ignore[attr-defined]

    def taken(unit_id: int) -> None:
        if unit is None or unit.unit_id != unit_id:
            screen.open_screen(places.UNIT, unit_id)

    screen.open_screen(places.INTAKE_FORM, *((unit.tag,) if unit is not None else ()), then=taken)
