"""Opening the dashboard: on the person's own file, or on a fresh copy of the demo workshop."""

from __future__ import annotations

import os
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.opening import Start, desk_on
from bench.commands.printing import complain, say
from bench.domain.text import for_display
from bench.errors import BadInput, MissingFile

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.settings import Settings

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.settings import Settings


RESTORE, NEW = "restore", "new"


def ask_and_open(missing: MissingFile, start: Start, settings: Settings) -> Desk | None:
    """The desk on the copy put back or on a new file, as was asked; None: it was left as it is.

    Raises `missing` where the file was never known, or nobody is there to be asked.
    """
    if not (missing.known and sys.stdin.isatty() and sys.stderr.isatty()):
        raise missing
    asked = _ask(missing)
    if not asked:
        say("Nothing was made or changed.")
        return None
    if asked == RESTORE:
        _put_back(settings.data_path, missing.copies[0].path)
    return desk_on(settings, start.person, via="dashboard", acts=False, new=asked == NEW)


def _ask(missing: MissingFile) -> str:
    """RESTORE, NEW, or nothing to leave all as it is."""
    complain(missing.what)
    ways = {}
    if missing.copies:
        newest = missing.copies[0]
        ways[RESTORE] = f"put back the newest copy, of {newest.when}: {newest.path}"
    ways[NEW] = "make a new, empty workshop in its place"
    for word, does in {**ways, "Enter": "leave, and look for it"}.items():
        _show(f"  {word:<9}{does}", end="\n")
    while True:
        _show(f"Type {' or '.join(ways)}, or just Enter: ")
        typed = sys.stdin.readline()
        if not typed.endswith("\n"):  # the end of input is no answer: leave
            _show("", end="\n")
            return ""
        answer = typed.strip().casefold()
        if answer in ("", *ways):
            return answer


def _put_back(path: Path, copy: Path) -> None:
    from bench.commands.copies import say_restored
    from bench.desk import SystemClock
    from bench.work.copies import restore

    say_restored(restore(path, str(copy), SystemClock()))


def _show(text: str, *, end: str = "") -> None:
    sys.stderr.write(for_display(text) + end)
    sys.stderr.flush()


DEMO_FILE = "demo.bench"
NO_SCREEN = ("", "dumb", "unknown")  # terminals without a cursor to move: editors' shells, cron, some IDEs


def open_dashboard(ctx: typer.Context) -> int:
    """Run the dashboard on the person's own file; answers the exit code."""
    start: Start = ctx.obj
    start.require_no_key()
    _require_terminal()
    settings = start.settings()
    settings = _with_keys_of_today(settings)
    try:
        desk = desk_on(settings, start.person, via="dashboard", acts=False, new=start.new)
    except MissingFile as missing:
        asked = ask_and_open(missing, start, settings)
        if asked is None:
            return missing.exit_code
        desk = asked
    return _run_with_demo(start, desk, settings)


def demo(
    ctx: typer.Context,
    keep: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Keep the demo workshop in this new file.")
    ] = None,
    show: Annotated[bool, typer.Option("--open/--no-open", help="Open the dashboard on it.")] = True,
) -> None:
    """Try the dashboard on a made-up workshop."""
    start: Start = ctx.obj
    start.require_no_key()
    if start.data is not None:
        raise BadInput(
            "The demo does not touch a file of yours.", "Leave out --data, or give demo --keep FILE."
        )
    if show:
        _require_terminal()
    elif keep is None:
        raise BadInput("--no-open without --keep would make nothing.", "Add --keep FILE.")
    if keep is not None:
        raise typer.Exit(_demo_in(start, keep, show=show, kept=True))
    raise typer.Exit(_demo_for_now(start))


def keys() -> None:
    """Show the dashboard's keys and their names for the settings."""
    from bench.dashboard.key_check import APP, SCREEN_KEYS

    tables = (APP, *SCREEN_KEYS.values())
    width = max(len(key.id) for table in tables for key in table)
    for table in tables:
        for key in table:
            say(f"{key.id:<{width}}  {key.keys:<16}  {key.tooltip}")


def _run_with_demo(start: Start, desk: Desk, settings: Settings) -> int:
    """Run the dashboard on the own file, and on it again after each look at the demo."""
    from bench.dashboard.app import OPENS_DEMO

    code = _run(desk, settings)
    while code == OPENS_DEMO:
        code = _demo_for_now(Start())
        if code == 0:
            code = _run(desk_on(settings, start.person, via="dashboard", acts=False), settings)
    return code


def _demo_for_now(start: Start) -> int:
    """Run the dashboard on a demo that goes when it is left."""
    from tempfile import TemporaryDirectory

    with TemporaryDirectory(prefix="bench-demo-") as folder:
        return _demo_in(start, Path(folder) / DEMO_FILE, show=True, kept=False)


def _demo_in(start: Start, path: Path, *, show: bool, kept: bool) -> int:
    if path.exists():
        raise BadInput(f"{path} is there already.", f"Open it with bench --data {path}, or name a new file.")
    from bench.desk import SystemClock
    from bench.work.demo import make_demo, who_acts

    make_demo(path, SystemClock()).close()
    say(f"Demo workshop{'' if kept else ', gone when you leave'}: {path}")
    if not show:
        return 0
    settings = Start(path, start.person).settings()
    if not kept:  # what is gone when it is left is not remembered either
        settings = replace(settings, known_files=path.with_name(settings.known_files.name))
    settings = _with_keys_of_today(settings)
    desk = desk_on(settings, start.person or who_acts(), via="dashboard", acts=False)
    return _run(desk, settings, copies=kept)


def _run(desk: Desk, settings: Settings, *, copies: bool = True) -> int:
    from bench.dashboard.app import run_dashboard
    from bench.settings import TABLES
    from bench.work.copies import leave_whole

    try:
        return run_dashboard(
            desk,
            keys=settings.keys,
            mouse=settings.mouse,
            copies=copies,
            scanner=settings.scanner,
            watched_folder=settings.watched_folder,
            choices=settings.known_files.with_name(TABLES),
            notices=settings.notices,
        )
    finally:
        leave_whole(desk)
        desk.store.close()


def _with_keys_of_today(settings: Settings) -> Settings:
    """The settings with a person's own keys, checked; what has another name now is said."""
    if not settings.keys:
        return settings
    from bench.dashboard.key_check import check_keys
    from bench.former_names import keys_of_today

    keys, sentences = keys_of_today(settings.keys)
    for sentence in sentences:
        complain(f"{settings.file}: {sentence}")
    try:
        check_keys(keys)
    except BadInput as error:
        raise BadInput(f"{settings.file}: {error.what}", error.remedy) from error
    return replace(settings, keys=keys)


def _require_terminal() -> None:
    if "TEXTUAL_DRIVER" in os.environ:  # a browser is at the other end
        return
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise BadInput("The dashboard needs a terminal.", "`bench --help` lists the commands for scripts.")
    if os.environ.get("TERM", "").casefold() in NO_SCREEN:
        raise BadInput(
            "This terminal does not say that it can show a full screen (TERM is "
            f"{os.environ.get('TERM') or 'not set'}).",
            "Use another one, or set TERM to what yours is, such as xterm-256color; "
            "`bench --help` lists the commands that need no screen.",
        )
