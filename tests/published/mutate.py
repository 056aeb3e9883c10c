"""`python -m tests.published.mutate [PREFIX]` changes every limit by a fifth, both ways: tests must notice.

Each changed limit has a process of its own, forked with the libraries loaded, in which the table is changed
before anything reads it. The tests of its subject run first, then all of tests/published and tests/domain
where those notice nothing. What nobody notices is a survivor: it is listed, and the program ends with 1. Not
part of the suite: it takes some minutes.
"""

from __future__ import annotations

import importlib
import os
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from bench.domain.limits.record import Limit
from bench.domain.limits.table import SUBJECTS, whole_table

TESTS = Path(__file__).resolve().parent.parent
# These only hold printed figures against the table: they run last, so that it is told what they alone saw.
PRINTED = tuple(TESTS / "published" / name for name in ("test_limits_as_printed.py", "test_table.py"))
EVERYTHING = tuple(
    path for folder in ("published", "domain") for path in sorted((TESTS / folder).rglob("test_*.py"))
)
CONCLUSIONS = "domain/calculators/test_verdicts.py"
OF_SUBJECT: dict[str, tuple[str, ...]] = {
    "pack": (
        "published/test_calculator_battery.py",
        "published/test_transport_lines.py",
        "domain/condition/test_battery.py",
        "domain/condition/test_file_ranges.py",
        "domain/calculators/test_machine_sums.py",
        CONCLUSIONS,
    ),
    "wire": ("published/test_calculator_charger.py", CONCLUSIONS),
    "adapter": (CONCLUSIONS,),
    "lead": (CONCLUSIONS,),
    "usb": ("published/test_calculator_charger.py", CONCLUSIONS),
    "tube": ("published/test_calculator_tubing.py", CONCLUSIONS),
    "air": ("published/test_calculator_solvent_air.py", CONCLUSIONS),
    "touch": ("published/test_calculator_touch.py", CONCLUSIONS),
    "fan": ("published/test_calculator_touch.py", CONCLUSIONS),
    "load": ("published/test_calculator_paste.py", CONCLUSIONS),
    "paste": (CONCLUSIONS,),
    "drive": (
        "published/test_calculator_drive_wear.py",
        "domain/condition/test_drive_limits.py",
        CONCLUSIONS,
    ),
    "colour": ("published/test_calculator_screen_area.py",),
    "stock": (CONCLUSIONS,),
    "file": ("domain/condition/test_file_ranges.py",),
}
LIBRARIES = ("numpy", "scipy.stats", "stockpyl.eoq", "stockpyl.newsvendor", "pint", "simpy")
PASSED, FAILED = int(pytest.ExitCode.OK), int(pytest.ExitCode.TESTS_FAILED)
WORKERS = 2
# Far from the codes with which a process ends by itself.
BEHAVIOUR, FIGURE, NOBODY, NOT_RUN = 10, 11, 12, 13
PLAIN = (
    *("-x", "-q", "--noconftest", "--import-mode=importlib", "-p", "no:cacheprovider"),
    *("-c", str(TESTS.parent / "pyproject.toml"), "-o", "addopts=", "-o", "filterwarnings="),
)


@dataclass(frozen=True, slots=True)
class Mutant:
    """One limit with another value."""

    limit: Limit
    value: float

    def named(self) -> str:
        """The limit, its value and the changed one."""
        return f"{self.limit.id}: {self.limit.value:.12g} -> {self.value:.12g}"


def mutants(limit: Limit) -> Iterator[Mutant]:
    """The limit a fifth up and down; a whole one by whole numbers, at least one."""
    for way in (1, -1):
        step = limit.value / 5 or 1.0
        if limit.value == int(limit.value):
            step = max(1, round(abs(step)))
        yield Mutant(limit, limit.value + way * abs(step))


def apply(mutant: Mutant) -> None:
    """Change the table itself, before anything has read it."""
    for subject in SUBJECTS:
        if mutant.limit.id in subject:
            subject[mutant.limit.id] = mutant.limit._replace(value=mutant.value)


def notices(files: tuple[Path, ...]) -> bool:
    """Whether a test of these fails. RuntimeError where the tests could not be run to an answer."""
    code = int(pytest.main([*PLAIN, *map(str, files)]))
    if code not in (PASSED, FAILED):
        raise RuntimeError(f"The tests ended with {code}.")
    return code == FAILED


def unchanged_passes() -> bool:
    """Whether all tests pass on the table as it is: without that, a failing test would say nothing."""
    child = os.fork()
    if not child:
        answer = NOT_RUN
        try:
            silence()
            answer = FIGURE if notices(EVERYTHING) else NOBODY
        finally:
            os._exit(answer)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == NOBODY


def silence() -> None:
    """Nothing that the tests print is of use here."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, 1)
    os.dup2(nothing, 2)


def start(mutant: Mutant) -> int:
    """Run the tests on a changed limit in a process of its own, which ends with who noticed; its number."""
    child = os.fork()
    if child:
        return child
    answer = NOT_RUN
    try:
        silence()
        answer = who_notices(mutant)
    finally:
        os._exit(answer)


def who_notices(mutant: Mutant) -> int:
    """Change the table and run the tests: of the subject first, then all, the printed figures last."""
    apply(mutant)
    own = tuple(TESTS / name for name in OF_SUBJECT[mutant.limit.id.split(".")[0]])
    if notices(own) or notices(tuple(path for path in EVERYTHING if path not in (*own, *PRINTED))):
        return BEHAVIOUR
    return FIGURE if notices(PRINTED) else NOBODY


def main(arguments: list[str]) -> int:
    """Run every mutant whose limit begins with the argument; 1 where one survived."""
    settings.register_profile(
        "steady", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
    )
    settings.load_profile("steady")
    # No plug-ins: the tests of arithmetic need none, and loading them for each changed limit takes a second.
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    for library in LIBRARIES:
        importlib.import_module(library)
    if not unchanged_passes():
        sys.stdout.write("The tests fail on the limits as they are: nothing can be said of changed ones.\n")
        return 2
    begins = arguments[0] if arguments else ""
    rows = [limit for limit in whole_table().values() if limit.id.startswith(begins)]
    waiting = [one for limit in rows for one in mutants(limit)]
    total, began = len(waiting), time.monotonic()
    running: dict[int, Mutant] = {}
    answers: dict[int, list[str]] = {answer: [] for answer in (BEHAVIOUR, FIGURE, NOBODY, NOT_RUN)}
    while waiting or running:
        while waiting and len(running) < WORKERS:
            mutant = waiting.pop(0)
            running[start(mutant)] = mutant
        child, status = os.wait()
        code = os.waitstatus_to_exitcode(status)
        answers[code if code in answers else NOT_RUN].append(running.pop(child).named())
    return report(total, answers, time.monotonic() - began)


def report(total: int, answers: dict[int, list[str]], seconds: float) -> int:
    """Print who noticed what; 1 where a mutant survived or could not be run."""
    kinds = (("Printed figure only", FIGURE), ("SURVIVED", NOBODY), ("NOT RUN", NOT_RUN))
    lines = [
        f"{total} changed limits in {seconds:.0f} s:",
        f"{len(answers[BEHAVIOUR])} noticed by what a sum or a verdict says,",
        f"{len(answers[FIGURE])} by the printed figure only,",
        f"{len(answers[NOBODY])} survived, {len(answers[NOT_RUN])} not run.",
        *(f"{title}: {name}" for title, code in kinds for name in answers[code]),
    ]
    sys.stdout.write("\n".join(lines) + "\n")
    return 1 if answers[NOBODY] or answers[NOT_RUN] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
