"""What the shells offer at the Tab key, asked as each of them asks; nothing that a shell would run."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from bench.commands.completing import PATIENCE_SECONDS
from bench.desk import Desk
from bench.work.consumables import add_consumable
from bench.work.demo import make_demo
from tests.clocks import HandSetClock
from tests.pty.program import PROGRAM

Ask = Callable[..., str]
SHELLS = ("bash", "zsh", "fish")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    path = tmp_path / "demo.bench"
    store = make_demo(path, HandSetClock())
    desk = Desk(store, HandSetClock(), person_id=1)
    for name in ("$(touch seen)", "`touch seen`", "a\\$(touch seen)", "a;touch seen", "a'\"b", "wide foil"):
        add_consumable(desk, name=name, base_unit="piece", pack_text="10", lead_days_text="3")
    store.close()
    return path


def asked(shell: str, line: str, path: Path, **more: str) -> str:
    """What the program answers where this shell asks how a line goes on."""
    words = line.split(" ")
    env = {**os.environ, "HOME": str(path.parent), "BENCH_DATA": str(path), **more}
    env |= {"_BENCH_COMPLETE": f"complete_{shell}"}
    if shell == "bash":
        env |= {"COMP_WORDS": line, "COMP_CWORD": str(len(words) - 1)}
    else:
        env |= {"_TYPER_COMPLETE_ARGS": line, "_TYPER_COMPLETE_FISH_ACTION": "get-args"}
    ran = subprocess.run(PROGRAM, env=env, capture_output=True, text=True, check=False, cwd=path.parent)
    assert ran.stderr == ""
    return ran.stdout


@pytest.mark.parametrize("shell", SHELLS)
@pytest.mark.parametrize(
    ("line", "offers", "not_offered"),
    [
        ("bench start 106", ("10629", "10661"), ("10428",)),
        ("bench restock wi", ("wide",), ("thermal",)),
        ("bench restock therm", ("thermal",), ("isopropyl",)),
        ("bench start 10629 fit", ("fit",), ("soak",)),
        ("bench move 10629 gr", ("graded",), ("received",)),
        ("bench wipe d", ("d24", "d54"), ("thermal",)),
        ("bench wipe 106", ("10629",), ("d24",)),
        ("bench part 10330 drive --drive d2", ("d24",), ("d54",)),
        ("bench --person In", ("Ines",), ("Marek",)),
        ("bench --data {path} start 106", ("10629",), ("10428",)),
    ],
)
def test_each_shell_is_offered_what_the_file_holds(
    shop: Path, shell: str, line: str, offers: tuple[str, ...], not_offered: tuple[str, ...]
) -> None:
    told = asked(shell, line.format(path=shop), shop)
    assert [one for one in offers if one not in told] == []
    assert [one for one in not_offered if one in told] == []


@pytest.mark.parametrize("shell", SHELLS)
def test_nothing_is_offered_that_a_shell_could_run(shop: Path, shell: str) -> None:
    told = asked(shell, "bench restock ", shop)
    assert "wide" in told
    assert "touch" not in told
    assert "'\"b" not in told


def test_a_file_that_another_program_holds_is_not_waited_for(shop: Path) -> None:
    with closing(sqlite3.connect(shop, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        began = time.perf_counter()
        assert "10629" not in asked("zsh", "bench start 106", shop)
        held = time.perf_counter() - began
        other.execute("ROLLBACK")
    assert held < PATIENCE_SECONDS + 3  # with the program's own start, on a busy machine
    assert "10629" in asked("zsh", "bench start 106", shop)


@pytest.mark.parametrize("shell", SHELLS)
def test_no_file_a_damaged_one_and_a_foreign_one_offer_nothing(tmp_path: Path, shell: str) -> None:
    for name, content in (("none.bench", None), ("damaged.bench", b"SQLite format 3\0" + b"x" * 5000)):
        path = tmp_path / name
        if content is not None:
            path.write_bytes(content)
        assert asked(shell, "bench start 1", path).strip() in ("", "_files")
        assert path.exists() == (content is not None)
        assert content is None or path.read_bytes() == content


@pytest.mark.skipif(shutil.which("bash") is None, reason="bash is not installed")
def test_bash_itself_puts_it_onto_the_line(shop: Path) -> None:
    env = {**os.environ, "HOME": str(shop.parent), "BENCH_DATA": str(shop), "SHELL": "/bin/bash"}
    script = subprocess.run(
        [*PROGRAM, "--show-completion", "bash"], env=env, capture_output=True, text=True, check=True
    ).stdout
    function = script.split("()")[0].split()[-1]
    code = f"""
bench() {{ {" ".join(PROGRAM)} "$@"; }}
{script.replace("$1 )", " ".join(PROGRAM) + " )")}
COMP_WORDS=(bench restock wid); COMP_CWORD=2
{function} bench
printf '%s\\n' "${{COMPREPLY[@]}}"
"""
    ran = subprocess.run(["bash", "-c", code], env=env, capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "wide\\ foil"
    assert not (shop.parent / "seen").exists()
