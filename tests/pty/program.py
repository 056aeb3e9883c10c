"""The real program as a script runs it: no terminal, output and errors caught apart."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from bench.desk import Desk, SystemClock
from bench.work.beginning import begin_shop
from bench.work.copies import leave_whole
from bench.work.files import open_or_new
from tests.pty.warm import run_warm

PROGRAM = (sys.executable, "-m", "bench")
LONGEST = 60  # seconds; nothing a command does takes near as long


@dataclass(frozen=True)
class Ran:
    """What a run left: its exit code and what it printed."""

    code: int
    out: str
    err: str

    def json(self) -> Any:
        """What it printed, read as JSON."""
        return json.loads(self.out)


def environment(home: Path, **more: str) -> dict[str, str]:
    """A clean environment: nothing of whoever runs the tests, and data and settings under `home`."""
    return {
        "PATH": os.environ["PATH"],
        "HOME": str(home),
        "XDG_DATA_HOME": str(home / "data"),
        "XDG_CONFIG_HOME": str(home / "config"),
        "XDG_STATE_HOME": str(home / "state"),
        "LOGNAME": "ada",
        "LANG": "C.UTF-8",
        "TZ": "Europe/Berlin",
        **more,
    }


def run(env: Mapping[str, str], *arguments: str) -> Ran:
    """Run one command to its end."""
    code, out, err = run_warm(env, arguments, LONGEST)
    return Ran(code, out.decode(), err.decode())


def did(env: Mapping[str, str], *arguments: str) -> Ran:
    """Run one command that must go well."""
    ran = run(env, *arguments)
    assert (ran.code, ran.err) == (0, ""), (arguments, ran)
    return ran


def refused(env: Mapping[str, str], *arguments: str, code: int) -> str:
    """Run one command that must not go well; answers its one sentence on standard error."""
    ran = run(env, *arguments)
    assert ran.code == code, (arguments, ran)
    assert ran.err.count("\n") == 1, ran.err
    assert ran.err.startswith('{"document": "error"' if "--json" in arguments else "bench: "), ran.err
    assert "Traceback" not in ran.err
    return ran.err


def make_shop(path: Path) -> Path:
    """A new shop's file at this path, as Ada's first start and its form leave it: made once, then copied."""
    path.write_bytes(_new_file())
    return path


@cache
def _new_file() -> bytes:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "shop.bench"
        store = open_or_new(path, person="Ada", zone="Europe/Berlin")
        shop = {"name": "My workshop", "currency": "EUR", "zone": "Europe/Berlin"}
        begin_shop(Desk(store, SystemClock(), 1), **shop, you="Ada", others="", amounts={})
        leave_whole(Desk(store, SystemClock(), 1))
        store.close()
        return path.read_bytes()
