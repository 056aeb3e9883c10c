"""A listing to paste into an advertisement: from the records alone, faults and gaps included.

Lines are not broken: whatever it is pasted into does that.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bench.domain.grading import NO_CONFORMITY
from bench.domain.localtime import iso_local
from bench.domain.text import for_display
from bench.reports.buyer_sheet import specification_words
from bench.reports.html_page import heading, items, page, paragraph
from bench.reports.photographs import TITLE as PHOTOGRAPHS
from bench.reports.photographs import photograph_words, photographs_html
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
        *(_listed(title, lines) or none for title, lines, none in _told(listing)),
        _listed(PHOTOGRAPHS, photograph_words(sheet.photographs)),
        NO_CONFORMITY if sheet.graded else "",
    )


def listing_html(listing: Listing) -> str:
    """The same as a page to send, with the photographs that go into papers."""
    sheet = listing.sheet
    parts = [paragraph(_grade(listing))]
    for title, lines, none in _told(listing):
        if lines:
            parts += [heading(title), items(lines)]
        elif none:
            parts.append(paragraph(none))
    return page(
        f"{sheet.maker} {sheet.model}".strip(),
        *parts,
        photographs_html(sheet.photographs),
        paragraph(NO_CONFORMITY, note=True) if sheet.graded else "",
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
        "photographs": [facts_of(one, sheet.zone) for one in sheet.photographs],
        "grades": [facts_of(line, sheet.zone) for line in sheet.grades.lines],
    }
    return json_text("listing", facts)


def _told(listing: Listing) -> Iterable[tuple[str, Sequence[str], str]]:
    """Each kind of record: its heading, its lines, and what is said where there are none."""
    zone = listing.sheet.zone
    if listing.sheet.specified:
        yield "Specification", specification_words(listing.sheet), ""
    yield "Faults and traces", listing.faults, NO_FAULT
    yield "Parts", [_part(one) for one in listing.parts_said], ""
    yield "Measured", [_measured(one) for one in listing.measured], NOTHING_READ
    yield "Work done", [*_tasks(listing), *_parts_moved(listing)], ""
    yield "Drives", [_drive(drive, zone) for drive in listing.sheet.drives.drives], ""
    yield "Not tested", listing.sheet.not_tested, ""
    yield "Still to be done when this was written", listing.to_do, ""


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
