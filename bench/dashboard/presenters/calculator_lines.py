"""A calculator as lines: its place in the list, its cautions, its answers, formula and source."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.cells import cell_len

from bench.dashboard.presenters.pieces import Line, Part, clip, fit, spread, wrap
from bench.domain.calculators.shape import Answer, Calculator
from bench.domain.calculators.worked import Part as SheetPart
from bench.domain.calculators.worked import Sheet
from bench.domain.text import for_display

INDENT = "  "
VALUE = 24
REMARK = 30


def head_lines(calculator: Calculator, tag: str | None, width: int) -> tuple[Line, ...]:
    """The line above everything: what the calculator answers, and the unit its result would go to."""
    left = (Part(f" {calculator.title}", "strong"), Part(f"  {calculator.line}"))
    right = (Part(f"for {for_display(tag)} ", "heading"),) if tag else (Part("no unit ", "muted"),)
    return (spread(left, right, width),)


def caution_lines(calculator: Calculator, width: int) -> tuple[Line, ...]:
    """Every caution, wrapped, each begun with the same mark."""
    lines: list[Line] = []
    for caution in calculator.cautions:
        first, *rest = wrap(caution, max(width - 2, 1))
        lines.append((Part("! ", "warning"), Part(first, "warning")))
        lines += [(Part(INDENT), Part(line, "warning")) for line in rest]
    return tuple(lines)


def sheet_lines(sheet: Sheet, width: int) -> tuple[Line, ...]:
    """The answers part by part, then how they are calculated and from what."""
    return (
        *(line for part in _parts(sheet, width) for line in part),
        *_told("Formula", sheet.calculator.formulas, width),
        (),
        *_told("Source", sheet.calculator.sources, width),
    )


def lines_of_figure(sheet: Sheet, name: str, width: int) -> range:
    """The numbers of the lines with the first answers that a figure goes into."""
    start = 0
    for one, lines in zip(sheet.calculator.sums, _parts(sheet, width), strict=True):
        if name in one.needs:
            return range(start, start + len(lines) - 1)
        start += len(lines)
    return range(0)


def _parts(sheet: Sheet, width: int) -> list[tuple[Line, ...]]:
    """Each part's lines, an empty one last; where there is room, labels, values and remarks in columns."""
    label = max((cell_len(answer.label) for answer in sheet.answers), default=0) + 2
    in_columns = width >= label + VALUE + REMARK
    return [tuple(_part(part, width, label if in_columns else 0)) for part in sheet.parts]


def _part(part: SheetPart, width: int, label: int) -> Iterable[Line]:
    yield (Part(clip(part.title, width), "heading"),)
    if part.wrong:
        yield from flow((Part(part.wrong, "alert"),), width)
    elif part.lacks:
        yield from flow((Part("waits for", "muted"), Part(", ".join(part.lacks), "muted")), width)
    for answer in part.answers:
        yield from _answer(answer, width, label)
    yield ()


def _answer(answer: Answer, width: int, label: int) -> tuple[Line, ...]:
    look = "alert" if answer.alert else "strong" if answer.value is not None else "warning"
    value = f"▲ {answer.shown()}" if answer.alert else answer.shown()
    based_on = f"({answer.based_on})" if answer.based_on else ""
    if not label or cell_len(value) >= VALUE:
        return flow((Part(answer.label), Part(value, look), Part(based_on, "muted")), width)
    first, *rest = wrap(based_on, width - label - VALUE) or [""]
    head = (Part(fit(answer.label, label)), Part(fit(value, VALUE), look), Part(first, "muted"))
    return (head, *((Part(" " * (label + VALUE)), Part(line, "muted")) for line in rest))


def _told(title: str, lines: Sequence[str], width: int) -> Iterable[Line]:
    yield (Part(title, "heading"),)
    for line in lines:
        yield from flow((Part(line, "muted"),), width)


def flow(parts: Sequence[Part], width: int) -> tuple[Line, ...]:
    """The parts' words one after another in lines of at most `width` cells, the later ones indented."""
    words = [Part(word, part.look) for part in parts for word in wrap_words(part.text, width - len(INDENT))]
    lines: list[list[Part]] = []
    room = 0
    for word in words:
        needed = cell_len(word.text) + 1
        if not lines or needed > room:
            lines.append([Part(INDENT) if lines else Part(""), word])
            room = width - (len(INDENT) if len(lines) > 1 else 0) - needed + 1
        else:
            # The blank belongs to the word before it, so that a look never begins with a gap.
            lines[-1] += [Part(" "), word]
            room -= needed
    return tuple(tuple(line) for line in lines)


def wrap_words(text: str, width: int) -> list[str]:
    """The words of a text, those wider than `width` cells broken."""
    return [piece for word in for_display(text).split() for piece in wrap(word, max(width, 1))]
