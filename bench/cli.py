"""The program `bench`: without a command the dashboard; with one, what a person or a script asked for."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from bench.commands import (
    buying,
    channels,
    condition,
    consumables,
    grading,
    lid,
    lots,
    money,
    months,
    next_up,
    offers,
    parts,
    register,
    screen,
    selling,
    sheets,
    shop,
    sums,
    tasks,
    units,
    wiping,
)
from bench.commands.opening import Start
from bench.commands.printing import complain
from bench.errors import BadInput, BenchError

BROKEN_PIPE = 128 + 13  # what a shell reports for a program that SIGPIPE ended
INTERRUPTED = 128 + 2

app = typer.Typer(
    name="bench",
    help="Refurbishing bench: which unit is where, what comes next, how long it took, what it used.",
    epilog="Without a command the dashboard opens. Cautions shown are general: local codes come first.",
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)


@app.callback(invoke_without_command=True)
def bench(
    ctx: typer.Context,
    data: Annotated[
        Path | None, typer.Option(metavar="FILE", help="The data file to work in; made if it is not there.")
    ] = None,
    person: Annotated[str | None, typer.Option(metavar="NAME", help="Who acts.")] = None,
    version: Annotated[bool, typer.Option("--version", help="Print the version.")] = False,
) -> None:
    """Open the dashboard, or run one command."""
    ctx.obj = Start(data, person)
    if version:
        from bench import __version__

        typer.echo(f"bench {__version__}")
        raise typer.Exit
    if ctx.invoked_subcommand is None:
        raise typer.Exit(screen.open_dashboard(ctx))


for command in (
    units.queue,
    units.unit,
    units.add,
    buying.price,
    offers.offer,
    buying.buy,
    lots.buy_lot,
    lots.lot,
    buying.bought,
    lots.donor,
    parts.part,
    money.money,
    tasks.start,
    tasks.stop,
    tasks.done,
    tasks.skip,
    units.move,
    units.hold,
    units.release,
    lid.tick,
    lid.cell,
    condition.reading,
    condition.condition,
    wiping.drive,
    wiping.wipe,
    wiping.certificate,
    grading.grade,
    grading.sheet,
    selling.listing,
    selling.sell,
    selling.handover,
    register.register,
    register.parties,
    register.erase,
    consumables.stock,
    consumables.restock,
    consumables.count,
    sheets.week,
    next_up.forecast,
    months.month,
    months.year,
    sheets.journal,
    shop.take_back,
    shop.forgotten,
    shop.people,
    channels.channel,
    channels.trade,
    sheets.export,
    shop.check,
    screen.keys,
    screen.demo,
):
    app.command(no_args_is_help=False)(command)
app.command("sum", no_args_is_help=False)(sums.work_sum)
app.command("next", no_args_is_help=False)(next_up.what_next)
app.command("return", no_args_is_help=False)(selling.take_back_unit)


def main() -> None:
    """Run the program with the arguments it was given, and leave with its exit code."""
    sys.exit(run(sys.argv[1:]))


def run(arguments: list[str]) -> int:
    """Run one command. Answers its exit code; what went wrong is one sentence on standard error."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # an odd locale shows ? instead of stopping
    try:
        code = app(arguments, prog_name="bench", standalone_mode=False)
        sys.stdout.flush()
    except BenchError as error:
        complain(str(error))
        return error.exit_code
    except typer.TyperException as error:
        complain(_usage_sentence(error))
        return BadInput.exit_code
    except BrokenPipeError:
        _forget_output()
        return BROKEN_PIPE
    except (KeyboardInterrupt, typer.Abort):
        return INTERRUPTED
    return int(code or 0)


def _usage_sentence(error: typer.TyperException) -> str:
    what = " ".join(error.format_message().split()).rstrip(".")
    context = getattr(error, "ctx", None)
    return f"{what}. `{context.command_path if context else 'bench'} --help` says what may be given."


def _forget_output() -> None:
    """Let nothing more be written, so that leaving does not complain about the closed pipe again."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)
