"""Fourth revision: nothing that is read at the bench goes through the whole history."""

from alembic import op

from bench.store.migrations import fourth_history

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    for statement in fourth_history.STATEMENTS:
        op.execute(statement)
