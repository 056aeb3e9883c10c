"""What the shop remembers: faults, tests, parts, models, photographs, owners' jobs."""

from alembic import op

from bench.store.migrations.carrying_over import carry_on

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    carry_on(op.get_bind())
