"""What all tables share: names for constraints, STRICT tables, short ways to say CHECK."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Index, text
from sqlmodel import SQLModel

SQLModel.metadata.naming_convention = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}

STRICT = {"sqlite_strict": True}
# For tables whose rows can be deleted: a number is never given twice, so that undo can bring a row back.
NUMBERED_ONCE = {"sqlite_strict": True, "sqlite_autoincrement": True}


def check(name: str, rule: str) -> CheckConstraint:
    """A named CHECK of the database itself."""
    return CheckConstraint(rule, name=name)


def yes_or_no(column: str) -> CheckConstraint:
    """A column that holds 0 or 1 and nothing else."""
    return check(column, f"{column} IN (0, 1)")


def hazard_kind() -> CheckConstraint:
    """What can hurt at a task: one of the kinds that the domain has a caution for, or nothing."""
    return check("hazard", "hazard IN ('', 'solvent', 'hot_air', 'mains', 'glued_cell')")


_TESTS = (
    "'soak', 'memory', 'drive', 'screen', 'keyboard', 'ports', 'battery rundown', "
    "'charger under load', 'speed', 'sound', 'camera', 'wireless', 'touchpad'"
)


def kind_of_test(column: str = "test", *, none: bool = True) -> CheckConstraint:
    """A kind of test that the domain knows. `none`: empty, where a task is none, will do too."""
    empty = "'', " if none else ""
    return check(column, f"{column} IN ({empty}{_TESTS})")


def unique_while_kept(table: str, column: str = "name") -> Index:
    """A column unique among the rows that are not removed: a removed row gives its name free."""
    return Index(f"uq_{table}_{column}", column, unique=True, sqlite_where=text("removed = 0"))
