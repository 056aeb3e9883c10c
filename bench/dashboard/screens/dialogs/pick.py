"""A dialog that shows a few lines to choose one from, and all there are of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import wraps
from typing import Any, ParamSpec

from rich.text import Text
from textual import on
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from bench.dashboard import use_cases
from bench.dashboard.presenters.condition_rows import reading_words
from bench.dashboard.presenters.part_rows import shelf_words
from bench.dashboard.presenters.settings_rows import stage_words
from bench.dashboard.presenters.week_rows import new_estimates
from bench.dashboard.screens.dialogs.described import Choosable, PickOf
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.desk import Desk
from bench.domain.condition.readings import ReadingLine
from bench.domain.outcomes import KINDS
from bench.domain.text import for_display
from bench.errors import BenchError, NotFound, WhichDrive
from bench.views.kinds import Context, on_screen
from bench.views.parts import read_shelf
from bench.views.shop import read_people, read_shop, read_stages
from bench.views.undo import UndoOffer
from bench.views.unit import read_unit
from bench.views.week import TaskEstimate

Named = ParamSpec("Named")
THE_UNIT = 0
NONE_OF_THEM = 0
CHOSEN = "chosen"


class PickDialog(Dialog[int]):
    """Answers the number of the line chosen. `made_by`: the name of the function that describes it."""

    send_action = "enter"
    made_by = ""

    def __init__(self, of: PickOf) -> None:
        super().__init__(of.heading)
        self.send_label = of.send
        self._reads = of.reads
        self._lines: tuple[Choosable, ...] = ()

    @property
    def _form(self) -> tuple[str, str]:
        return type(self).__name__, self.made_by

    def read(self) -> Sequence[Choosable]:
        """The lines, read in a thread."""
        return self._reads(self.desk)

    def body(self) -> Iterable[Widget]:
        """The list."""
        yield OptionList(id="choices", compact=True)

    def on_mount(self) -> None:
        """Read the lines."""
        self.do(self.read, self._show, failed=self._unreadable)

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written: whoever asked does what follows."""
        at = self.query_one(OptionList).highlighted
        if at is not None:
            chosen = self._lines[at].number
            self.bench.repeating.typed(self._form, {CHOSEN: str(chosen)})
            self.dismiss(chosen)
        return None

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_send()

    def _show(self, lines: Sequence[Choosable]) -> None:
        choices = self.query_one(OptionList)
        self._lines = tuple(lines)
        choices.add_options(Option(Text(_words(line))) for line in lines)
        last = self.bench.repeating.typed_last(self._form).get(CHOSEN)
        first = [at for at, line in enumerate(lines) if str(line.number) == last]
        choices.highlighted = next(iter(first or (at for at, line in enumerate(lines) if line.now)), 0)

    def _unreadable(self, _error: BenchError) -> bool:
        self.dismiss(None)
        return False


def pick(describe: Callable[Named, PickOf]) -> Callable[Named, PickDialog]:
    """Have the function answer the dialog that shows what it describes."""

    @wraps(describe)
    def made(*args: Named.args, **named: Named.kwargs) -> PickDialog:
        dialog = PickDialog(describe(*args, **named))
        dialog.made_by = describe.__name__
        return dialog

    return made


@pick
def choose_person() -> PickOf:
    """Who acts from now on."""

    def read(desk: Desk) -> Sequence[Choosable]:
        people = read_people(desk)
        return [Choosable(one.person_id, one.name, now=one.person_id == desk.person_id) for one in people]

    return PickOf("Who is working?", read)


@pick
def choose_stage(unit_id: int) -> PickOf:
    """Which stage a unit goes to; the unit's own is marked."""

    def read(desk: Desk) -> Sequence[Choosable]:
        here = read_unit(desk, unit_id).stage_id
        stages = read_stages(desk)
        return [Choosable(one.stage_id, stage_words(one), now=one.stage_id == here) for one in stages]

    return PickOf("Move to which stage?", read)


@pick
def choose_stage_of_all(unit_ids: tuple[int, ...]) -> PickOf:
    """Which stage all of the marked units go to."""

    def read(desk: Desk) -> Sequence[Choosable]:
        return [Choosable(one.stage_id, stage_words(one)) for one in read_stages(desk)]

    return PickOf(f"Move {len(unit_ids)} units to which stage?", read)


