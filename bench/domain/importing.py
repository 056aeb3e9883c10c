"""Tables that people bring along as CSV: which columns there are, and rows read out of a file's bytes."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bench.domain.text import quoted
from bench.errors import BadInput

UNITS, STOCK, PARTIES, PARTS = "units", "stock", "parties", "parts"
KINDS = (UNITS, STOCK, PARTIES, PARTS)
COLUMNS: Mapping[str, tuple[str, ...]] = {
    UNITS: ("tag", "maker", "model", "serial number", "route", "due", "price", "note"),
    STOCK: (
        *("name", "unit", "pack", "delivery days", "shelf life days", "reorder point", "hazard", "code"),
        *("on hand", "cost"),
    ),
    PARTIES: ("name", "address", "contact", "id seen", "private"),
    PARTS: ("name", "maker's number", "serial number", "place", "cost", "supplier"),
}
NEEDED: Mapping[str, tuple[str, ...]] = {
    UNITS: ("model",),
    STOCK: ("name", "unit", "pack"),
    PARTIES: ("name",),
    PARTS: ("name", "cost"),
}
DELIMITERS = (",", ";", "\t")
MOST_ROWS = 10_000
LARGEST_BYTES = 5_000_000


@dataclass(frozen=True, slots=True)
class TypedRow:
    """A row as typed: the line of the file on which it ends, and its texts by column; "" where none is."""

    line: int
    texts: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class WrongRow:
    """What is wrong with a row, in one sentence."""

    line: int
    says: str


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import made, or would make. `booked`: whether it was. `made`: a line for each row."""

    kind: str
    booked: bool
    made: tuple[str, ...]


class WrongRows(BadInput):
    """Some rows cannot be taken; nothing was. Its sentence names every one of them."""

    def __init__(self, wrong: Sequence[WrongRow]) -> None:
        self.wrong = tuple(wrong)
        many = f"{len(wrong)} row{'s' if len(wrong) > 1 else ''} cannot be taken, so none was."
        told = " ".join(f"Line {one.line}: {one.says}" for one in wrong)
        super().__init__(f"{many} {told}", "Correct the file and import it again.")

    @property
    def lines(self) -> tuple[str, ...]:
        """A line for each row, then what to do."""
        return (*(f"line {one.line}: {one.says}" for one in self.wrong), f"None was taken. {self.remedy}")


def read_rows(kind: str, data: bytes) -> tuple[TypedRow, ...]:
    """The rows of a CSV file under their columns; lines without any text are passed over.

    Columns stand in any order, in any capitals, divided by comma, semicolon or tab. BadInput for what is no
    UTF-8, columns that nobody knows, a column that is needed and missing, and rows longer than the headings.
    """
    if len(data) > LARGEST_BYTES:
        raise BadInput("The file is too large to be taken at once.", "Divide it.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadInput(
            f"The file is no UTF-8 text (byte {error.start}).", "Save it as CSV UTF-8 and import that."
        ) from error
    first = text.partition("\n")[0]
    delimiter = max(DELIMITERS, key=first.count)
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        headings = _headings(kind, next(lines, []))
        rows = [_row(lines.line_num, cells, headings) for cells in lines if any(map(str.strip, cells))]
    except csv.Error as error:
        raise BadInput(
            f"Line {lines.line_num} is no CSV ({error}).", "Look at its quotation marks."
        ) from error
    if not rows:
        raise BadInput(
            "The file has no rows under its headings.", f"Its columns: {', '.join(COLUMNS[kind])}."
        )
    if len(rows) > MOST_ROWS:
        raise BadInput(f"{len(rows)} rows are more than can be taken at once.", "Divide the file.")
    return tuple(rows)


def template(kind: str, rows: Sequence[Mapping[str, str]] = ()) -> str:
    """A CSV file with the columns of a kind and these rows, as `read_rows` reads it."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS[kind])
    for row in rows:
        writer.writerow([_guarded(row.get(column, "")) for column in COLUMNS[kind]])
    return out.getvalue()


def _headings(kind: str, cells: Sequence[str]) -> list[str]:
    names = [" ".join(cell.replace("_", " ").split()).casefold() for cell in cells]
    unknown = [cell for cell, name in zip(cells, names, strict=True) if name not in COLUMNS[kind]]
    columns = f"Its columns: {', '.join(COLUMNS[kind])}."
    if unknown:
        raise BadInput(f"{quoted(unknown[0])} is no column of {kind}.", columns)
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise BadInput(f"The column {twice} stands there twice.", "Leave one of them.")
    missing = [name for name in NEEDED[kind] if name not in names]
    if missing:
        raise BadInput(f"The column {missing[0]} is missing.", columns)
    return names


def _row(line: int, cells: Sequence[str], headings: Sequence[str]) -> TypedRow:
    if len(cells) > len(headings) and any(cell.strip() for cell in cells[len(headings) :]):
        raise BadInput(
            f"Line {line} has more cells than there are headings.", "Put text with the delimiter in quotes."
        )
    texts = dict.fromkeys(headings, "")
    texts.update(zip(headings, (_unguarded(cell) for cell in cells), strict=False))
    return TypedRow(line, texts)


_RUNS = ("=", "+", "-", "@")


def _guarded(text: str) -> str:
    """Text that a spreadsheet would run begins with a '."""
    return f"'{text}" if text.startswith(_RUNS) else text


def _unguarded(text: str) -> str:
    text = text.strip()
    return text[1:] if text.startswith("'") and text[1:].startswith(_RUNS) else text
