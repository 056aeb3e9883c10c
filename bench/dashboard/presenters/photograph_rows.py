"""The photographs of a unit in words: the heading, and what became of pictures that were given."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.domain.photographs import OUTCOMES, PhotographErased, PhotographsKept
from bench.domain.text import for_display
from bench.views.kinds import Context
from bench.views.photographs import PhotographLine, UnitPhotographs
from bench.views.tables.photographs import shows_words


def photographs_head(facts: UnitPhotographs, width: int) -> tuple[Line, ...]:
    """The unit, how many there are and go into papers, and whether a file is missing."""
    left = (Part(f" Photographs of {facts.tag}", "strong"), Part(f"  {for_display(facts.model)}"))
    kept = [one for one in facts.lines if one.erased_us is None]
    missing = sum(not one.there for one in kept)
    shown = sum(one.shown for one in kept)
    right = Part(f"{len(kept)} kept, {shown} in papers ")
    if missing:
        right = Part(f"! {missing} of {len(kept)} without a file ", "alert")
    return (spread(left, (right,), width),)


def photograph_detail(one: PhotographLine | None, context: Context, width: int) -> tuple[Line, ...]:
    """The whole caption of the photograph under the cursor, and what is known of it."""
    if one is None:
        return ()
    if one.erased_us is not None:
        words = f"Kept {context.instant(one.kept_us)}, erased {context.instant(one.erased_us)}"
        return ((Part(words, "muted"),),)
    known = [
        f"shows {shows_words(one)}" if shows_words(one) else "",
        "" if one.taken_us is None else f"taken {context.instant(one.taken_us)}",
        f"kept {context.instant(one.kept_us)} by {one.person}",
        "" if one.there else "its file is missing: attach the same picture again, or erase it",
    ]
    told = [*wrap(one.caption or "No caption.", width)]
    about = wrap(" · ".join(part for part in known if part), width)
    return (*((Part(line),) for line in told), *((Part(line, "muted"),) for line in about))


def kept_words(kept: PhotographsKept) -> str:
    """What became of each picture, in sentences."""
    words = [f"{one.photograph_id} {one.name} {OUTCOMES[one.outcome]}." for one in kept.photographs]
    words += [f"The original could not be deleted: {one}." for one in kept.left]
    return for_display(f"{kept.tag}: {' '.join(words)}")


def erased_words(erased: PhotographErased) -> str:
    """What was erased, and where something of it may be left."""
    words = [f"Erased photograph {erased.photograph_id} of {erased.tag}."]
    if erased.left:
        words.append(f"Its file could not be deleted: {erased.left}. Delete it by hand.")
    if erased.not_rewritten:
        words.append(f"Old bytes of its caption may be left in the data file ({erased.not_rewritten}).")
    if erased.copies:
        words.append("Copies of the data file may hold its caption; none holds the picture.")
    return for_display(" ".join(words))
