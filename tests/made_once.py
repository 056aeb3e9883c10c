"""What takes long to make: one process of a run of the tests makes it, the others wait and take the same."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Callable
from pathlib import Path

import pytest


def made_once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """A folder of this name that `make` has filled. It is everybody's: copy what you change."""
    own = factory.getbasetemp()
    of_the_run = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    folder, begun = of_the_run / name, of_the_run / f"{name} begun"
    with (of_the_run / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not folder.exists():
            begun.mkdir()
            make(begun)
            begun.rename(folder)
    return folder
