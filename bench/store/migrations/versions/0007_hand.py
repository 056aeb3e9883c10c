"""In the hand: what the file knows is called by the interface's words, and more of it can be kept."""

from alembic import op

from bench.store.migrations.carrying_over import carry_on

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    carry_on(op.get_bind())
