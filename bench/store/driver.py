"""The driver's own connection under a session."""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from sqlmodel import Session


def plain_connection(session: Session) -> sqlite3.Connection:
    """The driver's own connection of a session's transaction, for the texts of the reading room."""
    return cast(sqlite3.Connection, session.connection().connection.dbapi_connection)
