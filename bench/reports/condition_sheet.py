"""A unit's condition as text and JSON: readings with verdicts, what to do with the battery, its grades."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from bench.domain.condition.battery_choice import BatteryChoice
from bench.domain.condition.reading_files import SOURCES
from bench.domain.condition.readings import ReadingLine, SubjectLines
from bench.domain.condition.verdicts import Verdict
from bench.domain.grading import NO_CONFORMITY, SIDES, Step
from bench.domain.localtime import day_and_time
from bench.domain.money import money_or, show_money
from bench.domain.safety import AFTER_A_BAD_CELL, FINDINGS
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.condition import ConditionSheet
from bench.views.grades import GradeLine, GradeSheet
from bench.views.tables.grades import GRADES


def condition_text(sheet: ConditionSheet, *, why: bool = False) -> str:
    """The unit's condition in plain text; with `why`, each verdict's definition and source beneath it."""
    return sections(
        one_line(f"Condition of {sheet.tag}, {sheet.model}"),
        _stop(sheet.cell_finding),
        *(_subject(lines, sheet.zone, why=why) for lines in sheet.subjects if lines.measured),
        "\n".join(choice_text(choice, sheet.currency, why=why) for choice in sheet.batteries),
        _not_measured(sheet.not_measured),
    )


def condition_json(sheet: ConditionSheet) -> str:
    """The same as a JSON document; figures carry their unit of measure in their names."""
    return json_text("condition", facts_of(sheet, sheet.zone))


def verdict_lines(verdicts: Iterable[Verdict], *, why: bool = False, start: int = 4) -> list[str]:
    """Verdicts a line each, with definition and source beneath where asked for."""
    lines = []
    for verdict in verdicts:
        mark = f"{verdict.standing}: " if verdict.standing else ""
        lines.append(wrapped(f"{mark}{verdict.words}", start=start, indent=start + 2))
        if why:
            about = f"{verdict.definition} [{verdict.source}]"
            lines.append(wrapped(about, start=start + 4, indent=start + 4))
    return lines


def choice_text(choice: BatteryChoice, currency: str, *, why: bool = False) -> str:
    """What to do with a pack, what replacing costs, and with `why` the rules it goes by."""
    lines = [wrapped(f"Battery: {choice.choice}. {choice.why}", indent=2)]
    lines += [f"  {cost.words}: {show_money(cost.amount_minor, currency)}" for cost in choice.costs]
    if choice.costs:
        gain = money_or(choice.gain_minor, currency, "not given")
        lines.append(f"  in all {show_money(choice.cost_minor, currency)}; the sale gains {gain}")
    lines += [wrapped(caution, start=2, indent=2) for caution in choice.cautions]
    if why:
        lines += [wrapped(f"{rule.words} [{rule.source}]", start=4, indent=4) for rule in choice.rules]
    return "\n".join(lines)


def _stop(finding: str | None) -> str:
    if finding is None:
        return ""
    return "\n".join((f"STOP: {FINDINGS[finding]}.", *map(wrapped, AFTER_A_BAD_CELL)))


def _subject(lines: SubjectLines, zone: str, *, why: bool) -> str:
    readings = [
        part for line in (*lines.before, *lines.after, *lines.ended) for part in _reading(line, zone, why=why)
    ]
    work = [
        text
        for part in lines.parts
        if part.compared
        for text in ("  before against after", *verdict_lines(part.compared, why=why))
    ]
    return under(lines.label, "\n".join([*readings, *work]))


def _reading(line: ReadingLine, zone: str, *, why: bool) -> list[str]:
    of = f", {line.part}" if line.part else ""
    ended = "" if line.holds else ", before it was opened or came back"
    head = f"{line.moment}{of}{ended}: {SOURCES[line.source]}, {line.person} {day_and_time(line.at_us, zone)}"
    facts = "; ".join(f"{fact.label} {fact.shown}" for fact in line.facts)
    texts = [f"{head} (no. {line.reading_id})", facts, *([line.note] if line.note else [])]
    shown = [wrapped(text, start=2 if at == 0 else 4, indent=4) for at, text in enumerate(texts)]
    return [*shown, *verdict_lines(line.verdicts, why=why)]


def _not_measured(labels: tuple[str, ...]) -> str:
    return wrapped(f"Not measured: {', '.join(labels)}.", indent=2) if labels else ""


def grades_text(sheet: GradeSheet) -> str:
    """What is said of each part, and the scale's own claim."""
    shown = replace(GRADES, columns=GRADES.columns[:3])
    return sections(
        one_line(f"Grades of {sheet.tag}, {sheet.model}"),
        told(shown, sheet.lines, notes=[_note(line) for line in sheet.lines]),
        wrapped(NO_CONFORMITY),
    )


def grades_json(sheet: GradeSheet) -> str:
    """The same as a JSON document."""
    return json_text("grades", facts_of(sheet, sheet.zone))


def _note(line: GradeLine) -> str:
    again = "" if line.holds else "To be graded again: it was opened or came back since. "
    return f"{again}{line.sentence}".rstrip()


def scale_text(scale: Sequence[Step]) -> str:
    """The shop's scale, function and looks, the best first."""
    return sections(
        *(
            under(
                side.capitalize(),
                "\n".join(
                    wrapped(f"{step.position}. {step.name}: {step.meaning}", start=2, indent=5)
                    for step in scale
                    if step.side == side
                ),
            )
            for side in SIDES
        ),
        wrapped(NO_CONFORMITY),
    )
