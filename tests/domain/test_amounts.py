"""Every field and derived value that is named after an instant, a length or money says so in its type."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from importlib import import_module
from typing import Any, get_args, get_type_hints

import pytest

import bench.domain
import bench.views
import bench.work
from bench.domain.amounts import INSTANT, LENGTH, MINOR, THOUSANDTHS
from bench.reports.record_keys import amount_in

ENDINGS = {"_us": (INSTANT, LENGTH), "_minor": (MINOR,), "_thousandths": (THOUSANDTHS,)}


def records() -> Iterator[type]:
    for package in (bench.domain, bench.views, bench.work):
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            for found in vars(import_module(module.name)).values():
                if isinstance(found, type) and is_dataclass(found) and found.__module__ == module.name:
                    yield found


def whole_numbers(hint: Any) -> bool:
    return hint is int or any(whole_numbers(inner) for inner in get_args(hint) if inner is not hint)


@pytest.mark.parametrize(
    "record", list(records()), ids=lambda record: f"{record.__module__}.{record.__name__}"
)
def test_a_whole_number_says_what_it_counts(record: type) -> None:
    hints = get_type_hints(record, include_extras=True)
    told = {field.name: hints[field.name] for field in fields(record)}
    told |= {
        name: get_type_hints(one.fget, include_extras=True).get("return")
        for name, one in vars(record).items()
        if isinstance(one, property)
    }
    for name, hint in told.items():
        for ending, amounts in ENDINGS.items():
            if name.endswith(ending) and whole_numbers(hint):
                assert amount_in(hint) in amounts, f"{name}: {hint}"


def test_there_are_records_to_look_at() -> None:
    assert len(list(records())) > 150
