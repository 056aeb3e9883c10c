"""Readings before and after side by side with what they say, and grades."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.dashboard.presenters.rows import Row, cell, heading, room
from bench.domain.condition.battery_choice import BatteryChoice
from bench.domain.condition.figures import facts
from bench.domain.condition.found import ACT, FINE, OPEN, STATE
from bench.domain.condition.reading_files import SOURCES
from bench.domain.condition.readings import PartFigures, ReadingLine, SubjectLines
from bench.domain.condition.verdicts import Verdict, verdicts
from bench.domain.grading import NO_CONFORMITY, Step
from bench.domain.money import money_or, show_money
from bench.domain.safety import FINDINGS
from bench.domain.text import for_display
from bench.views.columns import Table
from bench.views.condition import ConditionSheet
from bench.views.grades import GradeLine, GradeSheet
from bench.views.kinds import Context, on_screen

CONDITION = Table[Any](
    "condition", "Readings", (room("", 24, grow=1), room("Before", 16, grow=1), room("After", 16, grow=1))
)
MARKS = {FINE: "✓", STATE: "•", ACT: "!", OPEN: "?"}
LOOKS = {FINE: "good", STATE: "warning", ACT: "alert", OPEN: "muted"}
VERDICT, CHOICE = "verdict", "choice"
AGAIN = "read again: it was opened or came back since"


class Here(NamedTuple):
    """What a row is about: its subject, and the verdict or the pack's place where it is one."""

    subject: str
    kind: str
    at: int


def condition_head(sheet: ConditionSheet, width: int) -> tuple[Line, ...]:
    """The unit, and what is amiss or not measured."""
    left = (Part(f" Condition of {sheet.tag}", "strong"), Part(f"  {for_display(sheet.model)}"))
    if sheet.cell_finding is not None:
        finding = FINDINGS.get(sheet.cell_finding, sheet.cell_finding)
        return (spread(left, (Part(f"✖ {finding}: work stops ", "loud"),), width),)
    missing = len(sheet.not_measured)
    words = f"{missing} of {len(sheet.subjects)} not measured " if missing else "✓ everything measured "
    right = Part(words, "warning" if missing else "good")
    return (spread(left, (right,), width),)


def condition_rows(sheet: ConditionSheet) -> tuple[Row, ...]:
    """Every subject with its figures and verdicts; keys are `Here`."""
    return tuple(row for lines in sheet.subjects for row in _subject(lines, sheet))


def definition_lines(sheet: ConditionSheet, here: object, now_us: int, width: int) -> tuple[Line, ...]:
    """What the verdict under the cursor goes by, or who took the readings of its subject."""
    if not isinstance(here, Here):
        return ()
    lines = next(one for one in sheet.subjects if one.subject == here.subject)
    if here.kind == VERDICT:
        return _definition(_told(lines)[here.at], width)
    if here.kind == CHOICE:
        return choice_lines(sheet.batteries[here.at], sheet.currency, width)
    taken = (*lines.before, *lines.after, *lines.ended)
    if not taken:
        return ((Part(f"{lines.label} was not measured yet.", "muted"),),)
    return tuple(_taken(line, on_screen(sheet, now_us)) for line in taken)


def choice_lines(choice: BatteryChoice, currency: str, width: int) -> tuple[Line, ...]:
    """What to do with a pack, what it would cost, and the shop's rules it goes by."""
    head = f"{choice.choice}: "
    first, *rest = wrap(head + choice.why, width)
    lines: list[Line] = [(Part(first[: len(head)], "strong"), Part(first[len(head) :]))]
    lines += [(Part(line),) for line in rest]
    lines += [(Part(f"{one.words}: {show_money(one.amount_minor, currency)}"),) for one in choice.costs]
    if choice.costs:
        gain = money_or(choice.gain_minor, currency, "not typed")
        cost = show_money(choice.cost_minor, currency)
        lines.append((Part(f"replacing costs {cost}; it adds to the sale: {gain}", "strong"),))
    lines += [(Part(line, "warning"),) for one in choice.cautions for line in wrap(one, width)]
    for rule in choice.rules:
        lines += [(Part(line, "muted"),) for line in wrap(f"{rule.words} ({rule.source})", width)]
    return tuple(lines)


def reading_words(line: ReadingLine, context: Context) -> str:
    """One reading to choose from a list."""
    of = f" of {line.part}" if line.part else ""
    figures = ", ".join(fact.shown for fact in line.facts[:3])
    when = context.instant(line.at_us)
    ended = "" if line.holds else " (ended)"
    return f"{line.moment}{ended}, {line.subject}{of}: {figures} ({line.person}, {when})"


