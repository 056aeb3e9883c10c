"""Every command and every option says what it is for, in a screen's width and in our own words."""

from __future__ import annotations

import pytest
from typer._click.core import Command
from typer.main import get_command

from bench.cli import needed_for, program, run
from bench.commands.by_subject import GROUPS
from bench.former_names import COMMANDS as FORMER

PROGRAM = get_command(program())
COMMANDS: dict[str, Command] = PROGRAM.commands  # type: ignore[attr-defined]


def test_there_are_commands() -> None:
    assert {"queue", "start", "done", "restock", "week", "check", "demo"} <= set(COMMANDS)


@pytest.mark.parametrize("name", ["bench", *COMMANDS])
def test_everything_is_documented(name: str) -> None:
    command = COMMANDS.get(name, PROGRAM)
    assert command.help
    assert command.help.endswith(".")
    for parameter in command.params:
        words = getattr(parameter, "help", None)
        assert words, f"{name} {parameter.name} has no help"
        assert words[0].isupper() or words.startswith("opening"), f"{name} {parameter.name}: {words}"


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_help_fits_the_screen(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*name.split(), "--help"]) == 0
    shown = capsys.readouterr().out
    assert max(len(line) for line in shown.splitlines()) <= 80
    assert "..." not in shown.replace("[ARGS]...", "").replace("]...", ""), "no help is cut short"


def test_the_first_help_has_one_line_a_command(capsys: pytest.CaptureFixture[str]) -> None:
    run(["--help"])
    assert len(capsys.readouterr().out.splitlines()) <= len(COMMANDS) + 24 + 2 * len(GROUPS)


def test_the_first_help_lists_every_command_once_under_its_subject(
    capsys: pytest.CaptureFixture[str],
) -> None:
    run(["--help"])
    listed: dict[str, list[str]] = {}
    for section in capsys.readouterr().out.split("\n\n"):
        subject, *lines = section.splitlines()
        listed[subject.rstrip(":").casefold()] = [line.split()[0] for line in lines]
    for subject, names in GROUPS.items():
        assert listed[subject] == [*names]
    assert sorted(name for names in GROUPS.values() for name in names) == sorted(set(COMMANDS) - set(FORMER))


def test_the_version_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    from bench import __version__

    assert run(["--version"]) == 0
    assert capsys.readouterr().out == f"bench {__version__}\n"


@pytest.mark.parametrize(
    ("typed", "needed"),
    [
        ("", []),
        ("--data queue", []),
        ("--person=Ada --data shop.bench", []),
        ("stock", ["stock"]),
        ("--data stock queue --json", ["queue"]),
        ("add stock", ["add"]),
        ("--help", [*COMMANDS, *FORMER]),
        ("frob", [*COMMANDS, *FORMER]),
        ("--frob stock", [*COMMANDS, *FORMER]),
        ("--data", []),
    ],
)
def test_only_the_command_asked_for_is_loaded(typed: str, needed: list[str]) -> None:
    assert list(needed_for(typed.split())) == needed
