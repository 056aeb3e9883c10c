"""The shop's stages in words."""

from __future__ import annotations

from bench.domain.stages import StageLine


def stage_words(stage: StageLine) -> str:
    """A stage's name, and what is particular about it."""
    marks = [mark for mark, there in (("lid off", stage.lid_off), ("leaves the queue", stage.final)) if there]
    return f"{stage.name}  ({', '.join(marks)})" if marks else stage.name
