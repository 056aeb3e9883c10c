"""Commands run in this process on Ada's file, by the fixtures of the first tests of commands."""

from __future__ import annotations

from tests.test_cli import bench, did, path, refused

__all__ = ["bench", "did", "path", "refused"]
