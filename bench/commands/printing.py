"""Print what happened: literally, without markup, plain where nobody looks."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict, is_dataclass
from typing import Any

from bench.domain.text import for_display

CAUTION = "bold yellow"
GOOD = ""


def say(line: str, *, style: str = "") -> None:
    """One line of our own, with text from people in it shown literally."""
    shown = for_display(line)
    if style and sys.stdout.isatty():
        from rich.console import Console
        from rich.text import Text

        Console(highlight=False, markup=False, emoji=False).print(Text(shown, style=style), soft_wrap=True)
    else:
        sys.stdout.write(f"{shown}\n")


def say_sheet(text: str) -> None:
    """A document made by reports/, as it is."""
    sys.stdout.write(text if text.endswith("\n") else f"{text}\n")


def say_json(value: Any) -> None:
    """A frozen answer of a use case as JSON: dates by ISO 8601, keys as in the code."""
    sys.stdout.write(json.dumps(_plain(value), ensure_ascii=False, indent=2, default=str) + "\n")


def complain(sentence: str) -> None:
    """One sentence on standard error."""
    sys.stderr.write(f"bench: {for_display(sentence)}\n")


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return asdict(value)
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    return value
