"""A data file that was known and is missing: who sits at a terminal is asked, a script is refused."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.pty.at_the_bench import set_up_later
from tests.pty.program import PROGRAM, Ran, did, refused, run
from tests.pty.terminal import Terminal, screen_environment

FILE_ERROR = 6


@pytest.fixture
def env(tmp_path: Path) -> dict[str, str]:
    """A workshop that was opened here, copied twice, and lost."""
    env = screen_environment(tmp_path)
    did(env, "add", "First")
    early = Path(did(env, "backup").out.split("Copied to ")[1].split(" (")[0])
    os.utime(early, (1_700_000_000, 1_700_000_000))
    did(env, "add", "Second")
    did(env, "backup")
    lost(env).unlink()
    return env


def lost(env: dict[str, str]) -> Path:
    return Path(env["XDG_DATA_HOME"]) / "bench" / "workshop.bench"


def models(ran: Ran) -> list[str]:
    return [row["model"] for stage in ran.json()["stages"] for row in stage["rows"]]


def test_the_newest_copy_is_named_with_its_time_and_put_back(env: dict[str, str]) -> None:
    newest = max(lost(env).with_name("workshop.bench.copies").iterdir(), key=lambda one: one.stat().st_mtime)
    with Terminal([], env, size="120x36") as terminal:
        terminal.wait_for("put back the newest copy, of 20", "or just Enter:")
        said = "".join(terminal.text().split())  # the terminal breaks it anywhere
        assert "wasopenedherebeforeandisnotthereanymore" in said
        assert newest.name in said
        terminal.send("what\n")
        terminal.wait_until(lambda text: text.count("or just Enter:") == 2, "being asked again")
        assert not lost(env).exists()
        terminal.send("restore\n")
        terminal.wait_for("Second", "Safety")
        terminal.send("q")
        assert terminal.wait_end() == 0
    assert models(did(env, "queue", "--json")) == ["First", "Second"]


def test_a_new_workshop_takes_its_word(env: dict[str, str]) -> None:
    with Terminal([], env) as terminal:
        terminal.wait_for("or just Enter:")
        terminal.send("new\n")
        set_up_later(terminal)
    assert models(did(env, "queue", "--json")) == []


@pytest.mark.parametrize("answer", ["\n", "\x04"])
def test_enter_or_the_end_of_input_leaves_all_as_it_is(env: dict[str, str], answer: str) -> None:
    before = sorted(lost(env).parent.rglob("*"))
    with Terminal([], env) as terminal:
        terminal.wait_for("or just Enter:")
        terminal.send(answer)
        assert terminal.wait_end() == FILE_ERROR
        assert "Nothing was made or changed." in terminal.text()
    assert sorted(lost(env).parent.rglob("*")) == before


def test_without_a_copy_none_is_offered(env: dict[str, str]) -> None:
    for copy in lost(env).with_name("workshop.bench.copies").iterdir():
        copy.unlink()
    with Terminal([], env) as terminal:
        terminal.wait_for("Type new, or just Enter:")
        assert "restore" not in terminal.text()


def test_a_path_never_known_is_refused_at_a_terminal_too(env: dict[str, str], tmp_path: Path) -> None:
    path = tmp_path / "mistyped" / "shop.bench"
    with Terminal(["--data", str(path)], env) as terminal:
        assert terminal.wait_end() == FILE_ERROR
        assert "or just Enter" not in terminal.text()
    assert not path.parent.exists()


def test_a_script_is_refused_with_the_copies_named(env: dict[str, str]) -> None:
    said = refused(env, "add", "Third", code=FILE_ERROR)
    assert "was opened here before" in said
    assert "The newest copies: " in said
    assert "--new" in said
    assert run(env).code == 2, "the dashboard without a terminal asks nobody"
    assert not lost(env).exists()


def test_errors_that_nobody_reads_are_no_question(env: dict[str, str], tmp_path: Path) -> None:
    """The terminal is there, but what goes to standard error lands in a file."""
    log = tmp_path / "errors"
    shell = ("/bin/sh", "-c", f'exec "$0" "$@" 2>{log}')
    with Terminal(PROGRAM, env, program=shell) as terminal:
        assert terminal.wait_end() == FILE_ERROR
    assert "say --new" in log.read_text()
    assert not lost(env).exists()
