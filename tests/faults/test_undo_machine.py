"""The state machine over undo, redo, gates, drives, parts and returns, in short."""

from __future__ import annotations

from pathlib import Path

from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.faults.machine import Shop


def test_undo_never_lies_in_short(tmp_path: Path) -> None:
    class Here(Shop):
        kept = tmp_path

    run_state_machine_as_test(
        Here,
        settings=settings(
            max_examples=6,
            stateful_step_count=40,
            deadline=None,
            derandomize=True,
            database=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        ),
    )
