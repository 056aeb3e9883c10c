"""Print what happened: literally, without markup, plain where nobody looks."""

from __future__ import annotations

import sys
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from bench.domain.text import for_display
from bench.errors import Unprinted

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.reports.forms import Forms

CAUTION = "bold yellow"


def say(line: str, *, style: str = "") -> None:
    """One line of our own, with text from people in it shown literally."""
    shown = for_display(line)
    if style and sys.stdout.isatty():
        from rich.console import Console
        from rich.text import Text

        Console(highlight=False, markup=False, emoji=False).print(Text(shown, style=style), soft_wrap=True)
    else:
        _put(f"{shown}\n")


def say_sheet(text: str) -> None:
    """A document made by reports/, as it is."""
    _put(text if text.endswith("\n") else f"{text}\n")


def say_or_save(view: Any, forms: Forms, to: str, *, as_json: bool = False, as_csv: bool = False) -> None:
    """A document on standard output as text, JSON or CSV; where `to` names a file, in that file instead."""
    if not to:
        written = forms[".json" if as_json else ".csv" if as_csv else ".txt"](view)
        assert isinstance(written, str)
        say_sheet(written)
        return
    from bench.reports.saving import save_as

    say(f"Wrote {save_as(view, forms, to)}.")


def say_json(desk: Desk, document: str, answer: Any) -> None:
    """A use case's answer as JSON, by the same rules as the sheets of reports/."""
    from bench.reports.plain_values import facts_of, json_text
    from bench.views.shop import read_shop

    zone = read_shop(desk).zone
    if isinstance(answer, tuple):
        facts = {document: [facts_of(one, zone) for one in answer]}
    else:
        facts = facts_of(answer, zone)
    _put(json_text(document, facts))


def all_out() -> None:
    """Bring all that was said to whoever reads it. Unprinted where it cannot be."""
    _put("", flush=True)


def complain(sentence: str) -> None:
    """One sentence on standard error; where nobody can read that either, the exit code says it alone."""
    with suppress(OSError):
        sys.stderr.write(f"bench: {for_display(sentence)}\n")
        sys.stderr.flush()


def _put(text: str, *, flush: bool = False) -> None:
    try:
        sys.stdout.write(text)
        if flush:
            sys.stdout.flush()
    except OSError as error:
        raise Unprinted(error) from error
