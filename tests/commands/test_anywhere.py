"""Options of the whole program after the command, errors for scripts, and what --debug says."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bench.cli import in_front
from tests.test_cli import Bench, Did


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("queue --data x", "--data x queue"),
        ("add Model --person=Ada --note n", "--person=Ada add Model --note n"),
        ("offer --new M --once k", "--once k offer --new M"),
        ("skip 1 2 -- --data", "skip 1 2 -- --data"),
        ("queue --data", "queue --data"),
        ("queue --debug --json", "--debug queue --json"),
    ],
)
def test_options_of_the_program_may_stand_anywhere(typed: str, meant: str) -> None:
    assert in_front(typed.split()) == meant.split()


def test_a_person_and_a_file_after_the_command(did: Did, path: Path) -> None:
    did("people", "--add", "Bo")
    did("add", "Model", "--tag", "10014", "--data", path, "--person", "Bo")
    assert "Bo" in did("journal", "--person", "Bo")


def test_a_key_after_the_command_is_the_same_key(did: Did) -> None:
    did("add", "Model", "--once", "k1")
    assert "Booked already" in did("--once", "k1", "add", "Model")


@pytest.mark.parametrize(
    ("code", "arguments"),
    [
        (3, ("unit", "10014", "--json")),
        (2, ("unit", "1", "--json")),
        (2, ("unit", "--json")),
        (2, ("restock", "isopropyl", "--packs", "x", "--price", "y", "--json")),
    ],
)
def test_what_goes_wrong_is_an_object_where_json_is_asked_for(
    bench: Bench, code: int, arguments: tuple[str, ...]
) -> None:
    ran = bench(*arguments)
    assert (ran.code, ran.out) == (code, "")
    told = json.loads(ran.err)
    assert told["document"] == "error"
    assert told["exit_code"] == code
    assert told["what"]
    assert bench(*arguments[:-1]).err == f"bench: {told['what']} {told['to_do']}".rstrip() + "\n"


def test_debug_says_where_and_how_long(bench: Bench) -> None:
    ran = bench("unit", "10014", "--debug")
    assert ran.code == 3
    assert "Traceback" in ran.err
    assert "NotFound" in ran.err
    assert ran.err.rstrip().endswith("ms.")
    assert "Traceback" not in bench("unit", "10014").err
