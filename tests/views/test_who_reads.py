"""Widgets and presenters are handed records of the views: they import no reader."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib import import_module
from inspect import isfunction, ismodule, signature
from pathlib import Path

import pytest

import bench.dashboard

DASHBOARD = Path(bench.dashboard.__path__[0])
HANDED = [path for part in ("presenters", "widgets") for path in sorted((DASHBOARD / part).glob("*.py"))]


def taken_from_views(path: Path) -> Iterator[tuple[str, str]]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("bench.views"):
            for alias in node.names:
                yield node.module or "", alias.name


def test_some_of_them_are_handed_records() -> None:
    assert [path for path in HANDED if list(taken_from_views(path))]


@pytest.mark.parametrize("path", HANDED, ids=lambda path: path.stem)
def test_only_records_are_imported_from_views(path: Path) -> None:
    readers = [name for module, name in taken_from_views(path) if _is_reader(module, name)]
    assert readers == []


def test_a_reader_is_known_by_what_it_is_handed() -> None:
    assert _is_reader("bench.views.stock", "read_stock")
    assert _is_reader("bench.views.stock", "layers")
    assert not _is_reader("bench.views.stock", "StockBook")
    assert not _is_reader("bench.views.kinds", "context_of")


def _is_reader(module: str, name: str) -> bool:
    """Whether it is handed a desk or a connection; a module is taken for one, for all that is in it."""
    found = getattr(import_module(module), name, None)
    if found is None or ismodule(found):
        return True
    return isfunction(found) and bool({"desk", "connection"} & set(signature(found).parameters))
