"""A model's page as lines: its head, what it takes, what came of its units; and what counts at an opening."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.domain.model_page import LABELS, NOTHING, WRITTEN, ModelPageSheet
from bench.domain.text import for_display
from bench.views.model_page import ModelLine


def models_head(models: Sequence[ModelLine], width: int) -> tuple[Line, ...]:
    """How many models there are, and of how many something is written."""
    written = sum(one.written for one in models)
    return (
        spread(
            (Part(" Models", "strong"),), (Part(f"{len(models)}, {written} written on ", "heading"),), width
        ),
    )


def page_head(page: ModelPageSheet, width: int) -> tuple[Line, ...]:
    """The model, and its screws in all."""
    left = (Part(f" {for_display(page.name)}", "strong"),)
    screws = f"{page.screws_in_all} screws known " if page.screws else ""
    return (spread(left, (Part(screws, "heading"),), width),)


def page_lines(page: ModelPageSheet, width: int) -> tuple[Line, ...]:
    """What is written of it, what came of its units, and what its newest is made of."""
    return (
        *_written(page, width),
        *_wrapped(page.past_words, width, "muted"),
        *_wrapped((f"{one}, by {page.specified_tag}" for one in page.made_of), width, ""),
    )


def opening_lines(page: ModelPageSheet | None, width: int) -> tuple[Line, ...]:
    """What counts when such a machine is opened: its traps and its screws, where they are written down."""
    if page is None:
        return ()
    traps = tuple(_wrapped((f"Traps: {page.traps}",), width, "warning")) if page.traps else ()
    screws = tuple(_wrapped((f"Screws: {one.words}" for one in page.screws), width, ""))
    return (*traps, *screws)


def _written(page: ModelPageSheet, width: int) -> Iterator[Line]:
    told = [f"{LABELS[name].capitalize()}: {getattr(page, name)}" for name in WRITTEN if getattr(page, name)]
    yield from _wrapped(told or (NOTHING,), width, "" if told else "muted")


def _wrapped(sentences: Sequence[str] | Iterator[str], width: int, look: str) -> Iterator[Line]:
    for sentence in sentences:
        for paragraph in sentence.split("\n"):
            for line in wrap(for_display(paragraph), width):
                yield (Part(line, look),)
