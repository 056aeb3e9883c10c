"""The last revision of the development: from here on files are brought up to date. None is made of it."""

revision = "0004"
down_revision = None


def upgrade() -> None:
    raise NotImplementedError("a new file is made by bench.store.schema")
