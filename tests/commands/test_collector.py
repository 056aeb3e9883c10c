"""The collector runs on the machine that runs the tests, as it is, and its file makes a unit: real commands.

What the machine has is its own to say: processor and memory are held against what the kernel tells in
/proc/cpuinfo and /proc/meminfo (Linux man-pages, proc_cpuinfo(5) and proc_meminfo(5)), read here once more.
"""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

import pytest

from tests.pty.program import did, environment, make_shop, refused

PROCESSOR = re.compile(r"^model name\s*:\s*(\S.*)$", re.MULTILINE)
MEMORY = re.compile(r"^MemTotal:\s*([0-9]+) kB$", re.MULTILINE)
KIB = 1024  # what "kB" means there
REFUSED = 4


def kernel_says(pattern: re.Pattern[str], path: str) -> str:
    """What the kernel tells there, its words one blank apart; skips where it does not tell it."""
    file = Path(path)
    found = pattern.search(file.read_text(encoding="utf-8")) if file.exists() else None
    if found is None:
        pytest.skip(f"{path} does not tell it on this machine")
    return " ".join(found[1].split())


def test_this_machine_becomes_a_unit_and_its_file_is_taken_in_once(tmp_path: Path) -> None:
    processor = kernel_says(PROCESSOR, "/proc/cpuinfo")
    memory_bytes = int(kernel_says(MEMORY, "/proc/meminfo")) * KIB
    env = environment(tmp_path, BENCH_DATA=str(make_shop(tmp_path / "shop.bench")))
    script, out = tmp_path / "collect.sh", tmp_path / "this-machine.txt"
    did(env, "collector", "--to", str(script))
    collected = subprocess.run(
        ["/bin/sh", str(script), str(out)], cwd=tmp_path, capture_output=True, timeout=60, check=False
    )
    assert collected.returncode == 0, collected.stderr
    assert {path.name for path in tmp_path.iterdir() if path.suffix in (".sh", ".txt")} == {
        script.name,
        out.name,
    }

    taken = did(env, "intake", str(out), "--json").json()
    assert (taken["new_unit"], taken["first"], taken["changes"]) == (True, True, [])
    (kept,) = did(env, "spec", taken["tag"], "--json").json()["kept"]
    assert (kept["source"], kept["machine"]) == ("collector", taken["machine"])
    machine = taken["machine"]
    assert " ".join(machine["processor"].split()) == processor
    assert machine["cores"] >= 1
    assert machine["memory_seen_bytes"] == memory_bytes
    assert machine["memory_bytes"] is None or machine["memory_bytes"] >= memory_bytes
    assert processor in " ".join(did(env, "spec", taken["tag"]).out.split())

    journal = did(env, "journal", "--json").out
    said = refused(env, "intake", str(out), "--json", code=REFUSED)
    assert json.loads(said)["what"] == f"This file was taken in already, for unit {taken['tag']}."
    assert did(env, "journal", "--json").out == journal
