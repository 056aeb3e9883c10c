"""The texts that people read: what the code says in sentences and headings, help, papers and pages."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

from typer._click.core import Command
from typer.main import get_command

import bench.views.tables
from bench.cli import program
from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.views.columns import Table

ROOT = Path(__file__).parents[2]
# What is stored or written by others is no text of the interface.
LEFT_OUT = ("bench/store/", "bench/collector/", "bench/former_names.py")
_SQL = re.compile(r"\b(SELECT|WHERE|JOIN|PRAGMA|GROUP BY|CASE WHEN)\b|= [01]\b")


def said_in_code() -> Iterator[tuple[str, str]]:
    """Every text of several words, or that begins with a capital; docstrings and names apart."""
    for path in sorted((ROOT / "bench").rglob("*.py")):
        where = path.relative_to(ROOT).as_posix()
        if not where.startswith(LEFT_OUT):
            for line, text in _texts(ast.parse(path.read_text("utf-8"))):
                if re.search(r"[ A-Z]", text) and not _SQL.search(text):
                    yield f"{where}:{line}", text


def acts() -> Iterator[tuple[str, str]]:
    """What every act is called, and what it says of itself."""
    for act in (*APP, *(one for of_screen in SCREEN_KEYS.values() for one in of_screen)):
        yield act.id, f"{act.label}. {act.tooltip}"


def headings() -> Iterator[tuple[str, str]]:
    """Title, columns and empty text of every table that is described."""
    for module in iter_modules(bench.views.tables.__path__, "bench.views.tables."):
        for name, one in vars(import_module(module.name)).items():
            if isinstance(one, Table):
                told = (one.title, one.empty, *(column.heading for column in one.columns))
                yield f"{module.name}:{name}", ". ".join(told)


def help_texts() -> Iterator[tuple[str, str]]:
    """What every command and option says of itself."""
    of_program: dict[str, Command] = get_command(program()).commands  # type: ignore[attr-defined]
    for name, command in of_program.items():
        yield f"bench {name}", f"{name}. {command.help}"
        for parameter in command.params:
            told = (*parameter.opts, getattr(parameter, "help", None) or "")
            yield f"bench {name} {parameter.name}", " ".join(told)


def pages() -> Iterator[tuple[str, str]]:
    """The README and the manual, line by line, without names in backquotes and blocks of commands."""
    for path in (ROOT / "README.md", *sorted((ROOT / "bench" / "manual").glob("*.md"))):
        text = re.sub(
            r"(?ms)^```.*?^```", lambda block: "\n" * block.group().count("\n"), path.read_text("utf-8")
        )
        for number, line in enumerate(text.splitlines(), 1):
            yield f"{path.name}:{number}", re.sub(r"`[^`]*`|\]\([^)]*\)", " ", line)


def _texts(tree: ast.Module) -> Iterator[tuple[int, str]]:
    inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    inside |= {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}  # docstrings
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            parts = (one.value if isinstance(one, ast.Constant) else "…" for one in node.values)
            yield node.lineno, "".join(map(str, parts))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inside:
            yield node.lineno, node.value
