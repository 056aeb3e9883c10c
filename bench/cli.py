"""The program `bench`: without a command the dashboard; with one, what a person or a script asked for."""

from __future__ import annotations

import io
import os
import sys
import time
import traceback
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from typer.core import TyperGroup

from bench import former_names
from bench.commands import completing
from bench.commands.by_subject import COMMANDS, GROUPS
from bench.commands.opening import Start, say_booked_already
from bench.commands.printing import all_out, complain
from bench.errors import BadInput, BenchError, Unprinted

if TYPE_CHECKING:
    from typer._click import Context, HelpFormatter

BROKEN_PIPE = 128 + 13  # what a shell reports for a program that SIGPIPE ended
INTERRUPTED = 128 + 2
BEFORE_A_COMMAND = ("--data", "--person", "--once")
NEW, DEBUG = "--new", "--debug"
AS_JSON = "--json"
MAN_PAGE = ("manual", "--man")  # tells of all commands
BOOKED = 7  # booked, and what came after went wrong: the same command again would book it twice


class BySubject(TyperGroup):
    """The program, whose help lists the commands by subject."""

    def format_commands(self, ctx: Context, formatter: HelpFormatter) -> None:
        """One list a subject, all in the same columns."""
        del ctx
        widest = max(map(len, self.commands))
        room = formatter.width - widest - len("    ")
        for subject, names in GROUPS.items():
            there = [self.commands[name] for name in names if name in self.commands]
            rows = [((one.name or "").ljust(widest), one.get_short_help_str(room)) for one in there]
            if rows:
                with formatter.section(subject.capitalize()):
                    formatter.write_dl(rows)


