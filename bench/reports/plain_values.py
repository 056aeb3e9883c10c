"""Frozen views turned into plain values for JSON and CSV, by the rules told in bench.reports."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any

from bench.domain.amounts import INSTANT, LENGTH, THOUSANDTHS
from bench.domain.durations import MINUTE_US
from bench.domain.localtime import iso_local
from bench.domain.spans import Span
from bench.domain.text import cell_for_csv
from bench.domain.weeks import IsoWeek
from bench.errors import BadInput, BenchError
from bench.reports import SHAPE, SHAPES
from bench.reports.derived import DERIVED
from bench.reports.record_keys import TOLD_AS, amounts_of, companions

Facts = dict[str, Any]


def facts_of(view: Any, zone: str) -> Facts:
    """A frozen view as a dict: its fields, what is derived, and the companions of its times in the zone."""
    facts: Facts = {}
    amounts = amounts_of(view.__class__)
    for field in fields(view):
        facts.update(_named(field.name, getattr(view, field.name), amounts.get(field.name, ""), zone))
    for name, derived in DERIVED.get(type(view).__name__, {}).items():
        facts.update(_named(name, derived.of(view), amounts.get(name, ""), zone))
    return facts


def length(name: str, us: int | Sequence[int] | None) -> Facts:
    """A length of time, or several, or one that is not known: exact, and in whole minutes."""
    in_minutes = f"{name.removesuffix('_us')}_minutes"
    if us is None or isinstance(us, int):
        return {name: us, in_minutes: None if us is None else whole_minutes(us)}
    return {name: list(us), in_minutes: [whole_minutes(one) for one in us]}


def whole_minutes(us: int) -> int:
    """The nearest whole minute, a half away from zero."""
    minutes = (abs(us) + MINUTE_US // 2) // MINUTE_US
    return -minutes if us < 0 else minutes


def json_text(document: str, facts: Mapping[str, Any], *, lines: bool = True) -> str:
    """The facts as a JSON document, indented or in one line."""
    whole = {"document": document, "shape": SHAPES.get(document, SHAPE), **facts}
    return json.dumps(whole, ensure_ascii=False, indent=2 if lines else None, allow_nan=False) + "\n"


def error_json(error: BenchError) -> str:
    """What went wrong as a JSON document on one line: `title`, `what`, `to_do`, `exit_code`, and `faults`.

    `faults`: of what was typed, each by itself with the `field` that it speaks of.
    """
    faults = error.faults if isinstance(error, BadInput) else ()
    facts = {
        "title": error.title,
        "what": error.what,
        "to_do": error.remedy,
        "exit_code": error.exit_code,
        "faults": [{"field": one.field, "what": one.what, "to_do": one.remedy} for one in faults],
    }
    return json_text("error", facts, lines=False)


def csv_text(columns: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> str:
    """A table with a line of headings, by RFC 4180; what a row does not name stays empty."""
    import csv

    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([csv_cell(row.get(column)) for column in columns] for row in rows)
    return text.getvalue()


def csv_cell(value: Any) -> str:
    """One cell: text that a spreadsheet would run is marked, nothing becomes an empty cell."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return cell_for_csv(value) if isinstance(value, str) else str(value)


def _named(field: str, value: Any, amount: str, zone: str) -> Facts:
    name = TOLD_AS.get(field, field)
    if amount == LENGTH:
        return length(name, value)
    if amount == INSTANT:
        local = None if value is None else iso_local(value, zone)
        return {name: value, f"{name.removesuffix('_us')}_local": local}
    if amount == THOUSANDTHS:
        return {companions(name, amount)[0]: value}
    return {name: _plain(value, zone)}


def _plain(value: Any, zone: str) -> Any:
    if isinstance(value, tuple):
        return [_plain(one, zone) for one in value]
    if isinstance(value, IsoWeek | Span):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        return facts_of(value, zone)
    return value.isoformat() if isinstance(value, date) else value
