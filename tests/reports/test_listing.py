"""The listing in its three forms: one template behind them all, people's text literal, nothing hidden."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bench.desk import Desk
from bench.reports.listing import listing_html, listing_json, listing_text
from bench.views.listing import read_listing
from bench.work.faults import add_fault
from bench.work.listing import set_listing, set_listing_words
from bench.work.parts import fit_part
from bench.work.photographs import attach_photographs
from bench.work.units import add_unit
from tests.pictures import jpeg
from tests.reports.markup import read_page
from tests.reports.reading import companions_agree

HOSTILE = '<i>=x</i> & [b]"修理" $faults'


@pytest.fixture
def unit_id(desk: Desk) -> int:
    """A unit with odd words wherever people type some."""
    number = add_unit(desk, maker="Invented", model=HOSTILE).unit_id
    add_fault(desk, number, symptom=f"cracks {HOSTILE}")
    fit_part(desk, number, name=f"fan {HOSTILE}", cost_text="9")
    set_listing(desk, number, price_text="199", shipping=f"by post {HOSTILE}")
    return number


def test_text_and_page_tell_the_same(desk: Desk, unit_id: int) -> None:
    listing = read_listing(desk, unit_id)
    shown = "\n".join(read_page(listing_html(listing)).texts)
    for line in listing_text(listing).split("\n"):
        assert line.removeprefix("- ") in shown
    for words in ("cracks", "fan", "by post", "Invented"):
        assert f"{words} {HOSTILE}" in shown


def test_the_model_leads_the_page_once(desk: Desk, unit_id: int) -> None:
    page = listing_html(read_listing(desk, unit_id))
    assert page.count("<h1>") == 1
    assert f"<p>Invented {HOSTILE[:1]}" not in page
    set_listing_words(desk, template="For sale\n\n$title\n\n$faults, $not_tested")
    page = listing_html(read_listing(desk, unit_id))
    assert "<p>For sale</p>" in page
    assert "<p>Invented &lt;i&gt;" in page


def test_a_photograph_stands_where_the_template_names_it(desk: Desk, unit_id: int, tmp_path: Path) -> None:
    file = tmp_path / "front.jpg"
    file.write_bytes(jpeg())
    attach_photographs(desk, unit_id, [str(file)], caption="its front", shown=True)
    page = listing_html(read_listing(desk, unit_id))
    assert page.count("<figure>") == 1
    assert page.count("Photographs</h2>") == 1
    assert "its front" in listing_text(read_listing(desk, unit_id))
    set_listing_words(desk, template="$faults\n\n$photographs\n\n$not_tested")
    page = listing_html(read_listing(desk, unit_id))
    assert page.index("cracks") < page.index("<figure>") < page.index("not measured")
    set_listing_words(desk, template="$faults\n\n$not_tested")
    assert "<figure>" not in listing_html(read_listing(desk, unit_id))


def test_the_document_agrees_with_its_companions(desk: Desk, unit_id: int) -> None:
    facts = json.loads(listing_json(read_listing(desk, unit_id)))
    assert (facts["document"], facts["shape"]) == ("listing", 2)
    assert (facts["price_minor"], facts["currency"]) == (19_900, "EUR")
    assert facts["shipping"] == f"by post {HOSTILE}"
    assert companions_agree(facts) > 0
    assert facts["text"] == listing_text(read_listing(desk, unit_id))