@pick
def choose_from_shelf() -> PickOf:
    """Which part that was taken out and kept is meant; NotFound when there are none."""

    def read(desk: Desk) -> Sequence[Choosable]:
        shelf = read_shelf(desk)
        if not shelf.lines:
            raise NotFound("No part lies on the shelf.", "Take one out of a unit first.")
        return [Choosable(one.part_id, shelf_words(one, shelf)) for one in shelf.lines]

    return PickOf("Fit which part from the shelf?", read, send="Fit it")


@pick
def choose_test() -> PickOf:
    """Which kind of test has ended, by its place among them."""

    def read(_desk: Desk) -> Sequence[Choosable]:
        return [Choosable(at, kind.label) for at, kind in enumerate(KINDS.values())]

    return PickOf("Which test has ended?", read)


@pick
def choose_place(unit_id: int, tag: str, words: str) -> PickOf:
    """Where a calculator's result is put: on the unit, or on one of the tasks it has to do."""

    def read(desk: Desk) -> Sequence[Choosable]:
        tasks = read_unit(desk, unit_id).tasks
        return [
            Choosable(THE_UNIT, f"Unit {tag} itself", now=True),
            *(Choosable(task.task_id, task.name) for task in tasks if task.state == "todo"),
        ]

    return PickOf(f"Put on {tag}: {words}", read, send="Put it there")


@pick
def choose_reading(readings: Sequence[ReadingLine], zone: str) -> PickOf:
    """Which of several readings is meant."""

    def read(desk: Desk) -> Sequence[Choosable]:
        context = Context(zone=zone, now_us=desk.clock.now_us(), screen=True)
        return [Choosable(one.reading_id, reading_words(one, context)) for one in readings]

    return PickOf("Which reading?", read)


@pick
def choose_estimate(estimate: TaskEstimate) -> PickOf:
    """What was measured of a task, to choose the new estimate from: answers the minutes."""
    lines = [Choosable(minutes, words) for minutes, words in new_estimates(estimate)]
    return PickOf(f"{estimate.task}: {estimate.estimate_minutes} min now", lambda _: lines)


@pick
def choose_drive(error: WhichDrive) -> PickOf:
    """Which of the drives on record a part is that moves, 0 for none of them."""
    drives = [Choosable(number, name) for number, name in error.drives]
    lines = [*drives, Choosable(NONE_OF_THEM, "none of them")]
    return PickOf(for_display(error.what), lambda _: lines)


@pick
def choose_colours(names: Sequence[str], now: str) -> PickOf:
    """The colours of the screen, by their place among these names."""
    lines = [Choosable(at, name.replace("-", " "), now=name == now) for at, name in enumerate(names)]
    return PickOf("Which colours?", lambda _: lines)


class ChooseUndo(PickDialog):
    """Which change of one's own to undo, or to do again: the newest first, each with what stands on it.

    One that something stands on is not taken, and it says why.
    """

    def __init__(self) -> None:
        super().__init__(PickOf("Undo which change of yours?", self._newest))
        self._offers: tuple[UndoOffer, ...] = ()

    def work(self) -> Callable[[], Any] | None:
        """Nothing is written: whoever asked does what follows."""
        at = self.query_one(OptionList).highlighted
        if at is None:
            self.say("There is no change of yours left to undo. The journal shows who did what.")
        elif self._offers[at].refusal:
            self.say(self._offers[at].refusal)
        else:
            self.dismiss(self._offers[at].journal_id)
        return None

    def _newest(self, desk: Desk) -> Sequence[Choosable]:
        """The newest lines of one's own; the newest that can be undone is marked."""
        self._offers = use_cases.undo.read_offers_to_undo(desk)
        context = on_screen(read_shop(desk), desk.clock.now_us())
        next_one = next((one for one in self._offers if not one.again and not one.refusal), None)
        return [Choosable(one.journal_id, _offered(one, context), one is next_one) for one in self._offers]


def _offered(offer: UndoOffer, context: Context) -> str:
    what = "redo" if offer.again else "undo"
    kept = "; something stands on it" if offer.refusal else ""
    return f"{what}: {offer.summary}, {context.instant(offer.at_us)}{kept}"


def _words(line: Choosable) -> str:
    return f"{'►' if line.now else ' '} {for_display(line.words)}"
