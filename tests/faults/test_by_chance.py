"""Kills at random instants and racing programs, in short; `python -m tests.faults.long` runs long ones."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]


def seen(what: str, path: Path, count: int, seed: int) -> dict[str, Any]:
    """What one of the two programs prints."""
    run = subprocess.run(
        [sys.executable, "-m", f"tests.faults.{what}", str(path), str(count), str(seed)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    answer: dict[str, Any] = json.loads(run.stdout)
    return answer


def test_no_kill_loses_or_breaks_anything(tmp_path: Path) -> None:
    found = seen("kills", tmp_path / "shop.bench", 12, 1)
    assert found["with_confirmed_work"] > 6
    assert found["lines"] > 20
    assert (found["lost"], found["wrong"]) == (0, [])


def test_four_racing_programs_break_no_rule(tmp_path: Path) -> None:
    found = seen("races", tmp_path / "shop.bench", 50, 1)
    assert (found["acts"], found["crashed"], found["wrong"]) == (200, 0, [])
    assert found["done"] > 40
    assert found["undone"] > 0
