"""Drives to choose from."""

from __future__ import annotations

from bench.views.drives import DriveSheet


def shelf_drives(drives: DriveSheet) -> tuple[tuple[str, str], ...]:
    """Each drive by name, with how its wipe stands."""
    return tuple((str(one.drive_id), f"{one.name}  ({one.standing})") for one in drives.drives)
