"""A workbook for a spreadsheet: amounts as decimals, instants and days as dates, text always as text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from io import BytesIO
from typing import Any, NamedTuple

from bench.domain.localtime import local_datetime
from bench.domain.money import minor_digits
from bench.errors import BadInput, NotInstalled
from bench.views.export import Export, ExportTable

LONGEST_NAME = 31  # of a sheet
MOST_ROWS = 1_048_575  # beneath the headings
CLOCKS = ("steady_us",)  # what a steady clock read: no instant
THOUSANDTHS = ("quantity", "pack_quantity", "reorder_quantity")


class Leaf(NamedTuple):
    """A sheet: its name, its headings, its rows of plain values, decimals, days and instants."""

    name: str
    headings: Sequence[str]
    rows: Iterable[Sequence[Any]]


def workbook(leaves: Iterable[Leaf]) -> bytes:
    """The sheets as an .xlsx file. BadInput where the library is not installed, or a sheet has no room."""
    try:
        import xlsxwriter
    except ImportError:
        raise NotInstalled("Workbooks need", "xlsx") from None
    out = BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(out, options | {"strings_to_numbers": False}) as book:
        looks = {
            datetime: book.add_format({"num_format": "yyyy-mm-dd hh:mm:ss"}),
            date: book.add_format({"num_format": "yyyy-mm-dd"}),
        }
        strong = book.add_format({"bold": True})
        for leaf in leaves:
            sheet = book.add_worksheet(leaf.name[:LONGEST_NAME])
            sheet.freeze_panes(1, 0)
            sheet.write_row(0, 0, leaf.headings, strong)
            for at, row in enumerate(leaf.rows, start=1):
                if at > MOST_ROWS:
                    raise BadInput(f"{leaf.name} has more rows than a sheet holds.", "Export it as CSV.")
                for column, value in enumerate(row):
                    _write(sheet, at, column, value, looks)
    return out.getvalue()


def _write(sheet: Any, row: int, column: int, value: Any, looks: Mapping[type[date], Any]) -> None:
    if value is None or value == "":
        return
    if isinstance(value, (datetime, date)):
        sheet.write_datetime(row, column, value, looks[type(value)])
    elif isinstance(value, bool):
        sheet.write_boolean(row, column, value)
    elif isinstance(value, (int, float)):
        sheet.write_number(row, column, value)
    else:
        sheet.write_string(row, column, str(value))


def export_workbook(export: Export, currency: str) -> bytes:
    """Everything in the file, a sheet a table: what its columns are called says what they hold."""
    return workbook(_table_leaf(table, currency, export.zone) for table in export.tables)


def _table_leaf(table: ExportTable, currency: str, zone: str) -> Leaf:
    readers = [_reader(name, currency, zone) for name in table.columns]
    headings = [_heading(name, currency) for name in table.columns]
    rows = ([read(cell) for read, cell in zip(readers, row, strict=True)] for row in table.rows)
    return Leaf(table.name, headings, rows)


def facts_leaf(name: str, rows: Sequence[dict[str, Any]], currency: str, zone: str) -> Leaf:
    """A described table's records, flat, as a sheet."""
    columns = list(dict.fromkeys(key for row in rows for key in row if not key.endswith("_local")))
    readers = {key: _reader(key, currency, zone) for key in columns}
    cells = ([readers[key](row.get(key)) for key in columns] for row in rows)
    return Leaf(name, [_heading(key, currency) for key in columns], cells)


def _heading(name: str, currency: str) -> str:
    if name.endswith("_minor"):
        return f"{name.removesuffix('_minor')} {currency}"
    if _is_instant(name):
        return name.removesuffix("_us")
    return name


def _is_instant(name: str) -> bool:
    return name.endswith("_us") and name not in CLOCKS and not name.endswith(("length_us", "spent_us"))


def _reader(name: str, currency: str, zone: str) -> Any:
    if name.endswith("_minor"):
        whole = 10 ** minor_digits(currency)
        return lambda cell: cell / whole if isinstance(cell, int) else cell
    if _is_instant(name):
        return lambda cell: _instant(cell, zone)
    if name in THOUSANDTHS:
        return lambda cell: cell / 1000 if isinstance(cell, int) else cell
    return _plain


def _instant(cell: Any, zone: str) -> Any:
    return local_datetime(cell, zone).replace(tzinfo=None, microsecond=0) if isinstance(cell, int) else cell


def _plain(cell: Any) -> Any:
    """A day written as 2026-11-28 as a day; anything else as it is."""
    if isinstance(cell, str) and len(cell) == len("2026-11-28") and cell[4:5] == cell[7:8] == "-":
        try:
            return date.fromisoformat(cell)
        except ValueError:
            return cell
    return cell
