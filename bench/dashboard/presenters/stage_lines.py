"""The shop's stages in words."""

from __future__ import annotations

from bench.views.shop import StageLine


def stage_words(stage: StageLine) -> str:
    """A stage's name, and what is particular about it."""
    marks = [
        mark
        for mark, there in (
            ("cover off", stage.lid_off),
            ("listed", stage.lists),
            ("leaves the queue", stage.final),
            ("sold", stage.sells),
        )
        if there
    ]
    return f"{stage.name}  ({', '.join(marks)})" if marks else stage.name