def bench(
    ctx: typer.Context,
    data: Annotated[Path | None, typer.Option(metavar="FILE", help="The data file to work in.")] = None,
    person: Annotated[
        str | None,
        typer.Option(metavar="NAME", help="Who is working.", autocompletion=completing.people),
    ] = None,
    once: Annotated[
        str | None,
        typer.Option(metavar="KEY", help="A script's key: the same command with it books once."),
    ] = None,
    new: Annotated[bool, typer.Option("--new", help="Make the data file; there must be none yet.")] = False,
    debug: Annotated[
        bool, typer.Option("--debug", help="Say on standard error where it went wrong and how long it took.")
    ] = False,
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    """Open the dashboard, or run one command."""
    start: Start = ctx.obj
    start.data, start.person, start.once, start.new = data, person, once, new
    start.debug = debug
    if version:
        from bench import __version__

        typer.echo(f"bench {__version__}")
        raise typer.Exit
    if ctx.invoked_subcommand is None:
        from bench.commands.screen import open_dashboard

        raise typer.Exit(open_dashboard(ctx))


def program(names: Iterable[str] = tuple(COMMANDS)) -> typer.Typer:
    """The program with these commands."""
    app = typer.Typer(
        name="bench",
        cls=BySubject,
        help="Refurbishing bench: which unit is where, what comes next, how long it took, what it used.",
        epilog="Without a command the dashboard opens. Cautions shown are general: local codes come first.",
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    )
    app.callback(invoke_without_command=True)(bench)
    for name in names:
        module, _, function = COMMANDS[former_names.COMMANDS.get(name, name)].partition(".")
        app.command(name, hidden=name in former_names.COMMANDS)(
            getattr(import_module(f"bench.commands.{module}"), function)
        )
    return app


def in_front(arguments: list[str]) -> list[str]:
    """The same with --data, --person, --once and --debug before the command, wherever they were typed."""
    front: list[str] = []
    rest: list[str] = []
    left = list(arguments)
    while left:
        one = left.pop(0)
        if one == "--":
            rest += [one, *left]
            break
        if one in BEFORE_A_COMMAND and left:
            front += [one, left.pop(0)]
        elif one == DEBUG or one.startswith(tuple(f"{name}=" for name in BEFORE_A_COMMAND)):
            front.append(one)
        else:
            rest.append(one)
    return front + rest


def needed_for(arguments: list[str]) -> tuple[str, ...]:
    """The commands that these arguments may need: the first one, none for the dashboard, else all of them."""
    at = _command_at(arguments)
    if at is None or arguments[at:] == list(MAN_PAGE):
        return (*COMMANDS, *former_names.COMMANDS)
    return tuple(arguments[at : at + 1])


def _command_at(arguments: list[str]) -> int | None:
    """Where the command stands; behind them all where there is none, None where that is not clear."""
    at = 0
    while at < len(arguments) and not _is_command(arguments[at]):
        if arguments[at] in BEFORE_A_COMMAND:
            at += 1
        elif arguments[at] not in (NEW, DEBUG) and not arguments[at].startswith(
            tuple(f"{one}=" for one in BEFORE_A_COMMAND)
        ):
            return None
        at += 1
    return min(at, len(arguments))


def _is_command(text: str) -> bool:
    return text in COMMANDS or text in former_names.COMMANDS


def by_names_of_today(arguments: list[str]) -> list[str]:
    """The arguments with the options of today; what was called by a former name is said on standard error."""
    at = _command_at(arguments)
    if at is None or at == len(arguments):
        return arguments
    command = arguments[at]
    told, sentences = former_names.options_of_today(command, arguments[at + 1 :])
    for sentence in filter(None, (former_names.command_sentence(command), *sentences)):
        complain(sentence)
    return [*arguments[: at + 1], *told]


def run(arguments: list[str]) -> int:
    """Run one command. Answers its exit code; what went wrong is one sentence on standard error."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:  # closed by whoever started the program: nothing is to be read
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115 - open to the end
        stream = getattr(sys, name)
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # an odd locale shows ? instead of stopping
    arguments = by_names_of_today(in_front(arguments))
    start = Start(asked=tuple(arguments[_command_at(arguments) or 0 :]))
    with start.closing, timed(told=DEBUG in arguments):
        try:
            return _run_command(start, arguments)
        except BenchError as error:
            return _went_wrong(start, error)
        except typer.TyperException as error:
            _tell(start, BadInput(_usage_sentence(error)))
            return BadInput.exit_code
        except (KeyboardInterrupt, typer.Abort):
            return _booked_all_the_same(start, "It was interrupted.") or INTERRUPTED


def _run_command(start: Start, arguments: list[str]) -> int:
    names = COMMANDS if completing.ASKED_BY in os.environ else needed_for(arguments)
    code = program(names)(arguments, prog_name="bench", standalone_mode=False, obj=start)
    all_out()
    if start.booked:
        from bench.commands.copies import copy_after

        copy_after(start)
    return int(code or 0)


def _went_wrong(start: Start, error: BenchError) -> int:
    """Say what went wrong, and what was booked before it did; answers the exit code."""
    if isinstance(error, Unprinted):
        _forget_output()
    if _booked_all_the_same(start, str(error)):
        return BOOKED
    try:
        if say_booked_already(start, error):
            all_out()
            return 0
    except Unprinted as lost:
        return _went_wrong(start, lost)
    if isinstance(error, Unprinted) and error.pipe_closed:
        return BROKEN_PIPE
    if isinstance(error, Unprinted):
        complain(f"{error} Nothing was booked.")
    else:
        _tell(start, error)
    return error.exit_code


def _tell(start: Start, error: BenchError) -> None:
    """Say what went wrong on standard error: one sentence, or one JSON object where --json was asked for."""
    from bench.went_wrong import note

    if start.debug:
        traceback.print_exception(error)
    note(error, "command")
    if AS_JSON in start.asked:
        from bench.reports.plain_values import error_json

        sys.stderr.write(error_json(error))
    else:
        for line in error.lines:
            complain(line)


@contextmanager
def timed(*, told: bool) -> Iterator[None]:
    """Say on standard error how long it took, where that is asked for."""
    began = time.perf_counter()
    yield
    if told:
        complain(f"it took {(time.perf_counter() - began) * 1000:.0f} ms.")


def _booked_all_the_same(start: Start, why: str) -> int:
    """Say what was booked before it went wrong; answers the exit code for that, 0 where nothing was."""
    if not start.booked:
        return 0
    complain(f"Booked: {'; '.join(start.booked)}. {why} Do not repeat it.")
    return BOOKED


def _usage_sentence(error: typer.TyperException) -> str:
    what = " ".join(error.format_message().split()).rstrip(".").replace("a valid int", "a whole number")
    context = getattr(error, "ctx", None)
    return f"{what}. `{context.command_path if context else 'bench'} --help` says what may be given."


def _forget_output() -> None:
    """Let nothing more be written, so that leaving does not complain about the closed pipe again."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)
