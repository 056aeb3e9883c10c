"""The tables of keys and commands in README and manual: `python -m tests.docs.tables` makes them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

import typer.main

from bench.cli import program
from bench.commands.by_subject import GROUPS as BY_SUBJECT
from bench.dashboard.acts.act import Act
from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.dashboard.presenters.key_bar import shown_key

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
MANUAL = ROOT / "bench" / "manual"
TWELVE = (
    *("first.add_unit", "first.start_stop", "first.finish", "first.move_on", "first.opening_checklist"),
    *("first.closing_checklist", "first.hold", "first.restock", "first.undo", "first.filter", "first.more"),
    "app.manual",
)
GROUPS = {f"commands {subject}": tuple(commands) for subject, commands in BY_SUBJECT.items()}
_BLOCK = "<!-- {name}: python -m tests.docs.tables -->\n"
_END = "<!-- end -->"


def documents() -> tuple[Path, ...]:
    """The files whose tables are made: the README and the pages of the manual."""
    return (README, *sorted(MANUAL.glob("*.md")))


def table_in(text: str, name: str) -> str | None:
    """What stands in a text under this name; None where it has no such table."""
    _, begun, rest = text.partition(_BLOCK.format(name=name))
    return rest.partition(_END)[0] if begun else None


def tables() -> dict[str, str]:
    """Each table as it should be, by its name."""
    told = commands()
    others = [key for screen, keys in SCREEN_KEYS.items() if screen != "first" for key in keys]
    by_id = {key.id: key for key in (*SCREEN_KEYS["first"], *APP)}
    return {
        "twelve keys": _keys(by_id[key_id] for key_id in TWELVE),
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


def written(text: str) -> str:
    """A text with its tables as they should be."""
    for name, table in tables().items():
        if table_in(text, name) is not None:
            before, start, rest = text.partition(_BLOCK.format(name=name))
            _, end, after = rest.partition(_END)
            text = before + start + table + end + after
    return text


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
    for path in documents():
        path.write_text(written(path.read_text(encoding="utf-8")), encoding="utf-8")
