"""A described table with its records, saved: one way for every table there is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from bench.reports.forms import Forms
from bench.reports.html_page import page, told_html
from bench.reports.plain_tables import sections, told, under
from bench.reports.plain_values import Facts, csv_text, facts_of, json_text
from bench.views.columns import Table
from bench.views.kinds import Context


@dataclass(frozen=True, slots=True)
class Shown:
    """A table as it is shown: its records in their order, and what its figures are told by."""

    table: Table[Any]
    records: Sequence[Any]
    context: Context


def table_text(shown: Shown) -> str:
    """The table under its title, for a terminal of 80 columns."""
    return sections(under(shown.table.title, told(shown.table, shown.records, shown.context)))


def table_html(shown: Shown) -> str:
    """The table as one page to print or send."""
    return page(shown.table.title, told_html(shown.table, shown.records, shown.context), wide=True)


def table_csv(shown: Shown) -> str:
    """A line a record, exact, under the keys that JSON has; what is within a record stands beside its own."""
    rows = [_flat(facts) for facts in _facts(shown)]
    columns = tuple(dict.fromkeys(key for row in rows for key in row))
    if any(column.endswith("_minor") for column in columns) and "currency" not in columns:
        columns = (*columns, "currency")
    return csv_text(columns, ({"currency": shown.context.currency, **row} for row in rows))


def table_json(shown: Shown) -> str:
    """The records as a JSON document; `table` names the table."""
    about = {"table": shown.table.name, "currency": shown.context.currency, "zone": shown.context.zone}
    return json_text("table", {**about, "rows": _facts(shown)})


def table_workbook(shown: Shown) -> bytes:
    """The records as a sheet of a workbook, with real decimals and dates."""
    from bench.reports.workbook import facts_leaf, workbook

    rows = [_flat(facts) for facts in _facts(shown)]
    name, context = shown.table.name.replace("_", " "), shown.context
    return workbook([facts_leaf(name, rows, context.currency, context.zone)])


def table_forms() -> Forms:
    """The forms of every described table."""
    return {
        ".txt": table_text,
        ".csv": table_csv,
        ".html": table_html,
        ".json": table_json,
        ".xlsx": table_workbook,
    }


def _facts(shown: Shown) -> list[Facts]:
    return [facts_of(record, shown.context.zone) for record in shown.records]


def _flat(facts: Facts) -> Facts:
    flat: Facts = {}
    for key, value in facts.items():
        if isinstance(value, dict):
            flat |= {name: one for name, one in _flat(value).items() if name not in facts}
        elif not isinstance(value, list):
            flat[key] = value
    return flat
