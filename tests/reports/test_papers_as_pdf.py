"""Papers as PDF, read back by PDFium: the words of the text form, and the photographs as pictures."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pypdfium2
import pytest

from bench.desk import Desk
from bench.reports.buyer_sheet import buyer_pdf, buyer_text
from bench.reports.hand_over import hand_over_pdf, hand_over_text
from bench.reports.listing import listing_pdf, listing_text
from bench.reports.photographs import NOT_THERE
from bench.views.buyer_sheet import read_buyer_sheet
from bench.views.hand_over import read_hand_over
from bench.views.listing import read_listing
from bench.work.demo import make_demo
from bench.work.listing import set_listing_words
from bench.work.photographs import attach_photographs
from tests.clocks import HandSetClock
from tests.pictures import jpeg

LISTED, SOLD = 42, 1
PICTURE = 3  # FPDF_PAGEOBJ_IMAGE of PDFium's fpdf_edit.h, from memory; a picture is found by it below
A4_POINTS = (595, 842)  # ISO 216: 210 x 297 mm, at 72 points an inch


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[Desk]:
    clock = HandSetClock()
    store = make_demo(tmp_path / "demo.bench", clock)
    yield Desk(store, clock, person_id=1)
    store.close()


@contextmanager
def opened(content: bytes) -> Iterator[pypdfium2.PdfDocument]:
    """The document as another program reads it."""
    pdf = pypdfium2.PdfDocument(content)
    try:
        yield pdf
    finally:
        pdf.close()


def words_in(content: bytes) -> str:
    """All words of all pages, one space between them."""
    with opened(content) as pdf:
        return " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())


def pictures_in(content: bytes) -> list[tuple[float, float]]:
    """Width and height of each picture as it is printed, in points."""
    found = []
    with opened(content) as pdf:
        for page in pdf:
            for one in page.get_objects(filter=[PICTURE]):
                left, bottom, right, top = one.get_bounds()
                assert 0 <= left < right <= page.get_width()
                assert 0 <= bottom < top <= page.get_height()
                found.append((right - left, top - bottom))
    return found


def sold_unit(desk: Desk) -> int:
    """A unit that was sold."""
    with desk.store.read() as connection:
        found = connection.execute("SELECT unit_id FROM sale WHERE removed = 0 ORDER BY id DESC LIMIT 1")
        return int(found.fetchone()[0])


def test_a_paper_says_in_pdf_what_it_says_in_text(demo: Desk) -> None:
    sheet, listing = read_buyer_sheet(demo, LISTED), read_listing(demo, LISTED)
    note = read_hand_over(demo, sold_unit(demo))
    for text, content in (
        (buyer_text(sheet), buyer_pdf(sheet)),
        (listing_text(listing), listing_pdf(listing)),
        (hand_over_text(note), hand_over_pdf(note)),
    ):
        said = words_in(content).replace(" ", "")
        told = text.partition("\nPhotographs\n")[0]  # in text these have the names of their files
        words = [word for word in told.split() if word.strip("-=─")]
        assert len(words) > 50
        assert [word for word in words if word not in said] == []
        with opened(content) as pdf:
            assert {tuple(map(round, page.get_size())) for page in pdf} == {A4_POINTS}


def test_photographs_are_printed_whole_with_their_words(demo: Desk, tmp_path: Path) -> None:
    shapes = ((400, 300), (300, 400), (800, 200))
    before = pictures_in(buyer_pdf(read_buyer_sheet(demo, LISTED)))
    for at, (width, height) in enumerate(shapes):
        file = tmp_path / f"p{at}.jpg"
        file.write_bytes(jpeg(orientation=1, size=(width, height)))
        attach_photographs(demo, LISTED, [str(file)], caption=f"side {at}", shown=True)
    content = buyer_pdf(read_buyer_sheet(demo, LISTED))
    printed = pictures_in(content)[len(before) :]
    assert [round(width / height, 1) for width, height in printed] == [1.3, 0.8, 4.0]
    assert all(f"side {at}" in words_in(content) for at in range(len(shapes)))
    assert len(pictures_in(listing_pdf(read_listing(demo, LISTED)))) == len(before) + len(shapes)
    Path(read_buyer_sheet(demo, LISTED).photographs[-1].path).unlink()
    content = buyer_pdf(read_buyer_sheet(demo, LISTED))
    assert len(pictures_in(content)) == len(before) + len(shapes) - 1
    assert NOT_THERE in words_in(content)


def test_photographs_stand_where_the_template_names_them(demo: Desk, tmp_path: Path) -> None:
    file = tmp_path / "front.jpg"
    file.write_bytes(jpeg())
    attach_photographs(demo, LISTED, [str(file)], caption="its front", shown=True)
    set_listing_words(demo, template="$faults\n\n$photographs\n\nBehind it\n\n$not_tested")
    said = words_in(listing_pdf(read_listing(demo, LISTED)))
    assert said.index("its front") < said.index("Behind it")
    set_listing_words(demo, template="$faults\n\n$not_tested")
    assert pictures_in(listing_pdf(read_listing(demo, LISTED))) == []
