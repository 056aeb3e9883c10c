"""The pages of the manual: their topics in the order of reading, and each page read from its file."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import NamedTuple

from bench.domain.text import quoted
from bench.errors import NotFound
from bench.manual.blocks import Block, Kind, blocks_of

HERE = Path(__file__).parent
TOPICS = (
    *("start", "arrival", "buying", "bench", "safety", "tests", "stock", "parts", "condition", "models"),
    *("repairs", "photographs", "papers", "selling", "register", "week", "people", "scanner"),
    *("calculators", "settings", "files", "copies", "trouble", "keys", "commands"),
)


class Page(NamedTuple):
    """A page: its topic, its title, and all of its blocks, the title's own first."""

    topic: str
    title: str
    blocks: tuple[Block, ...]

    def index_of(self, anchor: str) -> int:
        """Where the heading of that anchor stands among the blocks; the first block where there is none."""
        headings = (
            at for at, one in enumerate(self.blocks) if one.kind is Kind.HEADING and one.anchor == anchor
        )
        return next(headings, 0)


@cache
def read_page(topic: str) -> Page:
    """The page of a topic; NotFound names the topics where there is none."""
    if topic not in TOPICS:
        raise NotFound(f"The manual has no page {quoted(topic)}.", f"Its pages are: {', '.join(TOPICS)}.")
    blocks = blocks_of(source_of(topic))
    return Page(topic, blocks[0].text, blocks)


def source_of(topic: str) -> str:
    """The Markdown of a page."""
    return (HERE / f"{topic}.md").read_text(encoding="utf-8")
