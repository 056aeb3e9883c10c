"""Every key as rows, made from the one table of keys."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol

from bench.dashboard.presenters.key_bar import shown_key
from bench.dashboard.presenters.rows import Row, cell, heading, room
from bench.views.columns import Table

HELP = Table[Any](
    "keys",
    "Keys",
    (
        room("Key", 12),
        room("What", 14),
        room("", 30, grow=1),
        room("Its name in the settings", 24, from_width=104),
    ),
)


class KeyLike(Protocol):
    """A key as the table of keys has it."""

    @property
    def id(self) -> str:
        """Its name, for remapping."""

    @property
    def keys(self) -> str:
        """The keys, with commas between."""

    @property
    def label(self) -> str:
        """In a word."""

    @property
    def tooltip(self) -> str:
        """In a sentence."""

    @property
    def group(self) -> str:
        """The heading it belongs under."""


def help_rows(title: str, keys: Sequence[KeyLike], own: Mapping[str, str]) -> tuple[Row, ...]:
    """One screen's keys under its name, each group together; the key of a row is the key's name."""
    groups = list(dict.fromkeys(key.group for key in keys))
    rows: list[Row] = []
    for group in groups:
        words = f"{title}: {group.casefold()}" if len(groups) > 1 else title
        rows += [heading((title, group), words), *(_row(key, own) for key in keys if key.group == group)]
    return tuple(rows)


def _row(key: KeyLike, own: Mapping[str, str]) -> Row:
    shown = " ".join(shown_key(one) for one in own.get(key.id, key.keys).split(","))
    cells = (cell(shown, "key"), cell(key.label, "strong"), cell(key.tooltip), cell(key.id, "muted"))
    return Row(key.id, cells)
