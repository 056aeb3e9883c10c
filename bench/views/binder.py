"""Frozen records filled from rows by the names of their columns: only here are the driver's rows known."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import MISSING, Field, fields
from datetime import date
from typing import Any, Generic, TypeVar, cast

Record = TypeVar("Record")
Convert = Callable[[Any], Any]

ALL = -1  # what a LIMIT takes for no limit (sqlite.org/lang_select.html)

# By the annotation as it is written: to make a type of it takes longer than to read the rows of most texts.
_CONVERTS: dict[str, Convert] = {"bool": bool, "date": date.fromisoformat}


class Query(Generic[Record]):
    """An SQL text and the record that each of its rows fills.

    Every column of the text is a field of the record, every field without a default is a column. Values are
    converted by the field's annotation: flags from 0 and 1, days from ISO 8601, tuples from JSON arrays.
    `own`: how the values of the fields so named are converted instead.
    """

    def __init__(self, record: type[Record], text: str, **own: Convert) -> None:
        self.record = record
        self.text = text
        self._own = own
        self._fill: Callable[[Sequence[Any]], Record] | None = None

    def each(self, connection: sqlite3.Connection, **asked: object) -> Iterator[Record]:
        """A record for each row, one after the other; `asked` are the parameters that the text names."""
        cursor = connection.execute(self.text, asked)
        return map(self._filled_by(cursor), cursor)

    def all(self, connection: sqlite3.Connection, **asked: object) -> tuple[Record, ...]:
        """A record for each row."""
        return tuple(self.each(connection, **asked))

    def first(self, connection: sqlite3.Connection, **asked: object) -> Record | None:
        """The record of the first row; None where there is no row."""
        cursor = connection.execute(self.text, asked)
        row = cursor.fetchone()
        return None if row is None else self._filled_by(cursor)(row)

    def the(self, connection: sqlite3.Connection, **asked: object) -> Record:
        """The record of the one row that there always is."""
        cursor = connection.execute(self.text, asked)
        return self._filled_by(cursor)(cursor.fetchone())

    def _filled_by(self, cursor: sqlite3.Cursor) -> Callable[[Sequence[Any]], Record]:
        if self._fill is None:
            self._fill = _filler(self.record, self.columns(cursor), self._own)
        return self._fill

    def columns(self, cursor: sqlite3.Cursor) -> list[str]:
        """The names of the columns that fill a record, of a cursor that has run the text."""
        return _names(cursor)


class Groups(Query[Record]):
    """An SQL text whose first column is no field of the record: it says to what the record belongs."""

    def by_key(self, connection: sqlite3.Connection, **asked: object) -> defaultdict[Any, tuple[Record, ...]]:
        """The records of each value of the first column, in the order of the rows; none for any other."""
        cursor = connection.execute(self.text, asked)
        fill = self._filled_by(cursor)
        groups: defaultdict[Any, list[Record]] = defaultdict(list)
        for key, *values in cursor:
            groups[key].append(fill(values))
        return defaultdict(tuple, {key: tuple(records) for key, records in groups.items()})

    def columns(self, cursor: sqlite3.Cursor) -> list[str]:
        """The names of the columns but the first."""
        return _names(cursor)[1:]


def value(connection: sqlite3.Connection, text: str, **asked: object) -> Any:
    """What stands in the first column of the first row; None where there is no row."""
    row = connection.execute(text, asked).fetchone()
    return None if row is None else row[0]


def pairs(connection: sqlite3.Connection, text: str, **asked: object) -> dict[Any, Any]:
    """The second column of each row by the first."""
    return dict(connection.execute(text, asked).fetchall())


def by_column(connection: sqlite3.Connection, text: str, **asked: object) -> Iterator[dict[str, Any]]:
    """Each row as values by the names of its columns, where a text is not of one record's shape."""
    cursor = connection.execute(text, asked)
    columns = _names(cursor)
    return (dict(zip(columns, row, strict=True)) for row in cursor)


def shared(record: type, other: Any) -> dict[str, Any]:
    """The fields of a record for which another one has a value of the same name."""
    names = (one.name for one in fields(cast(Any, record)))
    return {name: getattr(other, name) for name in names if hasattr(other, name)}


def _names(cursor: sqlite3.Cursor) -> list[str]:
    return [column[0] for column in cursor.description]


def misfits(record: Any, columns: Sequence[str]) -> list[str]:
    """What keeps these columns from filling that record, in words; nothing where they do."""
    known = {field.name for field in fields(record)}
    needed = {field.name for field in fields(record) if _has_no_default(field)}
    faults = [f"{name} is no field of {record.__name__}" for name in columns if name not in known]
    faults += [f"no column fills {name} of {record.__name__}" for name in sorted(needed - set(columns))]
    if not all(isinstance(field.type, str) for field in fields(record)):
        faults.append(f"{record.__name__} is not in a module that keeps annotations as they are written")
    if record.__dictoffset__ or hasattr(record, "__post_init__"):
        faults.append(f"{record.__name__} has fields without slots, or more to do when it is made")
    return faults + [f"{name} stands twice" for name in sorted({c for c in columns if columns.count(c) > 1})]


def _has_no_default(field: Field[Any]) -> bool:
    return field.default is MISSING and field.default_factory is MISSING


def _filler(
    record: type[Record], columns: Sequence[str], own: Mapping[str, Convert]
) -> Callable[[Sequence[Any]], Record]:
    """What makes a record of a row with these columns. TypeError where they do not fit it."""
    faults = misfits(record, columns)
    if faults:
        raise TypeError("; ".join(faults))
    written = {one.name: str(one.type) for one in fields(cast(Any, record))}
    by_name = {name: own.get(name) or _convert(written[name]) for name in columns}
    converts = [(at, convert) for at, name in enumerate(columns) if (convert := by_name[name]) is not None]
    make = _maker(record, columns)
    if not converts:
        return make

    def fill(row: Sequence[Any]) -> Record:
        values = list(row)
        for at, convert in converts:
            if values[at] is not None:
                values[at] = convert(values[at])
        return make(values)

    return fill


def _maker(record: type[Record], columns: Sequence[str]) -> Callable[[Sequence[Any]], Record]:
    """What makes a record of values for these fields; the others have their defaults.

    A frozen class sets each field past its own lock, which takes three times as long as all else: here each
    is put into its slot (docs.python.org/3/howto/descriptor.html, member objects and __slots__).
    """
    puts = [getattr(record, name).__set__ for name in columns]
    left = [one for one in fields(cast(Any, record)) if one.name not in columns]
    defaults = [(getattr(record, one.name).__set__, one) for one in left]

    def make(values: Sequence[Any]) -> Record:
        made = object.__new__(record)
        for put, value in zip(puts, values, strict=True):
            put(made, value)
        for put, one in defaults:
            put(made, one.default if one.default_factory is MISSING else one.default_factory())
        return made

    return make


def _convert(annotation: str) -> Convert | None:
    """How a value of the file, where there is one, becomes one of that annotation; None where it is one."""
    told = annotation.removesuffix(" | None")
    if told.startswith("tuple["):
        return lambda text: tuple(json.loads(text))
    return _CONVERTS.get(told)
