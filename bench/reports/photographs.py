"""Photographs in papers: named in text, and as pictures within a page, made small enough to send."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable
from pathlib import Path

from bench.domain.decoding import smaller_jpeg
from bench.errors import BadInput
from bench.reports.html_page import figure
from bench.views.photographs import ShownPhotograph

TITLE = "Photographs"
NOT_THERE = "the picture's file is missing or damaged"


def photograph_words(photographs: Iterable[ShownPhotograph]) -> tuple[str, ...]:
    """Each by its file's name, with its caption."""
    return tuple(f"{one.name}{f': {one.words}' if one.words else ''}" for one in photographs)


def figure_of(one: ShownPhotograph) -> str:
    """A picture whose file is missing or damaged leaves its words, and says so."""
    small = small_jpeg(one)
    if small is None:
        return figure("", f"{one.words or one.name} ({NOT_THERE})")
    return figure(f"data:image/jpeg;base64,{b64encode(small).decode('ascii')}", one.words)


def small_jpeg(one: ShownPhotograph) -> bytes | None:
    """The picture, small enough to send; None where its file is missing or damaged."""
    try:
        return smaller_jpeg(Path(one.path).read_bytes(), one.name)
    except (OSError, BadInput):
        return None
