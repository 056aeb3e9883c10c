"""A page of the journal as text, CSV and JSON, newest line first."""

from __future__ import annotations

import json

from bench.domain.localtime import iso_local
from bench.reports.plain_tables import sections, wrapped
from bench.reports.plain_values import csv_text, facts_of, json_text
from bench.reports.record_keys import columns_of
from bench.views.journal import JournalLine, JournalPage

CSV_COLUMNS = columns_of(JournalLine)


def journal_text(page: JournalPage) -> str:
    """Who did what when, in full sentences that may take more than one line."""
    if not page.lines:
        return "The journal has no such line.\n"
    lines = "\n".join(wrapped(_line(line, page.zone), indent=6) for line in page.lines)
    older = f"Older lines follow: they have numbers below {page.lines[-1].journal_id}." if page.more else ""
    return sections(f"Journal, times by the clock of {page.zone}", lines, older)


def journal_csv(page: JournalPage) -> str:
    """One line a change; `changes` is the JSON text that the file holds."""
    return csv_text(CSV_COLUMNS, (facts_of(line, page.zone) for line in page.lines))


def journal_json(page: JournalPage) -> str:
    """The page as a JSON document, with the values before and after each change."""
    facts = facts_of(page, page.zone)
    for line in facts["lines"]:
        line["changes"] = json.loads(line["changes"])
    return json_text("journal", facts)


def _line(line: JournalLine, zone: str) -> str:
    when = iso_local(line.at_us, zone)[:16].replace("T", " ")
    words = f"{line.journal_id}  {when}  {line.person}: {line.summary}"
    if line.reason:
        words += f" ({line.reason})"
    return f"{words} [undone]" if line.undone else words
