"""Looks that several tables share, by the names that screens know them under."""

from __future__ import annotations


def gain_look(minor: int | None) -> str:
    """The look of what was gained: a loss is an alert; beside it stands the sign, or words."""
    return "alert" if minor is not None and minor < 0 else "good"
