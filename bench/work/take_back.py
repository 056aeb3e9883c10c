"""Undo by its former name."""

from bench.work.undo import undo as take_back

__all__ = ["take_back"]
