"""The Alembic scripts: one file a revision, never changed once released."""
