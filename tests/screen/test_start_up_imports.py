"""What a start-up loads before its first paint: nothing that stores, moves revisions or reads typed times."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from bench.desk import Desk

ROOT = Path(__file__).parents[2]
SLOW = ("sqlmodel", "sqlalchemy", "arrow", "alembic", "pydantic", "typer")
LOOK = """
import asyncio, json, sys
from pathlib import Path

from bench.dashboard.app import BenchApp
from bench.desk import Desk, SystemClock
from bench.work.files import open_or_new


class Looks(BenchApp):
    def _after_first_paint(self) -> None:  # instead of warming up
        rows = self.screen.view.stages[0].rows
        print(json.dumps({"modules": sorted(sys.modules), "units": len(rows)}))
        self.exit()


Looks(Desk(open_or_new(Path(sys.argv[1])), SystemClock(), 1)).run(headless=True, size=(120, 36))
"""


def test_first_paint_imports_no_storage_library(busy: Desk) -> None:
    seen = subprocess.run(
        [sys.executable, "-c", LOOK, str(busy.store.path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert seen.returncode == 0, seen.stderr
    told = json.loads(seen.stdout.splitlines()[-1])
    loaded = {name.partition(".")[0] for name in told["modules"]}
    assert told["units"] == 6
    assert loaded.isdisjoint(SLOW)
    assert "bench.store.tables" not in told["modules"]
