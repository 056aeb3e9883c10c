"""A page of the journal as text, CSV and JSON."""

from __future__ import annotations

import csv
import io
import json

from bench.desk import Desk
from bench.reports.journal_sheet import CSV_COLUMNS, journal_csv, journal_json, journal_text
from bench.views.journal import read_journal
from bench.work.undo import undo
from tests.reports.conftest import BO, REASON
from tests.reports.reading import companions_agree, instant_of, is_plain


def test_the_json_read_back_is_the_page(busy: Desk) -> None:
    page = read_journal(busy)
    facts = json.loads(journal_json(page))
    assert (facts["document"], facts["shape"], facts["zone"], facts["more"]) == (
        "journal",
        1,
        page.zone,
        False,
    )
    for line, told in zip(page.lines, facts["lines"], strict=True):
        assert told["changes"] == json.loads(line.changes)
        for key in ("journal_id", "at_us", "person", "action", "summary", "reason", "via", "unit_id", "tag"):
            assert told[key] == getattr(line, key)
        assert (told["undone"], told["undoes"]) == (line.undone, line.undoes)
    assert companions_agree({**facts, "lines": [{**line, "changes": 0} for line in facts["lines"]]}) > 10


def test_the_csv_read_back_is_the_page(busy: Desk) -> None:
    page = read_journal(busy)
    rows = list(csv.DictReader(io.StringIO(journal_csv(page), newline="")))
    assert tuple(rows[0]) == CSV_COLUMNS
    assert [(row["journal_id"], row["summary"], json.loads(row["changes"])) for row in rows] == [
        (str(line.journal_id), line.summary, json.loads(line.changes)) for line in page.lines
    ]
    assert all(instant_of(row["at_local"]) == int(row["at_us"]) // 10**6 * 10**6 for row in rows)
    assert f"'{REASON}" in {row["reason"] for row in rows}
    assert f"'{BO}" in {row["person"] for row in rows}


def test_the_text_tells_every_line_whole(busy: Desk) -> None:
    undo(busy)
    page = read_journal(busy, limit=6)
    text = journal_text(page)
    is_plain(text)
    joined = " ".join(text.split())
    for line in page.lines:
        assert " ".join(line.summary.split()) in joined
    assert joined.count("[undone]") == 1
    assert f"({REASON})" in joined
    assert text.endswith(f"\n\nOlder lines follow: they have numbers below {page.lines[-1].journal_id}.\n")
    assert "2026-11-26 07:21  Ada: Undid: " in text


def test_an_empty_journal_says_so(desk: Desk) -> None:
    assert journal_text(read_journal(desk)) == "The journal has no such line.\n"
    assert "Older" not in journal_text(read_journal(desk))
    assert journal_csv(read_journal(desk)) == ",".join(CSV_COLUMNS) + "\r\n"