def _subject(lines: SubjectLines, sheet: ConditionSheet) -> Iterator[Row]:
    yield heading(lines.subject, lines.label)
    if not lines.measured:
        yield Row(Here(lines.subject, "none", 0), (cell("not measured", "muted"), cell(""), cell("")))
    if lines.ended and not lines.after:
        yield Row(Here(lines.subject, "ended", 0), (cell(f"! {AGAIN}", "alert"),), wide=True)
    at = 0
    for part in lines.parts:
        if part.part and len(lines.parts) > 1:
            yield Row(Here(lines.subject, "part", at), (cell(part.part, "strong"), cell(""), cell("")))
        for row in _figures(part):
            yield Row(Here(lines.subject, "fact", at), row)
            at += 1
    for number, verdict in enumerate(_told(lines)):
        yield _verdict(Here(lines.subject, VERDICT, number), verdict)
    if lines.subject == "battery":
        for number, choice in enumerate(sheet.batteries):
            words = (cell(f"→ {choice.choice}: ", "strong"), cell(choice.why))
            yield Row(Here(lines.subject, CHOICE, number), words, wide=True)


def _figures(part: PartFigures) -> Iterator[tuple[Part, ...]]:
    before = {fact.name: fact for fact in facts(part.before)}
    after = {fact.name: fact for fact in facts(part.after)}
    for name in dict.fromkeys((*before, *after)):
        label = (before.get(name) or after[name]).label
        was, now = (shown[name].shown if name in shown else "–" for shown in (before, after))
        look = "strong" if was not in (now, "–") and now != "–" else ""
        yield (cell(label), cell(was, "muted"), cell(now, look))


def _told(lines: SubjectLines) -> tuple[Verdict, ...]:
    """The verdicts on the newest figures of each part, and on the work between them."""
    return tuple(
        verdict
        for part in lines.parts
        for verdict in (*verdicts(lines.subject, part.after or part.before), *part.compared)
    )


def _verdict(key: Here, verdict: Verdict) -> Row:
    look = LOOKS[verdict.standing]
    words = cell(f"{MARKS[verdict.standing]} {verdict.words}: ", look)
    return Row(key, (words, cell(verdict.standing, look)), wide=True)


def _definition(verdict: Verdict, width: int) -> tuple[Line, ...]:
    lines: list[Line] = [(Part(f"{verdict.words}: {verdict.standing}", LOOKS[verdict.standing]),)]
    lines += [(Part(line),) for line in wrap(verdict.definition, width)]
    lines += [(Part(line, "muted"),) for line in wrap(verdict.source, width)]
    return tuple(lines)


def _taken(line: ReadingLine, context: Context) -> Line:
    note = f": {for_display(line.note)}" if line.note else ""
    ended = "" if line.holds else " (ended: opened or came back since)"
    when = context.instant(line.at_us)
    who = f"{line.moment}{ended}, {for_display(line.person)}, {when}, {SOURCES[line.source]}"
    of = f" {for_display(line.part)}" if line.part else ""
    return (Part(f"{who}{of}", "muted"), Part(note))


def grades_head(sheet: GradeSheet, width: int) -> tuple[Line, ...]:
    """The unit, and how much of it was graded."""
    left = (Part(f" Grade of {sheet.tag}", "strong"), Part(f"  {for_display(sheet.model)}"))
    said = sum(one.grade_id is not None for one in sheet.lines)
    right = Part(f"{said} of {len(sheet.lines)} parts ", "good" if said == len(sheet.lines) else "warning")
    return (spread(left, (right,), width),)


def grade_detail(line: GradeLine | None, context: Context, width: int) -> tuple[Line, ...]:
    """All that is said of the part under the cursor, what the steps mean, and what the scale is not."""
    lines: list[Line] = []
    if line is not None and line.grade_id is not None:
        lines += [(Part(one),) for one in wrap(line.sentence, width)]
        for step in (line.function, line.looks):
            if step is not None:
                words = f"{step.name} ({step.side}): {step.meaning}"
                lines += [(Part(one, "muted"),) for one in wrap(words, width)]
        if line.at_us is not None:
            lines.append((Part(f"{for_display(line.person)}, {context.instant(line.at_us)}", "muted"),))
    return (*lines, *((Part(one, "muted"),) for one in wrap(NO_CONFORMITY, width)))


def step_choices(scale: tuple[Step, ...], side: str, given: Step | None) -> tuple[tuple[str, str], ...]:
    """The steps of one side, the best first, and one that was given but is no longer in the scale."""
    steps = [step for step in scale if step.side == side]
    if given is not None and given.step_id not in {step.step_id for step in steps}:
        steps.append(given)
    return tuple((str(step.step_id), f"{step.name}  ({step.meaning})") for step in steps)
