"""The buyer's sheet as text, HTML, PDF and JSON: before and after, what was replaced, what was not tested."""

from __future__ import annotations

from bench.domain.grading import NO_CONFORMITY
from bench.domain.localtime import iso_local
from bench.domain.wipe import PASSED
from bench.reports.paper_forms import Paper, PaperPart, paper_html, paper_pdf, paper_text
from bench.reports.photographs import TITLE as PHOTOGRAPHS
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


def buyer_paper(sheet: BuyerSheet) -> Paper:
    """The sheet in its parts."""
    title, *facts = headlines(sheet)
    parts = tuple(part_words(part, sheet.zone) for part in sheet.parts)
    return Paper(
        title,
        (
            PaperPart("", says=tuple(facts)),
            PaperPart(_SPECIFIED, lines=tuple(specification_words(sheet)) if sheet.specified else ()),
            PaperPart(GRADED.title, told=(GRADED, sheet.graded)),
            PaperPart(MEASURED.title, told=(MEASURED, sheet.before_after)),
            PaperPart(_FAULTS, lines=sheet.known_faults),
            PaperPart(_FOUND, lines=sheet.found),
            PaperPart(_PARTS, lines=parts or (_NO_PARTS,)),
            PaperPart(_DRIVES, lines=tuple(_drives(sheet))),
            PaperPart(_NOT_TESTED, lines=sheet.not_tested),
            PaperPart(PHOTOGRAPHS, photographs=sheet.photographs),
        ),
        notes=(NO_CONFORMITY, NOT_MORE),
        zone=sheet.zone,
        made_us=sheet.made_us,
    )


def buyer_text(sheet: BuyerSheet) -> str:
    """The sheet in plain text."""
    return paper_text(buyer_paper(sheet))


def buyer_html(sheet: BuyerSheet) -> str:
    """The sheet as a page to print or send."""
    return paper_html(buyer_paper(sheet))


def buyer_pdf(sheet: BuyerSheet) -> bytes:
    """The sheet as a PDF file, A4. BadInput when a letter cannot be printed in its typeface."""
    return paper_pdf(buyer_paper(sheet))


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
