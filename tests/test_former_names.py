"""Names of before are still taken: they do what those of today do, and one sentence says what that is."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bench import former_names
from bench.cli import COMMANDS, by_names_of_today, program, run
from bench.commands.screen import _with_keys_of_today
from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.settings import read_settings

Ran = Callable[..., tuple[int, str, str]]


@pytest.fixture
def ran(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Ran:
    monkeypatch.setenv("BENCH_DATA", str(tmp_path / "shop.bench"))
    monkeypatch.setenv("BENCH_PERSON", "Ada")
    monkeypatch.setenv("BENCH_SETTINGS", str(tmp_path / "settings.toml"))
    (tmp_path / "settings.toml").write_text("")

    def call(*arguments: str) -> tuple[int, str, str]:
        code = run(list(arguments))
        said = capsys.readouterr()
        return code, said.out, said.err

    assert call("--new", "people", "--add", "Ada")[0] in (0, 2)
    return call


@pytest.mark.parametrize("former", former_names.COMMANDS)
def test_a_former_command_is_one_of_today(former: str, capsys: pytest.CaptureFixture[str]) -> None:
    now = former_names.COMMANDS[former]
    assert former not in COMMANDS
    assert now in COMMANDS
    assert run([former, "--help"]) == 0
    old = capsys.readouterr()
    assert (
        old.err == f"bench: `bench {former}` is now `bench {now}`; the old name goes with the next release.\n"
    )
    assert run([now, "--help"]) == 0
    new = capsys.readouterr()
    assert new.err == ""
    assert old.out.replace(f"bench {former}", f"bench {now}").split() == new.out.split()


def test_a_former_command_is_shown_nowhere() -> None:
    names = {one.name for one in program().registered_commands}
    assert not names & former_names.COMMANDS.keys()


def options_of(command: str) -> set[str]:
    import typer.main

    group: Any = typer.main.get_command(program([command]))
    [one] = group.commands.values()
    return {name for parameter in one.params for name in parameter.opts}


@pytest.mark.parametrize("command", former_names.OPTIONS)
def test_a_former_option_is_one_of_today(command: str) -> None:
    told = options_of(command)
    for former, now in former_names.OPTIONS[command].items():
        assert former not in told
        assert now in told


def test_a_former_option_is_told_and_taken(capsys: pytest.CaptureFixture[str]) -> None:
    typed = ["--person", "Ada", "ways", "10014", "--as-is", "5", "--takes=10", "--note", "--takes"]
    assert by_names_of_today(typed)[3:] == ["10014", "--as-is", "5", "--time=10", "--note", "--time"]
    said = capsys.readouterr().err.splitlines()
    assert said[0] == "bench: `bench ways` is now `bench compare`; the old name goes with the next release."
    assert said[1].startswith("bench: `--takes` is now `--time`")
    assert by_names_of_today(["stock", "--use"]) == ["stock", "--use"]
    assert by_names_of_today(["done", "1", "--", "--use"]) == ["done", "1", "--", "--use"]


def test_what_is_asked_by_a_former_name_is_done(ran: Ran) -> None:
    code, out, err = ran("sum", "--json")
    assert (code, json.loads(out)["document"]) == (0, "calculators")
    assert "is now `bench calc`" in err
    assert ran("calc", "--json")[1] == out


def test_a_persons_own_keys_are_taken_by_their_former_names(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('[keys]\nfirst.opening_list = "z"\nunit.skip = "ctrl+t"\n')
    settings = _with_keys_of_today(read_settings({"BENCH_SETTINGS": str(path)}))
    assert dict(settings.keys) == {"first.opening_checklist": "z", "unit.skip": "ctrl+t"}
    assert capsys.readouterr().err == (
        f"bench: {path}: `first.opening_list` is now `first.opening_checklist`; "
        "the old name goes with the next release.\n"
    )


def test_every_former_key_names_one_that_is() -> None:
    known = {key.id for table in (APP, *SCREEN_KEYS.values()) for key in table}
    assert not known & former_names.KEYS.keys()
    assert set(former_names.KEYS.values()) <= known
    both = {"first.opening_list": "z", "first.opening_checklist": "x"}
    assert former_names.keys_of_today(both)[0] == {"first.opening_checklist": "x"}
