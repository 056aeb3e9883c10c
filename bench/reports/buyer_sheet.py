"""The buyer's sheet as text, HTML and JSON: before and after, what was replaced, what was not tested."""

from __future__ import annotations

from bench.domain.grading import NO_CONFORMITY
from bench.domain.localtime import iso_local
from bench.domain.wipe import PASSED
from bench.reports.html_page import heading, items, page, paragraph, told_html
from bench.reports.photographs import TITLE as PHOTOGRAPHS
from bench.reports.photographs import photograph_words, photographs_html
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.buyer_sheet import BuyerSheet, PartChange
from bench.views.drives import DriveLine
from bench.views.specification import source_words
from bench.views.tables.buyer_sheet import GRADED, MEASURED

NOT_MORE = (
    "This says what was looked at and measured up to the day it was made, and no more: no figure here tells "
    "how long a part will last."
)
_FOUND = "What you should know"
_SPECIFIED = "Specification"
_FAULTS = "Known faults"
_PARTS, _DRIVES, _NOT_TESTED = "Replaced", "Drives and wiping", "Not tested"
_NO_PARTS = "No part is on record as replaced."
_NO_DRIVES = "No drive is recorded in this unit."


def buyer_text(sheet: BuyerSheet) -> str:
    """The sheet in plain text."""
    return sections(
        "\n".join(map(one_line, headlines(sheet))),
        under(_SPECIFIED, _lines(specification_words(sheet))) if sheet.specified else "",
        under(GRADED.title, told(GRADED, sheet.graded)) if sheet.graded else "",
        under(MEASURED.title, told(MEASURED, sheet.before_after)) if sheet.before_after else "",
        under(_FAULTS, _lines(sheet.known_faults)) if sheet.known_faults else "",
        under(_FOUND, _lines(sheet.found)) if sheet.found else "",
        under(_PARTS, _lines([part_words(part, sheet.zone) for part in sheet.parts] or [_NO_PARTS])),
        under(_DRIVES, _lines(_drives(sheet))),
        under(_NOT_TESTED, _lines(sheet.not_tested)) if sheet.not_tested else "",
        under(PHOTOGRAPHS, _lines(photograph_words(sheet.photographs))) if sheet.photographs else "",
        "\n\n".join(map(wrapped, (NO_CONFORMITY, NOT_MORE))),
    )


def buyer_html(sheet: BuyerSheet) -> str:
    """The sheet as a page to print or send."""
    title, *facts = headlines(sheet)
    return page(
        title,
        *map(paragraph, facts),
        heading(_SPECIFIED) if sheet.specified else "",
        items(specification_words(sheet)),
        heading(GRADED.title) if sheet.graded else "",
        told_html(GRADED, sheet.graded),
        heading(MEASURED.title) if sheet.before_after else "",
        told_html(MEASURED, sheet.before_after),
        heading(_FAULTS) if sheet.known_faults else "",
        items(sheet.known_faults),
        heading(_FOUND) if sheet.found else "",
        items(sheet.found),
        heading(_PARTS),
        items(part_words(part, sheet.zone) for part in sheet.parts) or paragraph(_NO_PARTS),
        heading(_DRIVES),
        items(_drives(sheet)),
        heading(_NOT_TESTED) if sheet.not_tested else "",
        items(sheet.not_tested),
        photographs_html(sheet.photographs),
        *(paragraph(text, note=True) for text in (NO_CONFORMITY, NOT_MORE)),
    )


def buyer_json(sheet: BuyerSheet) -> str:
    """Everything the sheet says, and the records behind it, as a JSON document."""
    return json_text("buyer_sheet", facts_of(sheet, sheet.zone))


def headlines(sheet: BuyerSheet) -> tuple[str, ...]:
    """What stands on top: the machine, its numbers, whose sheet it is and of which day."""
    day = iso_local(sheet.made_us, sheet.zone)[:10]
    serial = f", serial number {sheet.serial}" if sheet.serial else ""
    return f"{sheet.maker} {sheet.model}".strip(), f"Tag {sheet.tag}{serial}", f"{sheet.shop}, {day}"


def specification_words(sheet: BuyerSheet) -> list[str]:
    """What the unit is made of, a line a subject, and since when that is known."""
    kept = sheet.specification
    if kept is None:
        return []
    day = iso_local(kept.at_us, sheet.zone)[:10]
    return [*(f"{label}: {words}" for label, words in sheet.specified), f"As of {day}, {source_words(kept)}"]


def part_words(part: PartChange, zone: str) -> str:
    """A part that came or went, in words."""
    day = iso_local(part.at_us, zone)[:10]
    serial = f", serial number {part.serial}" if part.serial else ""
    if not part.into:
        return f"{part.name}: taken out {day}{serial}"
    return f"{part.name}: {'used, from another unit, ' if part.used else ''}put in {day}{serial}"


def _drives(sheet: BuyerSheet) -> list[str]:
    lines = [_wiped(drive, sheet.zone) for drive in sheet.drives.drives] or [_NO_DRIVES]
    if sheet.drives.not_wiped and sheet.drives.unwiped is not None:
        lines.append(f"Listed without: {sheet.drives.unwiped.reason}")
    return lines


def _wiped(drive: DriveLine, zone: str) -> str:
    if not drive.wiped:
        return f"{drive.name}: no passed wipe on record"
    wipe = next(one for one in drive.wipes if one.result == PASSED)
    day = iso_local(wipe.wiped_us, zone)[:10]
    return f"{drive.name}: {wipe.method} ({wipe.technique}) {day}, verification passed: {wipe.verification}"


def _lines(texts: tuple[str, ...] | list[str]) -> str:
    return "\n".join(wrapped(text, start=2, indent=4) for text in texts)
