"""The data file: made whole, private, refused untouched when it is not ours, backed up before migrating."""

from __future__ import annotations

import hashlib
import sqlite3
import stat
from pathlib import Path

import pytest

from bench.domain.copies import BEFORE_UPGRADE
from bench.errors import BadInput, MissingFile, StoreError
from bench.store.copies import copies_of
from bench.store.engine import Store
from bench.store.files import is_older, made_whole, require_own_file
from bench.store.revision import EARLY, HEAD, KNOWN
from bench.store.upgrade import MIGRATIONS, upgrade
from bench.work.files import open_or_new
from tests.store.old_files import old_file


def fingerprint(path: Path) -> tuple[str, int, list[str]]:
    facts = hashlib.sha256(path.read_bytes()).hexdigest(), path.stat().st_mtime_ns
    return *facts, sorted(one.name for one in path.parent.iterdir())


def test_a_new_file_is_private_and_durable(store: Store) -> None:
    assert stat.S_IMODE(store.path.stat().st_mode) == 0o600
    with store.write() as session:
        connection = session.connection()
        values = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    assert values == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 5000}
    assert not list(store.path.parent.glob(".*.new*"))


def test_the_known_revisions_are_the_scripts() -> None:
    scripts = sorted(path.name.split("_")[0] for path in (MIGRATIONS / "versions").glob("[0-9]*.py"))
    assert tuple(scripts) == KNOWN
    assert KNOWN[-1] == HEAD


@pytest.mark.parametrize(
    "content",
    [b"", b"notes about a laptop\n", b"SQLite format 3\x00", b"SQLite format 3\x00" + bytes(500)],
    ids=["empty", "text", "truncated", "another program's"],
)
def test_a_foreign_file_is_refused_untouched(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "other.db"
    path.write_bytes(content)
    before = fingerprint(path)
    with pytest.raises(StoreError, match="not a bench data file"):
        open_or_new(path)
    assert fingerprint(path) == before


def test_a_foreign_database_is_refused_untouched(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE alembic_version (version_num TEXT)")
    connection.close()
    before = fingerprint(path)
    with pytest.raises(StoreError, match="not a bench data file"):
        open_or_new(path)
    assert fingerprint(path) == before


def set_revision(path: Path, revision: str | None) -> None:
    connection = sqlite3.connect(path)
    if revision is None:
        connection.execute("DELETE FROM alembic_version")
    else:
        connection.execute("UPDATE alembic_version SET version_num = ?", (revision,))
    connection.commit()
    connection.close()


@pytest.mark.parametrize("revision", ["9999", None])
def test_a_newer_file_is_refused(store: Store, revision: str | None) -> None:
    store.close()
    set_revision(store.path, revision)
    with pytest.raises(StoreError, match="newer"):
        open_or_new(store.path)


def test_a_damaged_file_is_refused(store: Store) -> None:
    store.close()
    content = bytearray(store.path.read_bytes())
    content[100:4096] = b"\xff" * 3996
    store.path.write_bytes(content)
    with pytest.raises(StoreError, match="cannot be opened"):
        open_or_new(store.path)
    assert store.path.read_bytes() == bytes(content)


def test_folders_and_missing_places(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="folder"):
        open_or_new(tmp_path)
    (tmp_path / "file").write_text("x")
    with pytest.raises(StoreError):
        open_or_new(tmp_path / "file" / "below.bench")
    with pytest.raises(MissingFile, match="is not there"):
        require_own_file(tmp_path / "absent")


@pytest.mark.parametrize("wrong", [{"zone": "Nowhere/At all"}, {"currency": "euro"}, {"person": ""}])
def test_wrong_facts_leave_no_file(tmp_path: Path, wrong: dict[str, str]) -> None:
    with pytest.raises(BadInput):
        open_or_new(tmp_path / "new.bench", **wrong)  # type: ignore[arg-type]
    assert list(tmp_path.iterdir()) == []


def test_made_whole_leaves_the_first_of_two(tmp_path: Path) -> None:
    path = tmp_path / "one"
    with made_whole(path) as scratch:
        scratch.write_text("second")
        path.write_text("first")
    assert path.read_text() == "first"
    assert [one.name for one in tmp_path.iterdir()] == ["one"]


def test_a_migration_backs_up_verifies_and_keeps_rows(store: Store, tmp_path: Path) -> None:
    store.close()
    scripts = extra_revision(tmp_path, "op.add_column('unit', sa.Column('colour', sa.Text()))")
    kept = upgrade(store.path, migrations=scripts, to="9000")
    with sqlite3.connect(store.path) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == ("9000",)
        assert connection.execute("SELECT COUNT(*) FROM route").fetchone()[0] >= 5
    connection.close()
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert not is_older(kept)


def test_a_migration_that_fails_changes_nothing(store: Store, tmp_path: Path) -> None:
    store.close()
    broken = "op.execute('UPDATE task SET unit_id = 77'); op.execute('UPDATE route_task SET route_id = 77')"
    scripts = extra_revision(tmp_path, broken)
    with pytest.raises(StoreError, match="points nowhere"):
        upgrade(store.path, migrations=scripts, to="9000")
    with sqlite3.connect(store.path) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == (HEAD,)
        assert connection.execute("SELECT COUNT(*) FROM route_task WHERE route_id = 77").fetchone() == (0,)
    connection.close()


def extra_revision(tmp_path: Path, body: str) -> Path:
    scripts = tmp_path / "migrations"
    (scripts / "versions").mkdir(parents=True)
    for name in ("env.py", "script.py.mako"):
        (scripts / name).write_text((MIGRATIONS / name).read_text())
    for script in (MIGRATIONS / "versions").glob("[0-9]*.py"):
        (scripts / "versions" / script.name).write_text(script.read_text())
    (scripts / "versions" / "9000_more.py").write_text(
        "import sqlalchemy as sa\nfrom alembic import op\n"
        f"revision = '9000'\ndown_revision = '{HEAD}'\n\n\ndef upgrade():\n    {body}\n"
    )
    return scripts


def test_an_older_file_is_brought_up_to_date_on_opening(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.close()
    monkeypatch.setattr("bench.store.files.HEAD", "9000")
    asked: list[Path] = []
    monkeypatch.setattr("bench.store.upgrade.upgrade", asked.append)
    open_or_new(store.path).close()
    assert asked == [store.path]


def test_nothing_is_written_through_a_read(store: Store) -> None:
    with pytest.raises(StoreError, match="cannot be read"), store.read() as connection:
        connection.execute("DELETE FROM route")


def test_data_version_tells_of_other_writers(store: Store) -> None:
    before = store.data_version()
    with sqlite3.connect(store.path) as connection:
        connection.execute("UPDATE shop SET name = 'Other'")
    connection.close()
    assert store.data_version() != before


@pytest.mark.parametrize("revision", EARLY)
def test_a_file_of_an_early_revision_is_refused_untouched(store: Store, revision: str) -> None:
    store.close()
    set_revision(store.path, revision)
    before = fingerprint(store.path)
    with pytest.raises(StoreError, match=f"early revision {revision}.*revision {KNOWN[0]}"):
        open_or_new(store.path)
    assert fingerprint(store.path) == before


def test_an_old_file_is_brought_up_to_date_with_its_rows(tmp_path: Path) -> None:
    path = old_file(tmp_path / "old.bench")
    assert is_older(path)
    open_or_new(path).close()
    assert not is_older(path)
    with sqlite3.connect(path) as connection:
        assert connection.execute("SELECT name FROM person").fetchall() == [("Ada",)]
    connection.close()
    assert [one.why for one in copies_of(path)] == [BEFORE_UPGRADE]
