"""The keys under which a record stands in JSON and CSV: from its fields, and from what is derived."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from types import NoneType, UnionType
from typing import Any, NamedTuple, Union, get_args, get_origin, get_type_hints

from bench.domain.spans import Span
from bench.domain.weeks import IsoWeek
from bench.reports.derived import DERIVED, Derived

LENGTHS = frozenset(
    [
        *("attended_us", "unattended_us", "spent_us", "today_us"),
        *("median_us", "p80_us", "week_us", "in_week_us", "length_us"),
        *("after_return_us", "longest_us"),
    ]
)
QUANTITIES = frozenset(
    [
        *("on_hand", "full", "pack", "reorder_at", "expired"),
        *("quantity", "balance", "left", "counted", "difference"),
    ]
)
SIMPLE: dict[Any, str] = {
    int: "whole number",
    float: "number",
    str: "text",
    bool: "true or false",
    date: "day",
    IsoWeek: "week",
    Span: "month or year",
    NoneType: "null",
}


class Key(NamedTuple):
    """A key, and the type of what stands under it."""

    name: str
    hint: Any


def keys_of(record: type) -> tuple[Key, ...]:
    """The keys of a record: those of its fields, then those of what is derived."""
    return tuple(Key(name, hint) for name, hint in _hints(record).items())


def columns_of(*records: type) -> tuple[str, ...]:
    """The keys of these records that fit one cell, each once."""
    return tuple(
        dict.fromkeys(key.name for record in records for key in keys_of(record) if _is_flat(key.hint))
    )


def companions(name: str) -> tuple[str, ...]:
    """The keys under which a field of that name is told: an instant and a length each have a second one."""
    if name in LENGTHS:
        return name, f"{name.removesuffix('_us')}_minutes"
    if name.endswith("_us"):
        return name, f"{name.removesuffix('_us')}_local"
    return (f"{name}_thousandths",) if name in QUANTITIES else (name,)


def hint_words(hint: Any) -> str:
    """What stands under a key, in words."""
    if hint in SIMPLE:
        return SIMPLE[hint]
    inner = get_args(hint)
    if get_origin(hint) in (Union, UnionType):
        return " or ".join(hint_words(one) for one in inner)
    if get_origin(hint) is tuple:
        return f"list of {hint_words(inner[0])}" if inner[-1] is Ellipsis else "list"
    if get_origin(hint) is not None and issubclass(get_origin(hint), Mapping):
        return "object"
    return hint.__name__ if isinstance(hint, type) and is_dataclass(hint) else "value"


def records_in(hint: Any) -> Iterator[type]:
    """The records that a type is made of."""
    if is_dataclass(hint) and hint not in SIMPLE:
        assert isinstance(hint, type)
        yield hint
    for inner in get_args(hint):
        yield from records_in(inner)


@cache
def _hints(record: type) -> dict[str, Any]:
    hints = get_type_hints(record)
    named: dict[str, Any] = {}
    for field in fields(record):
        named |= _told(field.name, hints[field.name])
    for name, derived in DERIVED.get(record.__name__, {}).items():
        named |= _told(name, _hint_of(record, derived, hints))
    return named


def _told(name: str, hint: Any) -> Iterable[tuple[str, Any]]:
    first, *second = companions(name)
    local = str | None if NoneType in get_args(hint) else str
    return [(first, hint), *((key, local if key.endswith("_local") else hint) for key in second)]


def _hint_of(record: type, derived: Derived, hints: dict[str, Any]) -> Any:
    if derived.says_none:
        return bool
    told = getattr(record, derived.attribute, None)
    hint: Any = hints.get(derived.attribute)
    if isinstance(told, property):
        hint = get_type_hints(told.fget)["return"]
    return hint | None if derived.unless or derived.when else hint


def _is_flat(hint: Any) -> bool:
    inner = [one for one in get_args(hint) if one is not NoneType] or [hint]
    return get_origin(hint) is not tuple and all(one in SIMPLE for one in inner)
