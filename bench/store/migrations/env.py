"""What Alembic runs: every revision in one transaction, foreign keys off while tables are rebuilt."""

from __future__ import annotations

from alembic import context

from bench.store.tables import metadata


def run_migrations() -> None:
    """Run on the connection handed over by bench.store.upgrade."""
    connection = context.config.attributes["connection"]
    context.configure(
        connection=connection,
        target_metadata=metadata,
        render_as_batch=True,
        transactional_ddl=False,  # the caller's BEGIN IMMEDIATE is the one transaction
    )
    context.run_migrations()


run_migrations()
