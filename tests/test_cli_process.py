"""The program as a process: what a start imports, a pipe that closes, Ctrl-C, an unusual locale."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.pty.program import PROGRAM, did, environment, make_shop

SLOW_TO_IMPORT = ("textual", "sqlmodel", "sqlalchemy", "alembic", "arrow", "pydantic")


def modules_after(path: Path, code: str) -> set[str]:
    """The packages in memory once `code` has run on an up-to-date file."""
    program = f"{code}\nimport sys\nprint('MODULES', *sorted({{n.partition('.')[0] for n in sys.modules}}))"
    done = subprocess.run(
        [sys.executable, "-c", program],
        env=environment(path.parent, BENCH_DATA=str(path), TERM="xterm"),
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stdout.rpartition("MODULES ")[2].split())


@pytest.mark.parametrize(
    "command", ["queue", "stock", "week", "journal", "people", "register", "month", "money 10014"]
)
def test_a_command_that_shows_imports_nothing_slow(tmp_path: Path, command: str) -> None:
    path = make_shop(tmp_path / "shop.bench")
    did(environment(tmp_path, BENCH_DATA=str(path)), "add", "Model A")
    loaded = modules_after(path, f"from bench.cli import run\nassert run({command.split()!r}) == 0")
    assert loaded.isdisjoint(SLOW_TO_IMPORT), loaded & set(SLOW_TO_IMPORT)
    assert "sqlite3" in loaded


def test_a_command_that_writes_imports_no_screen(tmp_path: Path) -> None:
    path = make_shop(tmp_path / "shop.bench")
    loaded = modules_after(path, "from bench.cli import run\nassert run(['add', 'Model A']) == 0")
    assert "textual" not in loaded
    assert "sqlmodel" in loaded


def test_the_dashboard_starts_without_what_only_writes_need(tmp_path: Path) -> None:
    """Everything up to the moment at which the app would run: settings, the file, the first screen."""
    path = make_shop(tmp_path / "shop.bench")
    code = (
        "import sys\n"
        "import bench.dashboard.app as app\n"
        "import bench.dashboard.screens.first\n"
        "from bench.cli import run\n"
        "app.run_dashboard = lambda desk, **_: 0 if desk.person_id else 1\n"
        "sys.stdin.isatty = sys.stdout.isatty = lambda: True\n"
        "assert run([]) == 0\n"
    )
    loaded = modules_after(path, code)
    assert "textual" in loaded
    assert loaded.isdisjoint({"sqlmodel", "sqlalchemy", "alembic", "arrow", "pydantic"})


def test_a_closed_pipe_is_quiet(tmp_path: Path) -> None:
    """What `bench journal | head -1` may do: the reader is gone before the first line is written."""
    path = make_shop(tmp_path / "shop.bench")
    reader, writer = os.pipe()
    os.close(reader)
    with subprocess.Popen(
        [*PROGRAM, "--data", str(path), "stock"],
        env=environment(tmp_path),
        stdout=writer,
        stderr=subprocess.PIPE,
    ) as program:
        os.close(writer)
        _, err = program.communicate(timeout=30)
    assert (program.returncode, err) == (141, b"")


def test_ctrl_c_leaves_with_130_and_no_traceback(tmp_path: Path) -> None:
    """Interrupted while it waits for its settings, which come through a pipe here so that it does wait."""
    pipe = tmp_path / "settings.toml"
    os.mkfifo(pipe)
    # A suite that runs in the background is told to ignore it, and what it starts inherits that, not this.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    with (
        subprocess.Popen(
            [*PROGRAM, "stock"],
            env=environment(tmp_path, BENCH_SETTINGS=str(pipe)),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        ) as program,
        pipe.open("wb"),
    ):  # opens once the program has opened it to read
        program.send_signal(signal.SIGINT)
        out, err = program.communicate(timeout=30)
    assert (program.returncode, out, err) == (130, b"", b"")


def started_fresh(env: dict[str, str], *arguments: str) -> str:
    """What the program printed, started as a shell starts it."""
    command = [*PROGRAM, *arguments]
    done = subprocess.run(command, env=env, stdin=subprocess.DEVNULL, capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b""), done
    return done.stdout.decode()


def test_text_that_the_terminal_cannot_show_does_not_stop_it(tmp_path: Path) -> None:
    env = environment(tmp_path, PYTHONIOENCODING="ascii")
    tag = json.loads(started_fresh(env, "add", "Modèle 笔记本", "--json"))["tag"]
    assert tag in started_fresh(env, "queue")


def test_a_fresh_start_says_what_a_warm_one_says(tmp_path: Path) -> None:
    """Most tests run commands from a process that has imported them (tests/pty/warm.py)."""
    env = environment(tmp_path)
    did(env, "add", "Model A")
    for command in (["queue"], ["people", "--json"], ["unit", "10014"], ["journal"], ["stock", "--csv"]):
        before = _but_now(did(env, *command).out)
        fresh = _but_now(started_fresh(env, *command))
        after = _but_now(did(env, *command).out)  # the minute on the clock may turn in between
        assert fresh in (before, after), command


def _but_now(text: str) -> str:
    """The text without the instant at which it was read."""
    return "\n".join(line for line in text.splitlines() if '"read_us"' not in line)


def test_completion_offers_the_commands(tmp_path: Path) -> None:
    env = environment(
        tmp_path,
        _BENCH_COMPLETE="complete_bash",
        COMP_WORDS="bench rest",
        COMP_CWORD="1",
    )
    assert started_fresh(env).split() == ["restock", "restore"]
