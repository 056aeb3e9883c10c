"""The table of keys, before and after: `python -m tests.screen.keystrokes.table` writes it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from tests.screen.keystrokes.counts import BEFORE, NOW
from tests.screen.keystrokes.person import Pressed

WHERE = Path(__file__).parents[2] / "benchmarks" / "KEYSTROKES.md"
WORDS = """# Keys of the main acts

Counted from the first screen at 120x36, key by key, through the running program by
`tests/screen/test_keystrokes.py`, which fails where an act takes another number than stands here and looks
each time whether the act is done. "Keys" lead, choose, tick or send; "typed" are characters put into fields,
such as a price, a reason, a serial number. A scan is no key. "Before" was counted in the same way at commit
d46875a of 27 November 2026. The table is written by `python -m tests.screen.keystrokes.table`.

The stocktake is of six consumables. Closing has four lines, each looked at and ticked by a press of its own;
the key that opens the list is counted too. Six of the seven graded parts are alike and the lid is not;
its "before" was counted as 65 without that exception, and worked out from there.
Seven entries stand in the week. Five laptops of the lot are of one model.

| act | keys before | typed before | keys | typed |
|---|--:|--:|--:|--:|
"""


def table(before: Mapping[str, Pressed], now: Mapping[str, Pressed]) -> str:
    """The whole page."""
    lines = (
        f"| {name} | {was.keys} | {was.typed} | {now[name].keys} | {now[name].typed} |\n"
        for name, was in before.items()
    )
    return WORDS + "".join(lines)


if __name__ == "__main__":
    WHERE.write_text(table(BEFORE, NOW), encoding="utf-8")
