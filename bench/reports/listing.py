"""A listing to paste into an advertisement: from the records alone, faults and gaps included.

Lines are not broken: whatever it is pasted into does that.
"""

from __future__ import annotations

from collections.abc import Iterable

from bench.domain.grading import NO_CONFORMITY
from bench.domain.localtime import iso_local
from bench.domain.text import for_display
from bench.reports.buyer_sheet import specification_words
from bench.reports.plain_tables import sections, under
from bench.reports.plain_values import facts_of, json_text
from bench.views.drives import DriveLine
from bench.views.grades import GradeLine
from bench.views.listing import Listing, Measured

NOTHING_READ = "Nothing was measured: there is no reading."
NO_FAULT = "No fault is on record. What was not tested is listed below."


def listing_text(listing: Listing) -> str:
    """What can be said of the unit, a heading and its lines for each kind of record."""
    sheet = listing.sheet
    return sections(
        for_display(f"{sheet.maker} {sheet.model}".strip()),
        _grade(listing),
        _listed("Specification", specification_words(sheet)) if sheet.specified else "",
        _listed("Faults and traces", listing.faults) or NO_FAULT,
        _listed("Parts", map(_part, listing.parts_said)),
        _listed("Measured", map(_measured, listing.measured)) or NOTHING_READ,
        _listed("Work done", [*_tasks(listing), *_parts_moved(listing)]),
        _listed("Drives", (_drive(drive, sheet.zone) for drive in sheet.drives.drives)),
        _listed("Not tested", sheet.not_tested),
        _listed("Still to be done when this was written", listing.to_do),
        NO_CONFORMITY if sheet.graded else "",
    )


def listing_json(listing: Listing) -> str:
    """The text, and the records it was written from, as a JSON document."""
    sheet = listing.sheet
    facts = {
        "unit_id": sheet.unit_id,
        "tag": sheet.tag,
        "maker": sheet.maker,
        "model": sheet.model,
        "text": listing_text(listing),
        "specification": [{"label": label, "words": words} for label, words in sheet.specified],
        "faults": list(listing.faults),
        "measured": [one._asdict() for one in listing.measured],
        "done": list(listing.done),
        "left_out": list(listing.left_out),
        "to_do": list(listing.to_do),
        "not_tested": list(sheet.not_tested),
        "grades": [facts_of(line, sheet.zone) for line in sheet.grades.lines],
    }
    return json_text("listing", facts)


def _grade(listing: Listing) -> str:
    line = listing.whole
    if line.grade_id is None:
        return "Not graded as a whole."
    return for_display(
        f"Grade: {_steps(line) or 'none given'}.{f' {line.sentence}' if line.sentence else ''}"
    )


def _part(line: GradeLine) -> str:
    return f"{line.label}: {', '.join(part for part in (_steps(line), line.sentence) if part)}"


def _steps(line: GradeLine) -> str:
    sides = (("function", line.function), ("looks", line.looks))
    return ", ".join(f"{side} {step.name}" for side, step in sides if step is not None)


def _measured(one: Measured) -> str:
    return f"{one.name}: {one.words}{' (before the work)' if one.before_work else ''}"


def _tasks(listing: Listing) -> Iterable[str]:
    yield from listing.done
    yield from (f"left out: {name}" for name in listing.left_out)


def _parts_moved(listing: Listing) -> Iterable[str]:
    for part in listing.sheet.parts:
        if part.into:
            yield f"fitted: {part.name}{', used, out of another unit' if part.used else ''}"
        else:
            yield f"taken out: {part.name}"


def _drive(drive: DriveLine, zone: str) -> str:
    if not drive.wiped:
        return f"{drive.name}: {drive.standing}; no wipe that passed is on record"
    verified_us = drive.wipes[0].verified_us
    day = "" if verified_us is None else f" on {iso_local(verified_us, zone)[:10]}"
    return f"{drive.name}: wiped ({drive.wipes[0].method}), verification passed{day}"


def _listed(title: str, lines: Iterable[str]) -> str:
    shown = [f"- {for_display(line)}" for line in lines]
    return under(title, "\n".join(shown)) if shown else ""
