"""Refurbishing bench: which unit is where, what comes next, how long it took and what it used."""

__version__ = "0.1.0"
