"""The papers of a repair: quote, bill and the note when the machine goes back; text, HTML, PDF and JSON."""

from __future__ import annotations

from bench.domain.money import show_money
from bench.domain.percent import show_percent
from bench.domain.quantities import plain_number
from bench.domain.quote_totals import ALLOWANCE, LABOUR
from bench.domain.repair_jobs import NOT_BINDING
from bench.reports.paper_forms import Paper, PaperPart, paper_html, paper_pdf, paper_text
from bench.reports.plain_values import facts_of, json_text
from bench.views.repair_jobs import RepairLine
from bench.views.repair_papers import BILL, HAND_BACK, QUOTE, RepairPaper

TITLES = {QUOTE: "Quote for a repair", BILL: "Bill for a repair", HAND_BACK: "Hand-back of a machine"}
RIGHTS = "Rights that the law gives the owner stand beside this."


def repair_text(paper: RepairPaper) -> str:
    """The paper in plain text."""
    return paper_text(paper_of(paper))


def repair_html(paper: RepairPaper) -> str:
    """The paper as one HTML page."""
    return paper_html(paper_of(paper))


def repair_pdf(paper: RepairPaper) -> bytes:
    """The paper as a PDF file."""
    return paper_pdf(paper_of(paper))


def repair_json(paper: RepairPaper) -> str:
    """The paper as a JSON document."""
    facts = facts_of(paper, paper.zone)
    if paper.paper == QUOTE:
        return json_text("quote", facts)
    return json_text("bill", facts) if paper.paper == BILL else json_text("hand_back", facts)


def paper_of(paper: RepairPaper) -> Paper:
    """What stands on it."""
    priced = paper.lines and paper.paper != HAND_BACK
    notes = [_warranty(paper), RIGHTS]
    if any(one.tax_per_10000 for one in paper.lines) and priced:
        notes.append(NOT_BINDING)
    return Paper(
        title=f"{paper.shop}: {TITLES[paper.paper].lower()} {paper.job_id}",
        parts=(
            PaperPart("", facts=_facts(paper)),
            PaperPart("Lines", headings=("For", "Number", "Each", "Tax", "Net"), rows=_rows(paper))
            if priced
            else PaperPart(""),
            PaperPart("Total", facts=_sums(paper))
            if priced or (paper.lines and paper.paper == HAND_BACK)
            else PaperPart(""),
            PaperPart("Work done", lines=paper.did if paper.paper != QUOTE else ()),
            PaperPart("Parts fitted", lines=paper.fitted if paper.paper != QUOTE else ()),
            PaperPart("Signature", facts=_signature(paper)),
        ),
        notes=tuple(note for note in notes if note),
        zone=paper.zone,
        made_us=paper.made_us,
    )


def _facts(paper: RepairPaper) -> tuple[tuple[str, str], ...]:
    given = paper.day.isoformat() if paper.day is not None else "a draft, not given yet"
    day = {QUOTE: "Given on", BILL: "Day", HAND_BACK: "Handed back on"}[paper.paper]
    facts = (
        (day, given),
        ("Valid until", paper.quote_until.isoformat() if paper.quote_until and paper.paper == QUOTE else ""),
        ("Owner", ", ".join(part for part in (paper.owner, paper.owner_address) if part)),
        ("Machine", paper.model),
        ("Tag", paper.tag),
        ("Serial", paper.serial or "not noted"),
        ("Complaint", paper.complaint),
        ("Diagnosis", paper.diagnosis),
        ("State at arrival", paper.arrival),
        ("Came along", paper.came_along),
        ("Data", paper.data_consent),
        ("Answer", _answer(paper)),
    )
    return tuple((label, value) for label, value in facts if value)


def _answer(paper: RepairPaper) -> str:
    if paper.answer is None or paper.answered_on is None:
        return ""
    how = f", {paper.answered_how}" if paper.answered_how else ""
    return f"{paper.answer} on {paper.answered_on.isoformat()}{how}"


def _rows(paper: RepairPaper) -> tuple[tuple[str, ...], ...]:
    return tuple(_row(line, paper.currency) for line in paper.lines)


def _row(line: RepairLine, currency: str) -> tuple[str, ...]:
    number = plain_number(line.quantity)
    beyond = " (beyond the quote)" if line.beyond and line.kind != ALLOWANCE else ""
    return (
        f"{line.what}{beyond}",
        f"{number} h" if line.kind == LABOUR else number,
        show_money(line.price_minor, currency),
        show_percent(line.tax_per_10000),
        show_money(line.net_minor, currency),
    )


def _sums(paper: RepairPaper) -> tuple[tuple[str, str], ...]:
    total, currency = paper.total, paper.currency
    taxes = (
        (
            f"Tax {show_percent(one.tax_per_10000)} of {show_money(one.net_minor, currency)}",
            show_money(one.tax_minor, currency),
        )
        for one in total.taxes
    )
    return (
        ("Net", show_money(total.net_minor, currency)),
        *taxes,
        ("Total", show_money(total.total_minor, currency)),
    )


def _signature(paper: RepairPaper) -> tuple[tuple[str, str], ...]:
    if paper.paper == BILL or (paper.answer is not None and paper.paper == QUOTE):
        return ()
    words = "Accepted, day and name" if paper.paper == QUOTE else "Received, day and name"
    return ((words, ""),)


def _warranty(paper: RepairPaper) -> str:
    if paper.warranty_until is not None:
        return f"Warranty of the shop on this repair until {paper.warranty_until.isoformat()}."
    if paper.warranty_days:
        return f"Warranty of the shop on this repair: {paper.warranty_days} days from the day of collection."
    return "The shop gives no warranty of its own on this repair."
