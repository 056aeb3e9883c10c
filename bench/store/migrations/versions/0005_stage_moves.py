"""Fifth revision: moves between stages are rows."""

from alembic import op

from bench.store.migrations import fifth_moves

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    for statement in fifth_moves.STATEMENTS:
        op.execute(statement)
