"""What goes to the terminal of a drawing: of the lines drawn again only the cells that differ."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from operator import itemgetter
from typing import cast

from rich.console import Console, RenderableType
from rich.control import Control
from rich.segment import Segment
from rich.style import Style
from textual._compositor import ChopsUpdate, CompositorUpdate, LayoutUpdate  # told apart only by these
from textual.geometry import Region
from textual.strip import Strip

Drawing = LayoutUpdate | ChopsUpdate
Cell = tuple[str, Style | None]

# So many cells that did not change are sent along rather than passed over: to go on costs a place and looks.
NEAR = 6


class Shown:
    """What the terminal shows: in each line, the pieces drawn last by the column where each begins."""

    def __init__(self) -> None:
        self._lines: dict[int, dict[int, Strip]] = {}
        self._of: tuple[object, Region] | None = None

    def forget(self) -> None:
        """The terminal was cleared, or given another size: nothing of what was sent is sure to be seen."""
        self._of = None

    def take(self, screen: object, update: RenderableType | None) -> RenderableType | None:
        """The same drawing of a screen, or one that sends less of it.

        What covers the terminal again, such as another screen or a dialog, is sent whole.
        """
        if not isinstance(update, LayoutUpdate | ChopsUpdate):
            return update
        return cast("RenderableType", Sent(self, screen, update))

    def begins_anew(self, screen: object, update: Drawing) -> bool:
        """Whether all of a drawing has to be sent; it is known then."""
        if isinstance(update, ChopsUpdate):
            return False
        before, self._of = self._of, (screen, update.region)
        if before == self._of:
            return False
        self._lines = {}
        for x, y, piece in _pieces(update):
            self._lines.setdefault(y, {})[x] = piece
        return True

    def changes(self, update: Drawing) -> Iterator[tuple[int, int, Strip]]:
        """Column, line and what to draw there; from then on it is what the terminal shows."""
        for x, y, piece in _pieces(update):
            line = self._lines.setdefault(y, {})
            before = line.get(x)
            if piece is before:
                continue
            line[x] = piece
            if before is not None and before.cell_length == piece.cell_length:
                yield from ((at, y, part) for at, part in _differing(x, before, piece))
            else:
                _forget(line, x, piece.cell_length)
                yield x, y, piece


class Sent(CompositorUpdate):
    """A drawing as it is sent: what the terminal shows is looked at then, and not before."""

    def __init__(self, shown: Shown, screen: object, update: Drawing) -> None:
        self._shown, self._screen, self._update = shown, screen, update

    def render_segments(self, console: Console) -> str:
        """All of it, or the cells that differ, each run behind its place."""
        if self._shown.begins_anew(self._screen, self._update):
            return self._update.render_segments(console)
        return "".join(
            f"{Control.move_to(x, y).segment.text}{part.render(console)}"
            for x, y, part in self._shown.changes(self._update)
        )


def _pieces(update: Drawing) -> Iterator[tuple[int, int, Strip]]:
    """The pieces of the lines that were drawn, each with its column and line."""
    if isinstance(update, ChopsUpdate):
        # Only what a span touches was drawn: beside it stands the ground of the screen.
        for y, first, end in update.spans:
            line = zip(update.chops[y].items(), update.chop_ends[y], strict=True)
            for (x, piece), piece_end in line:
                if piece is not None and x < end and piece_end > first:
                    yield x, y, piece
        return
    for y, pieces in enumerate(update.strips, update.region.y):
        x = update.region.x
        for piece in pieces:
            yield x, y, piece
            x += piece.cell_length


def _differing(x: int, before: Strip, after: Strip) -> Iterator[tuple[int, Strip]]:
    """The runs of cells that differ between two pieces of the same place and width."""
    was, now = list(before), list(after)
    while was and now and was[0] == now[0]:
        x += now[0].cell_length
        del was[0], now[0]
    while was and now and was[-1] == now[-1]:
        del was[-1], now[-1]
    old, new = _cells(was), _cells(now)
    if old is None or new is None or len(old) != len(new):
        yield x, Strip(now)
        return
    changed = [at for at, (one, other) in enumerate(zip(old, new, strict=True)) if one != other]
    for first, last in _runs(changed):
        by_look = groupby(new[first : last + 1], key=itemgetter(1))
        yield x + first, Strip([Segment("".join(one for one, _ in run), look) for look, run in by_look])


def _cells(segments: list[Segment]) -> list[Cell] | None:
    """The cells of a piece; None where a character takes more or fewer than one."""
    if any(one.cell_length != len(one.text) for one in segments):
        return None
    return [(char, style) for text, style, _ in segments for char in text]


def _runs(changed: Iterable[int]) -> Iterator[tuple[int, int]]:
    """First and last of each run, those near each other as one."""
    first = last = -1
    for at in changed:
        if first >= 0 and at - last > NEAR:
            yield first, last
            first = at
        elif first < 0:
            first = at
        last = at
    if first >= 0:
        yield first, last


def _forget(line: dict[int, Strip], x: int, width: int) -> None:
    """What was drawn over is known no more."""
    for at, piece in list(line.items()):
        if at != x and at < x + width and x < at + piece.cell_length:
            del line[at]
