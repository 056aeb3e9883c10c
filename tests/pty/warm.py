"""Starts the program where all of it is imported already: a fork of one process instead of a fresh start.

What runs is a process of its own, with its own arguments, environment, output and end, as `python -m bench`
would be; only the second of imports is not spent again. That a fresh start does the same is tested with fresh
starts (test_cli_process.py, test_starting.py, test_main_job.py).
"""

from __future__ import annotations

import fcntl
import gc
import json
import os
import select
import signal
import socket
import subprocess
import sys
import termios
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from tempfile import TemporaryFile
from typing import Any, BinaryIO

ROOT = Path(__file__).parents[2]
NEEDED = (
    *("commands", "domain", "store", "store.tables", "views", "work"),
    *(
        "dashboard",
        "dashboard.presenters",
        "dashboard.screens",
        "dashboard.screens.dialogs",
        "dashboard.widgets",
    ),
)
LONGEST_REQUEST = 1 << 20  # bytes


def run_warm(
    env: Mapping[str, str], arguments: Sequence[str], patience: float, *, into: int | None = None
) -> tuple[int, bytes, bytes]:
    """Run one command to its end; answers its exit code as subprocess does, its output and its errors.

    `into`: an open file that takes the output instead. Raises TimeoutError where it has not ended in
    `patience` seconds; it is killed then.
    """
    with TemporaryFile() as out, TemporaryFile() as err:
        pid, status = start_warm(env, arguments, out.fileno() if into is None else into, err.fileno())
        with status:
            if not select.select([status], [], [], patience)[0]:
                os.kill(pid, signal.SIGKILL)
                raise TimeoutError(f"{arguments} did not end in {patience} s")
            code = os.waitstatus_to_exitcode(int(status.readline()))
        out.seek(0)
        err.seek(0)
        return code, out.read(), err.read()


def start_warm(
    env: Mapping[str, str], arguments: Sequence[str], out: int, err: int, *, at: int | None = None
) -> tuple[int, BinaryIO]:
    """Start the program; answers its process id, and a pipe that one line comes down when it has ended.

    `at`: the terminal it is to lead a session at, and to read from.
    """
    request = {"env": dict(env), "arguments": list(arguments), "leads": at is not None}
    ended, ends = os.pipe()
    try:
        socket.send_fds(_server().link, [json.dumps(request).encode()], [out, err, ends])
    finally:
        os.close(ends)
    status = os.fdopen(ended, "rb")
    return int(status.readline()), status


@dataclass(frozen=True)
class Server:
    """The process that starts the others; it ends when the link to it is closed."""

    process: subprocess.Popen[bytes]
    link: socket.socket


@cache
def _server() -> Server:
    """The server of this process, which keeps it to its own end."""
    ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
    with theirs:
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.pty.warm", str(theirs.fileno())],
            env={"PATH": os.environ["PATH"], "LANG": "C.UTF-8", "TEXTUAL_ANIMATIONS": "none"},
            cwd=ROOT,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            pass_fds=[theirs.fileno()],
        )
    return Server(process, ours)


def _serve(link: socket.socket) -> None:
    """Answer requests until the link closes. Returns only in the processes that are to be the program."""
    for package in NEEDED:
        folder = import_module(f"bench.{package}")
        for module in iter_modules(folder.__path__, f"{folder.__name__}."):
            import_module(module.name)
    import_module("sqlalchemy.orm").configure_mappers()
    gc.freeze()
    while True:
        request, files, *_ = socket.recv_fds(link, LONGEST_REQUEST, 3)
        if not request:
            os._exit(0)
        if os.fork() == 0:
            link.close()
            return _watch(json.loads(request), *files)
        for file in files:
            os.close(file)
        with suppress(ChildProcessError):  # those that have ended are let go
            while os.waitpid(-1, os.WNOHANG)[0]:
                pass


def _watch(request: dict[str, Any], out: int, err: int, status: int) -> None:
    """Tell the process id of the program and how it ended; returns in the program itself."""
    program = os.fork()
    if program:
        os.write(status, f"{program}\n".encode())
        os.write(status, f"{os.waitpid(program, 0)[1]}\n".encode())
        os._exit(0)
    if request["leads"]:
        os.setsid()
        fcntl.ioctl(out, termios.TIOCSCTTY, 0)
        os.dup2(out, 0)
        sys.stdin = sys.__stdin__ = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
    os.dup2(out, 1)
    os.dup2(err, 2)
    for file in (out, err, status):
        os.close(file)
    # Made again as at a start: a stream knows what kind of file it writes to.
    sys.stdout = sys.__stdout__ = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stderr = sys.__stderr__ = open(  # noqa: SIM115
        2, "w", encoding="utf-8", errors="backslashreplace", buffering=1, closefd=False
    )
    os.environ.clear()
    os.environ.update(request["env"])
    time.tzset()
    sys.argv = ["bench", *request["arguments"]]


if __name__ == "__main__":
    _serve(socket.socket(fileno=int(sys.argv[1])))
    from bench.__main__ import main

    main()
