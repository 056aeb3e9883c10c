"""The keys under which a record stands in JSON and CSV: from its fields, and from what is derived."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, NamedTuple, Union, get_args, get_origin, get_type_hints

from bench.domain.amounts import INSTANT, LENGTH, MINOR, THOUSANDTHS
from bench.domain.spans import Span
from bench.domain.weeks import IsoWeek
from bench.reports.derived import DERIVED, Derived

AMOUNTS = {
    INSTANT: "instant",
    LENGTH: "length of time",
    MINOR: "money",
    THOUSANDTHS: "quantity",
}
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


# What a stored name is called outside, where the interface has another word.
TOLD_AS = {
    "attended": "hands_on",
    "unattended": "machine_time",
    "lid_off": "cover_off",
    "held": "on_hold",
    "held_us": "on_hold_us",
    "uses": "consumables",
}


class Key(NamedTuple):
    """A key, and the type of what stands under it."""

    name: str
    hint: Any


def keys_of(record: type) -> tuple[Key, ...]:
    """The keys of a record: those of its fields, then those of what is derived."""
    named = dict(key for name, hint in _types(record) for key in _told(name, hint))
    return tuple(Key(name, hint) for name, hint in named.items())


def columns_of(*records: type) -> tuple[str, ...]:
    """The keys of these records that fit one cell, each once."""
    return tuple(
        dict.fromkeys(key.name for record in records for key in keys_of(record) if _is_flat(key.hint))
    )


def amount_in(hint: Any) -> str:
    """What whole numbers of that type count, by its name in `bench.domain.amounts`; empty for other types."""
    if get_origin(hint) is Annotated:
        return str(hint.__metadata__[0])
    return next((amount for inner in get_args(hint) if (amount := amount_in(inner))), "")


@cache
def amounts_of(record: Any) -> dict[str, str]:
    """What the fields of a record count, and what is derived from it; by name, those that count anything."""
    return {name: amount for name, hint in _types(record) if (amount := amount_in(hint))}


def companions(name: str, amount: str) -> tuple[str, ...]:
    """The keys under which a field is told: an instant and a length each have a second one."""
    name = TOLD_AS.get(name, name)
    if amount == LENGTH:
        return name, f"{name.removesuffix('_us')}_minutes"
    if amount == INSTANT:
        return name, f"{name.removesuffix('_us')}_local"
    thousandths = amount == THOUSANDTHS and not name.endswith("_thousandths")
    return (f"{name}_thousandths",) if thousandths else (name,)


def hint_words(hint: Any) -> str:
    """What stands under a key, in words."""
    if get_origin(hint) is Annotated:
        return AMOUNTS[hint.__metadata__[0]]
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
def _types(record: Any) -> tuple[tuple[str, Any], ...]:
    """The type of each field, and of what is derived, by its name."""
    hints = get_type_hints(record, include_extras=True)
    derived = DERIVED.get(record.__name__, {})
    return (
        *((field.name, hints[field.name]) for field in fields(record)),
        *((name, _hint_of(record, one, hints)) for name, one in derived.items()),
    )


def _told(name: str, hint: Any) -> Iterable[tuple[str, Any]]:
    first, *second = companions(name, amount_in(hint))
    local = str | None if NoneType in get_args(hint) else str
    return [(first, hint), *((key, local if key.endswith("_local") else _plain(hint)) for key in second)]


def _hint_of(record: type, derived: Derived, hints: dict[str, Any]) -> Any:
    if derived.says_none:
        return bool
    told = getattr(record, derived.attribute, None)
    hint: Any = hints.get(derived.attribute)
    if isinstance(told, property):
        hint = get_type_hints(told.fget, include_extras=True)["return"]
    return hint | None if derived.unless or derived.when else hint


def _is_flat(hint: Any) -> bool:
    plain = _plain(hint)
    inner = [one for one in get_args(plain) if one is not NoneType] or [plain]
    return get_origin(plain) is not tuple and all(one in SIMPLE for one in inner)


def _plain(hint: Any) -> Any:
    """The type without what it counts."""
    if get_origin(hint) is Annotated:
        return get_args(hint)[0]
    if get_origin(hint) in (Union, UnionType):
        return Union[tuple(_plain(one) for one in get_args(hint))]  # noqa: UP007 - of a tuple
    if get_origin(hint) is tuple:
        return tuple[tuple(_plain(one) for one in get_args(hint))]  # type: ignore[misc]
    return hint
