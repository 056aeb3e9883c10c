"""Starting the dashboard: the first time and on the demo afresh, with one's own settings as a fork."""

from __future__ import annotations

import re
import signal
import stat
from pathlib import Path

from tests.pty.at_the_bench import set_up_later
from tests.pty.program import PROGRAM, did, make_shop
from tests.pty.terminal import Terminal, screen_environment

F10 = "\x1b[21~"


def settings_of(home: Path, text: str) -> dict[str, str]:
    (home / "settings.toml").write_text(text, encoding="utf-8")
    path = make_shop(home / "shop.bench")
    return screen_environment(home, BENCH_SETTINGS=str(home / "settings.toml"), BENCH_DATA=str(path))


def test_the_first_start_makes_a_file_for_whoever_is_logged_in(tmp_path: Path) -> None:
    env = screen_environment(tmp_path)
    with Terminal([], env, program=PROGRAM) as terminal:
        set_up_later(terminal)
        terminal.send("q")
        assert terminal.wait_end() == 0
    path = tmp_path / "data" / "bench" / "workshop.bench"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert [one["name"] for one in did(env, "people", "--json").json()["people"]] == ["ada"]
    assert did(env, "queue", "--json").json()["shop"]["zone"] == "Europe/Berlin"


def _demo_file(terminal: Terminal) -> Path:
    said = re.search(rb"Demo workshop[^:]*: (\S+)", terminal.raw)
    assert said, terminal.raw[:500]
    return Path(said[1].decode())


def test_the_demo_goes_when_it_is_left(tmp_path: Path) -> None:
    with Terminal(
        ["demo"], screen_environment(tmp_path, TMPDIR=str(tmp_path)), size="120x36", program=PROGRAM
    ) as terminal:
        terminal.wait_for("cleaned", "Safety", "Stock")
        path = _demo_file(terminal)
        assert path.exists()
        assert tmp_path in path.parents
        terminal.send("q")
        assert terminal.wait_end() == 0
    assert not path.parent.exists()


def test_the_demo_goes_when_it_is_ended_by_a_signal(tmp_path: Path) -> None:
    with Terminal(["demo"], screen_environment(tmp_path, TMPDIR=str(tmp_path)), program=PROGRAM) as terminal:
        terminal.wait_for("cleaned", "Safety")
        path = _demo_file(terminal)
        terminal.signal(signal.SIGTERM)
        assert terminal.wait_end() == 143
    assert not path.parent.exists()


def test_the_demo_is_kept_when_asked_and_opens_again(tmp_path: Path) -> None:
    env = screen_environment(tmp_path)
    kept = tmp_path / "kept.bench"
    with Terminal(["demo", "--keep", str(kept)], env, program=PROGRAM) as terminal:
        terminal.wait_for("cleaned", "Safety")
        assert _demo_file(terminal) == kept
        terminal.send("q")
        assert terminal.wait_end() == 0
    with Terminal(["--data", str(kept)], env) as terminal:
        terminal.wait_for("cleaned", "Safety")


def test_a_key_can_be_given_another_place(tmp_path: Path) -> None:
    env = settings_of(tmp_path, '[keys]\nfirst.add_unit = "f10"\n')
    with Terminal([], env) as terminal:
        terminal.wait_for("My workshop", "F10")
        terminal.send("n")
        terminal.send(F10)
        terminal.wait_for("New unit")


def test_an_unknown_key_name_is_one_sentence_with_the_file(tmp_path: Path) -> None:
    env = settings_of(tmp_path, '[keys]\nfirst.add = "f9"\n')
    with Terminal([], env) as terminal:
        assert terminal.wait_end() == 2
    assert terminal.raw.count(b"\n") == 1
    assert b"settings.toml" in terminal.raw
    assert b"first.add" in terminal.raw
    assert b"\x1b" not in terminal.raw


def test_the_mouse_can_be_left_to_the_terminal(tmp_path: Path) -> None:
    with Terminal([], settings_of(tmp_path, "")) as terminal:
        terminal.wait_for("My workshop")
        assert b"\x1b[?1000h" in terminal.raw
    with Terminal([], settings_of(tmp_path, "mouse = false\n")) as terminal:
        terminal.wait_for("My workshop")
        assert b"\x1b[?1000h" not in terminal.raw


def test_a_command_in_a_terminal_shows_what_people_typed_as_typed(tmp_path: Path) -> None:
    env = settings_of(tmp_path, "")
    name = "[bold]50%[/] [red]x"
    tag = did(env, "add", name, "--json").json()["tag"]
    with Terminal(["cell", tag, "swollen"], env) as terminal:
        assert terminal.wait_end() == 0
        assert "Do not charge it" in terminal.text()
        assert b"\x1b[1;33m" in terminal.raw, "a caution stands out in a terminal"
    with Terminal(["unit", tag], env) as terminal:
        assert terminal.wait_end() == 0
        assert name in terminal.text() or name.encode() in terminal.raw
