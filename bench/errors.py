"""Every error this program raises on purpose. What was booked before one came up makes the exit code 7.

BenchError            one sentence: what, why, what to do
├── Unprinted         the answer could not be printed                         exit 1
├── BadInput          what was typed cannot be used; nothing changed          exit 2
│   ├── SeveralBadInputs  the same of several fields at once                  exit 2
│   └── NotInstalled  a library of one of the extras is not there             exit 2
├── NotFound          no such unit, task, person, consumable ...              exit 3
├── Refused           a rule of the bench stops this                          exit 4
│   ├── BatteryFirst  the opening checklist is not ticked                     exit 4
│   ├── CellAlarm     a swollen, punctured or wet cell stops the job          exit 4
│   ├── ClosingFirst  the closing checklist is not ticked                     exit 4
│   ├── TasksOpen     unfinished tasks: mark done, skip with a reason or stay exit 4
│   ├── TasksDone     moving back: tasks to do again, or to keep as they are  exit 4
│   ├── OutOfStock    more would be issued than is on hand                    exit 4
│   ├── WhichDrive    a part that moves may be one of the drives recorded     exit 4
│   ├── KnownAlready  the same unit or part seems to be taken in twice        exit 4
│   ├── PartAwaited   a part that the task needs is not here yet              exit 4
│   └── ListingFirst  before a unit is listed or sold something is wanting    exit 4
│       └── WipeFirst a drive in the unit has no wipe that counts             exit 4
├── Crashed           the program met a mistake of its own; a log is left      exit 70
├── Conflict          changed by someone else since it was read               exit 5
└── StoreError        the file cannot be opened or written                    exit 6
    ├── MissingFile   no data file has that path; none was made               exit 6
    └── FileLost      the open file was removed, moved or replaced            exit 6
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple


class BenchError(Exception):
    """An error with a title, what went wrong and what to do about it, each plain text.

    `field`: the name of the typed value it speaks of, as the use case calls it; empty for none.
    """

    title = "That did not work"
    exit_code = 1

    def __init__(self, what: str, remedy: str = "", *, field: str = "") -> None:
        self.what = what
        self.remedy = remedy
        self.field = field
        super().__init__(f"{what} {remedy}".strip())

    @property
    def lines(self) -> tuple[str, ...]:
        """The sentence as it is told on lines of its own; one for most."""
        return (str(self),)


class Unprinted(BenchError):
    """The answer could not be printed; `pipe_closed`: because whoever read it is gone."""

    def __init__(self, error: OSError) -> None:
        super().__init__(f"The answer could not be printed ({error.strerror}).")
        self.pipe_closed = isinstance(error, BrokenPipeError)


class BadInput(BenchError):
    """What was typed cannot be used; nothing was changed."""

    title = "Cannot use that"
    exit_code = 2

    @property
    def faults(self) -> tuple[BadInput, ...]:
        """Each fault by itself, in the order of reading."""
        return (self,)

    def of_field(self, field: str) -> BadInput:
        """The same fault, as that field's."""
        return BadInput(self.what, self.remedy, field=field)


class SeveralBadInputs(BadInput):
    """What was typed into several fields cannot be used; `faults` has one for each."""

    def __init__(self, faults: Sequence[BadInput]) -> None:
        super().__init__(" ".join(map(str, faults)))
        self._faults = tuple(faults)

    @property
    def faults(self) -> tuple[BadInput, ...]:
        """Each fault by itself, in the order of reading."""
        return self._faults


class NotInstalled(BadInput):
    """A library is not there: it comes with one of the extras."""

    def __init__(self, what: str, extra: str) -> None:
        super().__init__(
            f"{what} a library that is not installed here.",
            f"Install bench with it: in the checkout pip install '.[{extra}]', else the wheel's name "
            f"with [{extra}] behind it.",
        )


class NotFound(BenchError):
    """What was asked for is not in the file."""

    title = "Not found"
    exit_code = 3


class Refused(BenchError):
    """A rule of the bench stops this; nothing was changed."""

    title = "Not yet"
    exit_code = 4


class BatteryFirst(Refused):
    """The opening checklist of unit `unit_id` is not ticked since its cover was last on.

    `items`: those of its items that are asked for.
    """

    title = "Battery first"

    def __init__(self, what: str, remedy: str = "", *, unit_id: int = 0, items: tuple[str, ...] = ()) -> None:
        super().__init__(what, remedy)
        self.unit_id = unit_id
        self.items = items


