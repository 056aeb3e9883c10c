"""Finding in the file: every kind by its names, what is written since, and that who was erased is gone."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.store.connecting import connect_reading
from bench.views import finding_texts as kinds
from bench.views.finding import NamesKept, find_all
from bench.views.finding_texts import LINES, SOURCES, FoundLine
from bench.views.parties import read_parties
from bench.work.consumables import set_code
from bench.work.demo import make_demo
from bench.work.files import open_or_new
from bench.work.parties import erase_party
from bench.work.undo import undo
from bench.work.units import add_unit
from tests.clocks import HandSetClock


@pytest.fixture(scope="module")
def demo_made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, HandSetClock]:
    path, clock = tmp_path_factory.mktemp("demo") / "demo.bench", HandSetClock()
    make_demo(path, clock).close()
    return path, clock


@pytest.fixture
def shop(demo_made: tuple[Path, HandSetClock], tmp_path: Path) -> Iterator[Desk]:
    path, clock = demo_made
    store = open_or_new(Path(shutil.copy(path, tmp_path / "demo.bench")))
    yield Desk(store, clock, person_id=1)
    store.close()


def first(desk: Desk, typed: str) -> FoundLine:
    return find_all(desk, typed)[0]


@pytest.mark.parametrize(
    ("typed", "kind", "name"),
    [
        ("10629", kinds.UNIT, "Tarn Cairn 14"),
        ("FN859411", kinds.UNIT, "Fenn Burr 17"),
        ("thermal paste", kinds.CONSUMABLE, "thermal paste"),
        ("q7176", kinds.DRIVE, "Quern Q4 Q7176"),
        ("ines", kinds.PERSON, "Ines"),
        ("petra quillon", kinds.PARTY, "Petra Quillon"),
        ("fan rattles since", kinds.FAULT, "fan rattles since last week"),
        ("f14", kinds.FAULT, "fan rattles since last week"),
        ("charger only works", kinds.JOB, "The charger only works when the lead is bent"),
        ("CH-65", kinds.ORDER, "charger 65 W"),
    ],
)
def test_each_kind_is_found_by_its_names(shop: Desk, typed: str, kind: str, name: str) -> None:
    found = first(shop, typed)
    assert (found.kind, found.name) == (kind, name)


@pytest.mark.parametrize("source", SOURCES, ids=lambda source: source.name)
def test_all_of_a_source_is_found_and_told(shop: Desk, source: kinds.Source) -> None:
    """Each number behind a line leads to the row whose words stand there."""
    with shop.store.read() as connection:
        words, numbers = connection.execute(source.text).fetchone()
        assert words is not None, "the demo has none"
        asked = [int(number) for number in numbers.split()]
        assert len(asked) == words.count("\n") + 1
        told = LINES[source.name.partition(" ")[0]].all(connection, numbers=str(asked))
    by_number = {line.number: line for line in told}
    assert set(by_number) == set(asked)
    for number, line in zip(asked, words.split("\n"), strict=True):
        assert by_number[number].name.split(" ")[0] in line


def test_units_in_the_queue_come_before_sold_ones_and_the_newest_first(shop: Desk) -> None:
    units = [line for line in find_all(shop, "burr 17") if line.kind == kinds.UNIT]
    gone = [line.place == "sold" for line in units]
    assert True in gone
    assert False in gone
    assert gone == sorted(gone)


def test_the_units_of_a_person_are_told_beneath_them(shop: Desk) -> None:
    found = find_all(shop, "petra quillon")
    assert found[0].kind == kinds.PARTY
    assert {line.kind for line in found[1:]} == {kinds.UNIT}
    assert all(line.place.endswith("Petra Quillon") for line in found[1:])


def test_who_was_erased_is_gone(shop: Desk) -> None:
    names = NamesKept()
    assert names.find(shop, "petra", patience_seconds=60).lines
    assert names.holds("Petra Quillon")
    party = next(one for one in read_parties(shop) if one.name == "Petra Quillon")
    erase_party(shop, party.party_id, "asked for it", early=True)
    assert not names.find(shop, "petra quillon", patience_seconds=60).lines
    assert not names.holds("Petra")


def test_a_name_is_let_go_of_as_soon_as_something_changed(shop: Desk) -> None:
    names = NamesKept()
    names.find(shop, "petra", patience_seconds=60)
    names.forget_people()
    assert not names.holds("Petra")
    assert names.find(shop, "petra", patience_seconds=60).lines


def test_no_name_is_in_the_file_but_where_it_was(shop: Desk) -> None:
    """Finding writes nothing: no index of its own would have to be erased."""
    before = shop.store.path.read_bytes()
    assert find_all(shop, "petra")
    assert shop.store.path.read_bytes() == before


def test_what_was_written_since_is_found(shop: Desk) -> None:
    names = NamesKept()
    assert not names.find(shop, "quaggy", patience_seconds=60).lines
    unit = add_unit(shop, maker="Quaggy", model="Reed 3", note="from the loft", serial="QQ-1")
    for typed in ("quaggy", "qq-1", "loft", unit.tag):
        assert names.find(shop, typed, patience_seconds=60).lines[0].unit_id == unit.unit_id
    undo(shop)
    assert not names.find(shop, "quaggy", patience_seconds=60).lines


def test_only_what_may_have_changed_is_read_again(shop: Desk) -> None:
    names = NamesKept()
    names.find(shop, "x", patience_seconds=60)
    before = dict(names._kept)
    set_code(shop, first(shop, "lint").number, "OWN 9")
    names.find(shop, "x", patience_seconds=60)
    anew = {name for name, kept in names._kept.items() if kept is not before[name]}
    assert anew == {kinds.CONSUMABLE, kinds.PARTY}


def test_what_is_not_read_yet_is_said(shop: Desk) -> None:
    names = NamesKept()
    page = names.find(shop, "10629", patience_seconds=0)
    assert not page.whole
    rounds = 0
    while not page.whole:
        page, rounds = names.find(shop, "10629", patience_seconds=0), rounds + 1
        assert rounds <= len(SOURCES)
    assert page.lines[0].tag == "10629"


def test_besides_are_told_by_their_number(shop: Desk) -> None:
    from bench.domain.finding import Names

    page = NamesKept().find(shop, "move on", {"act": Names("open\nmove on")}, patience_seconds=60)
    assert page.lines[0] == FoundLine("act", 1)


@pytest.mark.parametrize("source", SOURCES, ids=lambda source: source.name)
def test_each_names_are_read_in_one_pass(shop: Desk, source: kinds.Source) -> None:
    """No table is gone through twice, none is joined by an index made for it (sqlite.org/eqp.html)."""
    steps = plan(shop, source.text)
    assert not [step for step in steps if "AUTOMATIC" in step]
    assert (
        len([step for step in steps if step.startswith("SCAN")]) <= 3
    )  # a part of a union each, and the whole


def plan(desk: Desk, text: str) -> list[str]:
    with closing(connect_reading(desk.store.path)) as file:
        return [row[3] for row in file.execute(f"EXPLAIN QUERY PLAN {text}")]


def test_a_text_with_line_ends_is_one_line(shop: Desk) -> None:
    unit = add_unit(shop, maker="Fenn", model="Oxlip 20", note="first\nsecond\r\nthird")
    assert first(shop, "second").unit_id == unit.unit_id
    assert first(shop, "oxlip 20").unit_id == unit.unit_id
