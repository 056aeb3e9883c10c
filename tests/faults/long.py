"""The long forms of faults by chance: `python -m tests.faults.long [kills] [races] [machine]`, or all.

1,000 kills at random instants, 10,000 changes by four racing programs, and at least 20,000 steps of the state
machine. Each prints what was seen; it leaves with 1 where anything was wrong.
"""

from __future__ import annotations

import json
import random
import subprocess
import sys
import tempfile
import time
from itertools import count
from pathlib import Path

from hypothesis import HealthCheck, Phase, seed, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.faults.machine import Shop
from tests.faults.machine_ground import SEEN

KILLS = 1_000
ACTS_EACH = 2_500
STEPS = 20_000
ROOT = Path(__file__).parents[2]


def kills(folder: Path) -> bool:
    """Whether nothing was lost or broken by so many kills."""
    found = _program("kills", folder / "kills.bench", KILLS)
    return not found["lost"] and not found["wrong"]


def races(folder: Path) -> bool:
    """Whether four racing programs left nothing wrong."""
    found = _program("races", folder / "races.bench", ACTS_EACH)
    return not found["crashed"] and not found["wrong"]


def machine(folder: Path) -> bool:
    """Whether no rule was broken in so many steps; the machine itself raises where one was."""

    first = random.randrange(10**6) * 1_000
    for number in count(first):
        if SEEN["steps"] >= STEPS:
            break

        @seed(number)
        class Here(Telling):
            kept = folder

        run_state_machine_as_test(
            Here,
            settings=settings(
                max_examples=50,
                stateful_step_count=60,
                deadline=None,
                database=None,
                phases=[Phase.generate],
                suppress_health_check=list(HealthCheck),
            ),
        )
        print(json.dumps({"seed": number, **dict(SEEN.most_common())}), flush=True)
    return True


class Telling(Shop):
    """Prints the journal of what went wrong, and which of its lines stand."""

    def teardown(self) -> None:
        if isinstance(sys.exc_info()[1], AssertionError) and hasattr(self, "acts"):
            for line in self.all(f"SELECT id, person_id, summary FROM journal WHERE id > {self.first}"):
                print(*line, "(stands)" if line[0] in self.acts else "", flush=True)
        super().teardown()


def _program(name: str, path: Path, count: int) -> dict[str, object]:
    command = [sys.executable, "-m", f"tests.faults.{name}", str(path), str(count), "7"]
    run = subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, text=True, check=True)
    print(run.stdout.strip(), flush=True)
    found: dict[str, object] = json.loads(run.stdout)
    return found


def main(names: list[str]) -> int:
    """Run those of these names, or all."""
    right = True
    with tempfile.TemporaryDirectory() as folder:
        for run in (kills, races, machine):
            if not names or run.__name__ in names:
                begun = time.monotonic()
                right = run(Path(folder)) and right
                print(f"{run.__name__}: {time.monotonic() - begun:.0f} s", flush=True)
    return 0 if right else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
