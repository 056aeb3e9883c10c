"""The dashboard in a browser, such as on a tablet beside the mat."""

from __future__ import annotations

import os
import shlex
import sys
from pathlib import Path
from typing import Annotated

import typer

from bench.commands.opening import Start, desk_for
from bench.commands.printing import complain, say
from bench.errors import BadInput, NotInstalled

LEAST_PASSWORD = 8
NOT_ENCRYPTED = (
    "The line is not encrypted: whoever listens in this network can read the password and all that is shown."
)


def serve(
    ctx: typer.Context,
    host: Annotated[str, typer.Option(metavar="ADDRESS", help="Where it listens.")] = "127.0.0.1",
    port: Annotated[int, typer.Option(metavar="PORT", min=1, max=65535, help="The port.")] = 8017,
    password_file: Annotated[
        Path | None, typer.Option(metavar="FILE", help="A file whose first line is the password.")
    ] = None,
) -> None:
    """Serve the dashboard to a browser on this machine."""
    try:
        from bench.web.server import BenchServer, is_loopback
    except ImportError:
        raise NotInstalled("Serving needs", "web") from None
    start: Start = ctx.obj
    password = _password(password_file, needed=not is_loopback(host))
    desk = desk_for(ctx)  # the file is there and can be read, before anyone comes
    address = f"http://{f'[{host}]' if ':' in host else host}:{port}/"
    say(f"The bench is served on {address} until Ctrl+C.")
    if not is_loopback(host):
        complain(NOT_ENCRYPTED)
    server = BenchServer(_command(start, desk.store.path), host, port, "bench", password)
    try:
        server.serve()
    except OSError as error:
        raise BadInput(f"{address} is not to be had ({error.strerror}).", "Name another port.") from error


def _command(start: Start, path: Path) -> str:
    """What is started for each visit, as a shell takes it."""
    words = [sys.executable, "-m", "bench", "--data", str(path)]
    if start.person:
        words += ["--person", start.person]
    return shlex.join(words)


def _password(file: Path | None, *, needed: bool) -> str | None:
    """From the file, BENCH_WEB_PASSWORD, or typed; never from the command line, where others can read it."""
    if file is not None:
        try:
            password = file.expanduser().read_text(encoding="utf-8").partition("\n")[0].strip()
        except (OSError, UnicodeDecodeError) as error:
            raise BadInput(f"{file} cannot be read as a password.", "Name a text file.") from error
    else:
        password = os.environ.get("BENCH_WEB_PASSWORD", "")
    if not password and needed:
        if not sys.stdin.isatty():
            raise BadInput(
                "Others can reach that address, and no password is set.",
                "Give --password-file, or set BENCH_WEB_PASSWORD.",
            )
        from getpass import getpass

        password = getpass("Password for the browser: ")
    if not password and not needed:
        return None
    if len(password) < LEAST_PASSWORD:
        raise BadInput(
            f"The password has fewer than {LEAST_PASSWORD} characters.", "Take a longer one: a few words do."
        )
    return password
