"""What a unit is made of, as text and JSON: what counts, what changed, and what was amiss with a file."""

from __future__ import annotations

from collections.abc import Iterable

from bench.domain.localtime import day_and_time
from bench.domain.specification import Specification, SpecificationChange, specification_lines
from bench.reports.plain_tables import one_line, sections, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.specification import KeptSpecification, SpecificationSheet, source_words

NOTHING_KNOWN = "Nothing is known of what it is made of."
NOTHING_CHANGED = "Nothing changed since the last one."


def specification_text(sheet: SpecificationSheet) -> str:
    """What counts, then each earlier change, the newest first."""
    title = one_line(f"Unit {sheet.tag}, {f'{sheet.maker} {sheet.model}'.strip()}")
    newest = sheet.newest
    if newest is None:
        return sections(title, NOTHING_KNOWN)
    return sections(
        title,
        "\n".join(
            [*machine_lines(newest.machine), wrapped(taken_words(newest, sheet.zone), start=2, indent=4)]
        ),
        *(_changed(later, changes, sheet.zone) for later, changes in sheet.changed),
        under("Amiss with its file", _indented(newest.told)) if newest.told else "",
    )


def specification_json(sheet: SpecificationSheet) -> str:
    """All that is kept, the newest first, as a JSON document."""
    return json_text("specification", facts_of(sheet, sheet.zone))


def machine_lines(machine: Specification) -> list[str]:
    """A line a subject."""
    lines = specification_lines(machine)
    return [wrapped(f"{line.label:<15}{line.text}", start=2, indent=17) for line in lines] or [NOTHING_KNOWN]


def change_lines(changes: Iterable[SpecificationChange]) -> list[str]:
    """A line a change."""
    return [wrapped(change.words, start=2, indent=4) for change in changes] or [NOTHING_CHANGED]


def taken_words(kept: KeptSpecification, zone: str) -> str:
    """When it was told, and by whom or what."""
    return f"As of {day_and_time(kept.at_us, zone)}, {source_words(kept)}, {kept.person}."


def _changed(later: KeptSpecification, changes: tuple[SpecificationChange, ...], zone: str) -> str:
    return under(f"Changed {day_and_time(later.at_us, zone)}", "\n".join(change_lines(changes)))


def _indented(lines: Iterable[str]) -> str:
    return "\n".join(wrapped(line, start=2, indent=4) for line in lines)