class CellAlarm(Refused):
    """A swollen, punctured or wet cell stops all work on the unit."""

    title = "Stop: cell"


class ClosingFirst(Refused):
    """The closing checklist of unit `unit_id` is not ticked."""

    title = "Closing checklist"

    def __init__(self, what: str, remedy: str = "", *, unit_id: int = 0) -> None:
        super().__init__(what, remedy)
        self.unit_id = unit_id


class TasksOpen(Refused):
    """Unfinished `tasks` (number and name) stand between the unit and the stage asked for."""

    title = "Unfinished tasks"

    def __init__(self, what: str, remedy: str = "", *, tasks: tuple[tuple[int, str], ...] = ()) -> None:
        super().__init__(what, remedy)
        self.tasks = tasks


class TasksDone(Refused):
    """Moving back, `tasks` (number and name) may have to be done again: reopened or kept as they are."""

    title = "Done tasks"

    def __init__(self, what: str, remedy: str = "", *, tasks: tuple[tuple[int, str], ...] = ()) -> None:
        super().__init__(what, remedy)
        self.tasks = tasks


class OutcomeFirst(Refused):
    """Task `task_id` of unit `unit_id` is a test of that `kind`: it is done with its outcome."""

    title = "Outcome first"

    def __init__(
        self, what: str, remedy: str = "", *, unit_id: int = 0, task_id: int = 0, kind: str = ""
    ) -> None:
        super().__init__(what, remedy)
        self.unit_id, self.task_id, self.kind = unit_id, task_id, kind


class OutOfStock(Refused):
    """More would be issued than is on hand."""

    title = "Count first"


class WhichDrive(Refused):
    """A part that moves may be a drive: it must be said which of `drives` (number and name), or that none is.

    `field`: the argument by which the use case is told.
    """

    title = "Which drive"

    def __init__(
        self, what: str, remedy: str = "", *, field: str = "", drives: tuple[tuple[int, str], ...] = ()
    ) -> None:
        super().__init__(what, remedy, field=field)
        self.drives = drives


class KnownAlready(Refused):
    """What is taken in or fitted bears the marks of something on record; a typed reason goes on."""

    title = "Twice?"


class PartAwaited(Refused):
    """A part that the task needs is not here yet; a typed reason goes on without it."""

    title = "Waits for a part"


class ListingFirst(Refused):
    """Before unit `unit_id` is listed or sold something is wanting: `matters`, of `domain.holding`."""

    title = "Before listing"

    def __init__(
        self, what: str, remedy: str = "", *, unit_id: int = 0, matters: tuple[str, ...] = ()
    ) -> None:
        super().__init__(what, remedy)
        self.unit_id = unit_id
        self.matters = matters


class WipeFirst(ListingFirst):
    """A drive in unit `unit_id` has no wipe that counts, and no reason for going on was typed."""

    title = "Wipe first"


class Conflict(BenchError):
    """Someone else changed it since it was read; nothing was changed."""

    title = "Changed meanwhile"
    exit_code = 5


class StoreError(BenchError):
    """The data file cannot be opened or written; it was left as it is."""

    title = "Data file"
    exit_code = 6


class CopyThere(NamedTuple):
    """A copy of a missing data file: where it lies, and of when it is, on the clock of this computer."""

    path: Path
    when: str


class MissingFile(StoreError):
    """No data file has that path, and none was made.

    `known`: it was opened on this computer before; `copies`: what lies of it still, the newest first.
    """

    title = "Data file missing"

    def __init__(
        self, what: str, remedy: str = "", *, known: bool = False, copies: Sequence[CopyThere] = ()
    ) -> None:
        super().__init__(what, remedy)
        self.known = known
        self.copies = tuple(copies)


class FileLost(StoreError):
    """The file that was opened lost its name, or is another now: nothing is written any more."""

    title = "Data file lost"


class Crashed(BenchError):
    """The program met a mistake of its own and ended; `log` says where, None where nothing could be kept.

    Exit code 70 is EX_SOFTWARE of sysexits.h.
    """

    title = "A mistake of the program"
    exit_code = 70

    def __init__(self, log: object = None) -> None:
        kept = f"Where it stopped is kept in {log}." if log else "No log could be written."
        super().__init__(
            "The program met a mistake of its own and ended; what it had confirmed is in the data file.", kept
        )
