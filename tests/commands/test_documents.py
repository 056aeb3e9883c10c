"""The keys of every JSON document stand in the manual, and every document has just the keys told there."""

from __future__ import annotations

import json
import re
from dataclasses import is_dataclass
from pathlib import Path
from types import NoneType
from typing import Any, get_args, get_origin

import pytest

import bench
from bench.commands.documents import DOCUMENTS, MADE_BY_HAND, Document, keys_text, record_of
from bench.desk import Desk
from bench.reports import SHAPE, SHAPES
from bench.reports.derived import DERIVED
from bench.reports.journal_sheet import journal_json
from bench.reports.lots import lots_json
from bench.reports.month_sheet import month_json
from bench.reports.next_up import next_json
from bench.reports.queue_sheet import queue_json
from bench.reports.record_keys import keys_of, records_in
from bench.reports.register import register_json
from bench.reports.stock_book import history_json, stock_json
from bench.reports.unit_sheet import money_json, unit_json
from bench.reports.week_sheet import week_json
from bench.views.journal import read_journal
from bench.views.lots import read_lots
from bench.views.months import read_month
from bench.views.next_up import read_ranking
from bench.views.queue import read_queue
from bench.views.register import read_register
from bench.views.stock import read_history, read_stock
from bench.views.unit import read_unit
from bench.views.unit_money import read_unit_money
from bench.views.week import read_week
from tests.work.sale_steps import sell, stocked

BY_NAME = {document.name: document for document in DOCUMENTS}
NAMED = re.compile(r'(?:say_json\(desk, |json_text\()"(\w+)"')


def test_every_document_that_is_made_is_told() -> None:
    source = "\n".join(path.read_text() for path in Path(bench.__file__).parent.rglob("*.py"))
    made = set(NAMED.findall(source)) | {"year", "month", "export"}
    assert made == set(BY_NAME) | set(MADE_BY_HAND)
    assert len(BY_NAME) == len(DOCUMENTS)
    assert set(SHAPES) <= made


def test_the_manual_tells_each_with_its_shape() -> None:
    parts = {part.split("\n")[0]: part for part in keys_text().split("\n\n")}
    for document in DOCUMENTS:
        told = parts[f"{document.name}, shape {SHAPES.get(document.name, SHAPE)}"]
        if not document.under:
            assert all(f"\n  {key.name}: " in told for key in keys_of(record_of(document)))
    for document in DOCUMENTS:
        for key in keys_of(record_of(document)):
            assert all(record.__name__ in parts for record in records_in(key.hint)), key


def test_what_is_derived_belongs_to_a_record_and_has_a_type() -> None:
    seen = set()
    waiting = [record_of(document) for document in DOCUMENTS]
    while waiting:
        record = waiting.pop()
        if record in seen:
            continue
        seen.add(record)
        for key in keys_of(record):
            assert key.hint is not None, (record, key)
            waiting += records_in(key.hint)
    assert set(DERIVED) <= {record.__name__ for record in seen}


@pytest.fixture
def worked(desk: Desk) -> Desk:
    """A unit sold and one in stock."""
    sell(desk, stocked(desk), "700")
    stocked(desk, "40")
    return desk


def made(desk: Desk) -> dict[str, str]:
    return {
        "queue": queue_json(read_queue(desk)),
        "unit": unit_json(read_unit(desk, 2)),
        "journal": journal_json(read_journal(desk)),
        "stock": stock_json(read_stock(desk)),
        "consumable": history_json(read_history(desk, 1)),
        "week": week_json(read_week(desk)),
        "month": month_json(read_month(desk)),
        "next": next_json(read_ranking(desk)),
        "lots": lots_json(read_lots(desk)),
        "unit_money": money_json(read_unit_money(desk, 1)),
        "register": register_json(read_register(desk)),
    }


def test_a_document_has_the_keys_that_are_told(worked: Desk) -> None:
    seen = 0
    for name, text in made(worked).items():
        facts = json.loads(text)
        assert (facts.pop("document"), facts.pop("shape")) == (name, SHAPES.get(name, SHAPE))
        seen += _agree(record_of(BY_NAME[name]), facts, BY_NAME[name], "")
    assert seen > 50


def _agree(record: type, facts: dict[str, Any], document: Document, under: str) -> int:
    """Whether the keys are those of the record, however deep; answer how many objects there were."""
    more = {key.removeprefix(under) for key, _ in document.more if key.startswith(under)}
    own = {key.name for key in keys_of(record)}
    assert set(facts) == own | {key for key in more if "." not in key}, (document.name, under)
    return 1 + sum(_deeper(key.hint, facts[key.name], document, f"{key.name}.") for key in keys_of(record))


def _deeper(hint: Any, value: Any, document: Document, under: str) -> int:
    inner = [one for one in get_args(hint) if one not in (NoneType, Ellipsis)]
    if get_origin(hint) is tuple and len(inner) == 1 and isinstance(value, list):
        return sum(_deeper(inner[0], one, document, under) for one in value)
    if isinstance(value, dict) and isinstance(hint, type) and is_dataclass(hint):
        return _agree(hint, value, document, under)
    return _deeper(inner[0], value, document, under) if len(inner) == 1 and value is not None else 0
