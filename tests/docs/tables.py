"""The README's tables of keys and commands, made from the program by `python -m tests.docs.tables`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

import typer.main

from bench.cli import program
from bench.dashboard.acts.act import Act
from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.dashboard.presenters.key_bar import shown_key

README = Path(__file__).parents[2] / "README.md"
GROUPS = {
    "commands at the bench": (
        *("queue", "unit", "add", "collector", "intake", "spec", "owner", "job", "quote", "access"),
        *("start", "stop", "resume", "done", "skip", "test", "fault", "photo"),
        *("move", "hold", "release", "tick", "cell"),
    ),
    "commands for buying": (
        *(
            "most-to-pay",
            "offer",
            "buy",
            "buy-lot",
            "lot",
            "bought",
            "donor",
            "model",
            "past-prices",
            "compare",
        ),
    ),
    "commands for parts": (
        *("part", "shelf", "order", "order-sent", "arrived", "wrong-part", "send-back", "refunded"),
        *("cancel-order", "wait", "suppliers"),
    ),
    "commands for the condition": ("reading", "condition", "drive", "wipe", "certificate", "grade", "sheet"),
    "commands for money and selling": (
        *(
            "money",
            "next",
            "forecast",
            "return-rates",
            "listing",
            "public",
            "sell",
            "handover",
            "return",
            "leave",
            "shipping",
        ),
        *("register", "parties", "erase", "month", "year", "expense", "power", "channel", "trade"),
    ),
    "commands for stock and time": (
        *("stock", "restock", "count", "code", "hazard", "week", "journal"),
        *("undo", "redo", "forgotten", "label"),
    ),
    "commands of the program": (
        *("people", "calc", "import", "calendar", "export", "check", "backup", "restore"),
        *("keys", "manual", "serve", "demo"),
    ),
}
_BLOCK = "<!-- {name}: python -m tests.docs.tables -->\n"
_END = "<!-- end -->"


def table_in(readme: str, name: str) -> str:
    """What stands in the README under this name."""
    _, _, rest = readme.partition(_BLOCK.format(name=name))
    return rest.partition(_END)[0]


def tables() -> dict[str, str]:
    """Each table as it should be, by its name."""
    told = commands()
    others = [key for screen, keys in SCREEN_KEYS.items() if screen != "first" for key in keys]
    return {
        "keys of the first screen": _keys((*SCREEN_KEYS["first"], *APP)),
        "keys of the other screens": _keys(others),
        **{group: _commands(told, names) for group, names in GROUPS.items()},
    }


def commands() -> dict[str, str]:
    """What each command does, by its name, in the order of `bench --help`."""
    group = typer.main.get_command(program())
    return {name: first_sentences(one.help or "") for name, one in group.commands.items() if not one.hidden}  # type: ignore[attr-defined]


def first_sentences(text: str) -> str:
    """The first paragraph of a docstring as the one line that fits into a cell."""
    return " ".join(text.strip().partition("\n\n")[0].split())


def written(readme: str) -> str:
    """The README with its tables as they should be."""
    for name, table in tables().items():
        before, start, rest = readme.partition(_BLOCK.format(name=name))
        _, end, after = rest.partition(_END)
        readme = before + start + table + end + after
    return readme


def _keys(keys: Iterable[Act]) -> str:
    rows = ((_shown(key.keys), key.tooltip, f"`{key.id}`") for key in keys)
    return _table(("key", "does", "name"), rows)


def _commands(told: Mapping[str, str], names: Iterable[str]) -> str:
    return _table(("command", "does"), ((f"`bench {name}`", told[name]) for name in names))


def _shown(keys: str) -> str:
    return " ".join(f"`{shown_key(key)}`" for key in keys.split(","))


def _table(heads: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    lines = [heads, ("---",) * len(heads), *rows]
    return "".join(f"| {' | '.join(cells)} |\n" for cells in lines)


if __name__ == "__main__":
    README.write_text(written(README.read_text(encoding="utf-8")), encoding="utf-8")
