"""`bench serve` running on a free port, as its own process."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

LONGEST_SECONDS = 60


def free_port() -> int:
    with closing(socket.socket()) as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


@dataclass
class Told:
    """What the server said, once it has ended."""

    out: str = ""
    err: str = ""
    code: int | None = None


@contextmanager
def served(
    data: Path, env: Mapping[str, str], *more: str, host: str = "127.0.0.1"
) -> Iterator[tuple[int, Told]]:
    """The port of a server that answers; it is ended by Ctrl+C."""
    port, told = free_port(), Told()
    words = [sys.executable, "-m", "bench", "--data", str(data), "serve", "--port", str(port), *more]
    process = subprocess.Popen(
        words, env=dict(env), text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    try:
        until = time.monotonic() + LONGEST_SECONDS
        while True:
            try:
                urlopen(f"http://{host}:{port}/", timeout=5).close()
                break
            except URLError as error:
                if getattr(error, "code", None) is not None:
                    break
                assert process.poll() is None, process.communicate()
                assert time.monotonic() < until
                time.sleep(0.1)
        yield port, told
    finally:
        process.send_signal(2)
        try:
            told.out, told.err = process.communicate(timeout=20)
        except subprocess.TimeoutExpired:
            process.kill()
            raise
        told.code = process.returncode
