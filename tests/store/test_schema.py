"""A new file is what the table classes and the triggers say, word for word; no revision changes unseen."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateIndex, CreateTable

from bench.store.revision import HEAD
from bench.store.schema import REVISION
from bench.store.tables import metadata
from bench.store.triggers import TRIGGERS
from tests.store.old_files import REVISIONS, old_file, schema_of

DIALECT = sqlite.dialect()  # type: ignore[no-untyped-call]


def declared() -> dict[str, str]:
    """What the classes and the rules say, by name."""
    texts = {trigger.split()[2]: trigger for trigger in TRIGGERS}
    for table in (*metadata.sorted_tables, REVISION):
        texts[table.name] = str(CreateTable(table).compile(dialect=DIALECT)).strip()
        for index in table.indexes:
            texts[str(index.name)] = str(CreateIndex(index).compile(dialect=DIALECT))
    return texts


def test_a_new_file_is_what_the_classes_and_triggers_say(fresh_file: Path) -> None:
    made = schema_of(fresh_file)
    assert made == declared()
    assert sum("CHECK" in text for text in made.values()) > 20
    assert sum(text.startswith("CREATE TRIGGER") for text in made.values()) == len(TRIGGERS) > 30


def whole_text(path: Path) -> str:
    """All that a file is made of, by name: how a revision is written down."""
    kinds = ("CREATE TABLE", "CREATE INDEX", "CREATE UNIQUE", "CREATE TRIGGER")
    texts = [text for _, text in sorted(schema_of(path).items())]
    return "".join(f"{text};\n" for kind in kinds for text in texts if text.startswith(kind))


def test_no_revision_changes_without_a_new_number(fresh_file: Path) -> None:
    """Once released, what this finds different wants a migration, and a text of its own beside the old one.

    Written down by `python -m tests.store.test_schema`.
    """
    assert whole_text(fresh_file) == (REVISIONS / f"{HEAD}.sql").read_text(encoding="utf-8")


def test_the_text_of_a_revision_makes_a_file_of_it(tmp_path: Path, fresh_file: Path) -> None:
    path = tmp_path / "empty.bench"
    connection = sqlite3.connect(path, isolation_level=None)
    tables = (REVISIONS / f"{HEAD}.sql").read_text(encoding="utf-8")
    connection.executescript(tables)
    connection.close()
    assert schema_of(path) == schema_of(fresh_file)


def test_an_old_file_is_of_its_own_revision(tmp_path: Path, fresh_file: Path) -> None:
    assert schema_of(old_file(tmp_path / "old.bench")) != schema_of(fresh_file)


if __name__ == "__main__":
    from tempfile import TemporaryDirectory

    from bench.work.files import open_or_new

    with TemporaryDirectory() as folder:
        new = Path(folder) / "new.bench"
        open_or_new(new).close()
        (REVISIONS / f"{HEAD}.sql").write_text(whole_text(new), encoding="utf-8")
