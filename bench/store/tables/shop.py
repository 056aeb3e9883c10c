"""The shop's one row of settings, the people who work in it, and half-filled forms."""

from __future__ import annotations

from sqlalchemy import Text
from sqlmodel import Field, SQLModel

from bench.store.tables.base import STRICT, check, unique_while_kept, yes_or_no


class Shop(SQLModel, table=True):
    """The one row of settings: money, zone, the limit of a forgotten timer, the next tag."""

    __tablename__ = "shop"
    __table_args__ = (
        check("one_row", "id = 1"),
        check("currency", "length(currency) = 3"),
        check("rate", "rate_minor_per_hour >= 0"),
        check("forgotten_times", "forgotten_times BETWEEN 1 AND 100"),
        check("forgotten_least", "forgotten_least_minutes BETWEEN 1 AND 10000"),
        check("next_tag", "next_tag_number >= 1"),
        STRICT,
    )

    id: int = Field(default=1, primary_key=True)
    name: str = Field(sa_type=Text)
    currency: str = Field(sa_type=Text)
    zone: str = Field(sa_type=Text)
    rate_minor_per_hour: int = 0
    forgotten_times: int = 3
    forgotten_least_minutes: int = 120
    next_tag_number: int = 1001


class FileIdentity(SQLModel, table=True):
    """The one row that says which file this is, and which of its states: see bench/store/marks.py."""

    __tablename__ = "file_identity"
    __table_args__ = (check("one_row", "id = 1"), STRICT)

    id: int = Field(default=1, primary_key=True)
    identity: str = Field(sa_type=Text)
    mark: str = Field(sa_type=Text)
    previous: str = Field(sa_type=Text)


class Person(SQLModel, table=True):
    """Someone who works at the bench."""

    __tablename__ = "person"
    __table_args__ = (yes_or_no("removed"), unique_while_kept("person"), STRICT)

    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    removed: int = 0


class Draft(SQLModel, table=True):
    """A half-filled form, kept until it is sent or dropped. Not a record of the shop: not journaled."""

    __tablename__ = "draft"
    __table_args__ = (STRICT,)

    form: str = Field(sa_type=Text, primary_key=True)
    body: str = Field(sa_type=Text)
    saved_us: int
