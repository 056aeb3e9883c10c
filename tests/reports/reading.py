"""Ways to hold a document against the view it was made from."""

from __future__ import annotations

import unicodedata
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from typing import Any

from rich.cells import cell_len

from bench.domain.weeks import IsoWeek
from bench.reports.record_keys import TOLD_AS

WIDTH = 80
QUANTITIES = {"on_hand", "on_order", "full", "pack", "reorder_at", "expired", "quantity", "balance"}


def same(view: Any, facts: Any) -> None:
    """Every field of the view stands in the facts with its value, however deep."""
    if isinstance(view, IsoWeek):
        assert facts == str(view)
    elif is_dataclass(view):
        for field in fields(view):
            told = TOLD_AS.get(field.name, field.name)
            named = f"{told}_thousandths" if field.name in QUANTITIES else told
            same(getattr(view, field.name), facts[named])
    elif isinstance(view, tuple):
        assert isinstance(facts, list)
        assert len(facts) == len(view)
        for part, fact in zip(view, facts, strict=True):
            same(part, fact)
    else:
        assert facts == (view.isoformat() if isinstance(view, date) else view)
        assert isinstance(facts, bool) == isinstance(view, bool)


def instant_of(local: str) -> int:
    """Whole seconds of a local time with offset, in microseconds."""
    return round(datetime.fromisoformat(local).timestamp()) * 1_000_000


def companions_agree(facts: Any) -> int:
    """Every `_local` and `_minutes` says what its `_us` says; answer how many there were."""
    if isinstance(facts, list):
        return sum(companions_agree(one) for one in facts)
    if not isinstance(facts, dict):
        return 0
    seen = sum(companions_agree(one) for one in facts.values())
    for key, us in facts.items():
        name = key.removesuffix("_us")
        if name == key:
            continue
        seen += 1
        assert (f"{name}_local" in facts) != (f"{name}_minutes" in facts), key
        if f"{name}_minutes" in facts:
            minutes = facts[f"{name}_minutes"]
            assert (us is None) == (minutes is None)
            if us is None:
                continue
            pairs = zip(us, minutes, strict=True) if isinstance(us, list) else [(us, minutes)]
            assert all(abs(one - whole * 60_000_000) <= 30_000_000 for one, whole in pairs)
        elif us is None:
            assert facts[f"{name}_local"] is None
        else:
            assert instant_of(facts[f"{name}_local"]) == us // 1_000_000 * 1_000_000
    return seen


def is_plain(text: str) -> None:
    """The text fits a terminal of 80 columns, ends in one line end and commands no terminal."""
    assert text.endswith("\n")
    assert not text.endswith("\n\n")
    for line in text.split("\n"):
        assert cell_len(line) <= WIDTH, line
        assert line == line.rstrip()
        assert not any(unicodedata.category(character) in {"Cc", "Cf", "Cs"} for character in line)
