"""The first revision of a released bench. A file of the development is carried over into it."""

from alembic import op

from bench.store.migrations.carrying_over import carry_over

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    carry_over(op.get_bind())
