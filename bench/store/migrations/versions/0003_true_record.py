"""Third revision: the record stays true when work goes wrong. Each subject's statements have a module."""

from itertools import chain

from alembic import op

from bench.store.migrations import (
    third_booking,
    third_clock,
    third_codes,
    third_condition,
    third_identity,
    third_rules,
    third_safety,
    third_sums,
    third_undo,
    third_walk_away,
)

revision = "0003"
down_revision = "0002"

# One tuple of SQL statements a subject, run in this order.
# The first makes tables anew, so it comes before whoever adds to them; the last reads what they added.
SUBJECTS: tuple[tuple[str, ...], ...] = (
    third_undo.STATEMENTS,
    third_booking.STATEMENTS,
    third_clock.STATEMENTS,
    third_codes.STATEMENTS,
    third_condition.STATEMENTS,
    third_identity.STATEMENTS,
    third_safety.STATEMENTS,
    third_sums.STATEMENTS,
    third_walk_away.STATEMENTS,
    third_rules.STATEMENTS,
)


def upgrade() -> None:
    for statement in chain.from_iterable(SUBJECTS):
        op.execute(statement)
