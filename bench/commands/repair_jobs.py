"""Repairs of owners' machines: taken in, diagnosed, ready; and the word that opens the machine."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.arguments import AsJson, Tag
from bench.commands.opening import desk_for
from bench.commands.printing import say, say_json, say_sheet
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.desk import Desk
    from bench.domain.repair_jobs import AccessTold

Text = str | None


def job(
    ctx: typer.Context,
    tag: Annotated[
        str | None, typer.Argument(metavar="TAG", help="The owner's machine; without it, all repairs.")
    ] = None,
    complaint: Annotated[
        Text, typer.Option(metavar="TEXT", help="What is wrong, in the owner's words.")
    ] = None,
    along: Annotated[Text, typer.Option(metavar="TEXT", help="What came along: charger, bag.")] = None,
    arrival: Annotated[Text, typer.Option(metavar="TEXT", help="Its state when it came.")] = None,
    data: Annotated[
        Text,
        typer.Option(
            "--its-data",
            metavar="WORDS",
            help="One of: must be kept, may be erased, ask first, no access given.",
        ),
    ] = None,
    diagnosis: Annotated[Text, typer.Option(metavar="TEXT", help="What is found to be wrong.")] = None,
    ready: Annotated[
        Text, typer.Option(metavar="DAY", help="The day on which its owner was told that it is ready.")
    ] = None,
    everything: Annotated[bool, typer.Option("--all", help="Those handed back too.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show, take in or change the repair of an owner's machine.

    The first --complaint takes it in. The access word is no option here: see
    bench access.
    """
    from bench.views.particulars import unit_by_tag

    typed = {
        "complaint": complaint,
        "came_along": along,
        "arrival": arrival,
        "data_consent": data,
        "diagnosis": diagnosis,
    }
    noted = {name: text for name, text in typed.items() if text is not None}
    acts = bool(noted) or ready is not None
    if tag is None:
        if acts:
            raise BadInput("Which machine is meant?", "Give its tag.")
        _say_jobs(ctx, everything, as_json)
        return
    desk = desk_for(ctx, acts=acts)
    unit_id = unit_by_tag(desk, tag)
    if noted:
        _note(desk, unit_id, noted)
    if ready is not None:
        from bench.views.repair_jobs import the_job
        from bench.work.repair_jobs import tell_ready

        tell_ready(desk, the_job(desk, unit_id).job.job_id, ready)
    say_job(desk, unit_id, as_json)


def access(
    ctx: typer.Context,
    tag: Tag,
    keep: Annotated[bool, typer.Option("--keep", help="Keep the word, read from the keyboard.")] = False,
    show: Annotated[bool, typer.Option("--show", help="Show it; the journal says that you did.")] = False,
    erase: Annotated[bool, typer.Option("--erase", help="Erase it, for good.")] = False,
    as_json: AsJson = False,
) -> None:
    """Keep, show or erase an owner's access word.

    It opens the machine. It is never an argument, for a shell keeps those: it is asked for, or read
    as one line from standard input. Copies of the file made meanwhile hold it.
    """
    from bench.views.particulars import unit_by_tag
    from bench.views.repair_jobs import the_job

    if keep + show + erase != 1:
        raise BadInput("What is to be done with the access word?", "Give --keep, --show or --erase.")
    desk = desk_for(ctx, acts=True)
    job = the_job(desk, unit_by_tag(desk, tag)).job
    from bench.domain.repair_jobs import ERASED, KEPT, SHOWN, AccessTold
    from bench.work.unlocking import erase_access_word, keep_access_word, show_access_word

    if show:
        told = AccessTold(job.tag, SHOWN, word=show_access_word(desk, job.job_id))
    elif erase:
        told = AccessTold(job.tag, ERASED, left_in_file=erase_access_word(desk, job.job_id))
    else:
        keep_access_word(desk, job.job_id, _read_word())
        told = AccessTold(job.tag, KEPT)
    if as_json:
        say_json(desk, "access", told)
    else:
        for line in access_words(told):
            say(line)


def access_words(told: AccessTold) -> tuple[str, ...]:
    """What was done with an access word, a line each."""
    if told.word:
        return (told.word,)
    if told.done == "kept":
        return ("Kept apart. It is erased when the machine is handed back.",)
    erased = ("Erased. Copies made before still hold it.",)
    left = told.left_in_file
    return (*erased, f"Old bytes of it may be left in the file: {left}.") if left else erased


def say_job(desk: Desk, unit_id: int, as_json: bool) -> None:
    """The newest repair of a unit."""
    from bench.reports.repair_jobs import job_json, job_text
    from bench.views.repair_jobs import the_job

    sheet = the_job(desk, unit_id)
    say_sheet(job_json(sheet) if as_json else job_text(sheet))


def _note(desk: Desk, unit_id: int, noted: dict[str, str]) -> None:
    from bench.views.repair_jobs import read_job
    from bench.work.repair_jobs import edit_job, open_job

    sheet = read_job(desk, unit_id)
    if sheet is not None and (sheet.job.collected_on is None or "complaint" not in noted):
        kept = sheet.job
        before = {
            "complaint": kept.complaint,
            "came_along": kept.came_along,
            "arrival": kept.arrival,
            "data_consent": kept.data_consent,
            "diagnosis": kept.diagnosis,
        }
        edit_job(desk, kept.job_id, **{**before, **noted})
        return
    open_job(desk, unit_id, **{"complaint": "", **noted})


def _say_jobs(ctx: typer.Context, everything: bool, as_json: bool) -> None:
    from bench.reports.repair_jobs import jobs_json, jobs_text
    from bench.views.repair_jobs import read_jobs

    book = read_jobs(desk_for(ctx), every=everything)
    say_sheet(jobs_json(book) if as_json else jobs_text(book))


def _read_word() -> str:
    """The word from the keyboard, not shown; where nobody sits there, one line of standard input."""
    if sys.stdin.isatty():
        word: str = typer.prompt("Access word", hide_input=True)
        return word
    return sys.stdin.readline().rstrip("\r\n")
