"""A listing to paste into an advertisement: from the records alone, faults and gaps included.

Words and order are those of the shop's template. Lines are not broken: whatever it is pasted into does that.
"""

from __future__ import annotations

from collections.abc import Iterable

from bench.domain.grading import NO_CONFORMITY
from bench.domain.listing_template import Line, Paragraph, Value, filled
from bench.domain.localtime import iso_local
from bench.domain.money import show_money
from bench.domain.text import for_display
from bench.reports.buyer_sheet import specification_words
from bench.reports.paper_forms import Paper, PaperPart, paper_html, paper_pdf
from bench.reports.photographs import TITLE as PHOTOGRAPHS
from bench.reports.photographs import photograph_words
from bench.reports.plain_tables import sections
from bench.reports.plain_values import facts_of, json_text
from bench.views.drives import DriveLine
from bench.views.grades import GradeLine
from bench.views.listing import Listing, Measured, Renewed

NOTHING_READ = "Nothing was measured: there is no reading."
NO_FAULT = "No fault is on record."
NO_WARRANTY = "The shop gives no warranty of its own."


def listing_text(listing: Listing) -> str:
    """The shop's template filled in, and what stands under every listing."""
    blocks = ("\n".join(_plain(line) for line in lines) for lines in _paragraphs(listing))
    return sections(*blocks, NO_CONFORMITY if listing.sheet.graded else "")


def listing_html(listing: Listing) -> str:
    """The same as a page to send, with the photographs where the template names them."""
    return paper_html(listing_paper(listing))


def listing_pdf(listing: Listing) -> bytes:
    """The same as a PDF file, A4. BadInput when a letter cannot be printed in its typeface."""
    return paper_pdf(listing_paper(listing))


def listing_paper(listing: Listing) -> Paper:
    """The listing as a paper; the title stands above it, and not again as its first words."""
    title, sheet = _title(listing), listing.sheet
    parts = [part for lines in _paragraphs(listing) for part in _parts(lines, listing)]
    if parts[:1] == [PaperPart("", says=(title,))]:
        del parts[0]
    notes = (NO_CONFORMITY,) if sheet.graded else ()
    return Paper(title, tuple(parts), notes, sheet.zone, sheet.made_us)


def listing_json(listing: Listing) -> str:
    """The text, and the records it was written from, as a JSON document."""
    sheet, prices = listing.sheet, listing.prices
    facts = {
        "unit_id": sheet.unit_id,
        "tag": sheet.tag,
        "maker": sheet.maker,
        "model": sheet.model,
        "text": listing_text(listing),
        "currency": prices.currency,
        "price_minor": listing.price_minor,
        "suggested_minor": prices.suggested_minor,
        "suggested_words": prices.words,
        "shipping": listing.shipping,
        "warranty_days": listing.trade.warranty_days,
        "template": listing.trade.listing_template,
        "specification": [{"label": label, "words": words} for label, words in sheet.specified],
        "faults": list(listing.faults),
        "renewed": [_renewed_facts(one, sheet.zone) for one in listing.renewed],
        "measured": [one._asdict() for one in listing.measured],
        "done": list(listing.done),
        "left_out": list(listing.left_out),
        "to_do": list(listing.to_do),
        "not_tested": list(listing.not_tested),
        "photographs": [facts_of(one, sheet.zone) for one in sheet.photographs],
        "grades": [facts_of(line, sheet.zone) for line in sheet.grades.lines],
    }
    return json_text("listing", facts)


def _paragraphs(listing: Listing) -> tuple[Paragraph, ...]:
    return filled(listing.trade.listing_template, _values(listing))


def _plain(line: Line) -> str:
    if line.name:
        return "\n".join(f"- {for_display(one)}" for one in line.listed)
    return for_display(line.words)


def _parts(lines: Paragraph, listing: Listing) -> Iterable[PaperPart]:
    """The paragraph's parts: plain words before a list are its title."""
    title = ""
    for at, line in enumerate(lines):
        if line.name == "photographs":
            yield PaperPart(PHOTOGRAPHS, photographs=listing.sheet.photographs)
        elif line.name:
            yield PaperPart(title, lines=line.listed)
        elif at == 0 and len(lines) > 1 and lines[1].name:
            title = line.words
            continue
        else:
            yield PaperPart("", says=(line.words,))
        title = ""


def _values(listing: Listing) -> dict[str, Value]:
    """What each name of a template stands for."""
    sheet = listing.sheet
    days, price = listing.trade.warranty_days, listing.price_minor
    return {
        "title": _title(listing),
        "tag": sheet.tag,
        "shop": sheet.shop,
        "price": "" if price is None else show_money(price, listing.prices.currency),
        "grade": _grade(listing),
        "shipping": listing.shipping,
        "warranty": f"Warranty of the shop: {days} days from the sale." if days else NO_WARRANTY,
        "specification": tuple(specification_words(sheet)) if sheet.specified else (),
        "condition": tuple(_part(one) for one in listing.parts_said),
        "faults": listing.faults or (NO_FAULT,),
        "renewed": tuple(_renewed(one, sheet.zone) for one in listing.renewed),
        "measured": tuple(_measured(one) for one in listing.measured) or (NOTHING_READ,),
        "work": tuple(_work(listing)),
        "drives": tuple(_drive(drive, sheet.zone) for drive in sheet.drives.drives),
        "not_tested": listing.not_tested,
        "to_do": listing.to_do,
        "photographs": tuple(photograph_words(sheet.photographs)),
    }


def _title(listing: Listing) -> str:
    return f"{listing.sheet.maker} {listing.sheet.model}".strip()


def _grade(listing: Listing) -> str:
    line = listing.whole
    if line.grade_id is None:
        return "Not graded as a whole."
    return f"Grade: {_steps(line) or 'none given'}.{f' {line.sentence}' if line.sentence else ''}"


def _part(line: GradeLine) -> str:
    return f"{line.label}: {', '.join(part for part in (_steps(line), line.sentence) if part)}"


def _steps(line: GradeLine) -> str:
    sides = (("function", line.function), ("looks", line.looks))
    return ", ".join(f"{side} {step.name}" for side, step in sides if step is not None)


def _measured(one: Measured) -> str:
    return f"{one.name}: {one.words}{' (before the work)' if one.before_work else ''}"


def _renewed(one: Renewed, zone: str) -> str:
    used = ", used, out of another unit" if one.used else ""
    read = f": {'; '.join(one.readings)}" if one.readings else ""
    return f"{one.part}{used}, put in {iso_local(one.at_us, zone)[:10]}{read}"


def _renewed_facts(one: Renewed, zone: str) -> dict[str, object]:
    return {
        "part": one.part,
        "used": one.used,
        "at_us": one.at_us,
        "at_local": iso_local(one.at_us, zone),
        "readings": list(one.readings),
    }


def _work(listing: Listing) -> Iterable[str]:
    yield from listing.done
    yield from (f"left out: {name}" for name in listing.left_out)
    yield from (f"taken out: {part.name}" for part in listing.sheet.parts if not part.into)


def _drive(drive: DriveLine, zone: str) -> str:
    if not drive.wiped:
        return f"{drive.name}: {drive.standing}; no wipe that passed is on record"
    verified_us = drive.wipes[0].verified_us
    day = "" if verified_us is None else f" on {iso_local(verified_us, zone)[:10]}"
    return f"{drive.name}: wiped ({drive.wipes[0].method}), verification passed{day}"
