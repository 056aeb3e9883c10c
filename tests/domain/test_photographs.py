"""Pictures that are damaged or of another kind, names of files, and when one was taken."""

from __future__ import annotations

import io
import random

import pytest
from PIL import Image

from bench.domain.decoding import cells_of, require_whole, smaller_jpeg
from bench.domain.exif import kept_of
from bench.domain.localtime import iso_local
from bench.domain.photographs import file_name_of, numbered, taken_at_us
from bench.domain.pictures import kind_of, without_place
from bench.errors import BadInput
from tests.pictures import GPS, SECRET, decoded, drawn, exif, exif_in, jpeg, png, webp

MAKERS = {"jpeg": jpeg, "png": png, "webp": webp}


@pytest.mark.parametrize(
    "content", [b"", b"GIF89a", b"\x00\x00\x00\x18ftypheic\x00\x00", b"II*\x00", b"RIFF\x00\x00\x00\x00WAVE"]
)
def test_another_kind_is_refused_in_one_sentence(content: bytes) -> None:
    with pytest.raises(BadInput, match="is not a JPEG, PNG or WebP picture"):
        kind_of(content, "IMG_1.HEIC")


@pytest.mark.parametrize("name", MAKERS)
def test_a_picture_cut_anywhere_is_refused_or_whole(name: str) -> None:
    whole = MAKERS[name]()
    pixels = decoded(whole)
    for length in range(3, len(whole), 7):
        try:
            kept = without_place(whole[:length], name)
            require_whole(kept.content, name)
        except BadInput:
            continue
        assert decoded(kept.content) == pixels  # only what follows the picture was cut
        assert SECRET not in kept.content


@pytest.mark.parametrize("name", MAKERS)
def test_a_picture_with_wrong_bytes_is_refused_or_keeps_no_place(name: str) -> None:
    whole, chance = MAKERS[name](), random.Random(2_026)
    refused = 0
    for _ in range(400):
        changed = bytearray(whole)
        for _ in range(chance.randint(1, 4)):
            changed[chance.randrange(3, len(changed) - len(SECRET))] = chance.randrange(256)
        try:
            kept = without_place(bytes(changed), name)
            require_whole(kept.content, name)
        except BadInput:
            refused += 1
            continue
        assert GPS not in exif_in(kept.content)
    assert refused > 0


def test_an_exif_block_of_chance_bytes_is_not_kept_or_kept_without_its_place() -> None:
    block, chance = exif().tobytes().removeprefix(b"Exif\x00\x00"), random.Random(7)
    assert kept_of(block).block
    for _ in range(2_000):
        changed = bytearray(block)
        for _ in range(3):
            changed[chance.randrange(len(changed))] = chance.randrange(256)
        kept = kept_of(bytes(changed)).block
        read = Image.Exif()
        if kept:
            read.load(b"Exif\x00\x00" + kept)
        assert GPS not in read


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ("IMG 2041 (1).JPG", "IMG-2041-1.jpg"),
        ("passwd", "passwd.jpg"),
        (".hidden", "hidden.jpg"),
        ("Lüfter am Gehäuse.jpeg", "Lüfter-am-Gehäuse.jpg"),
        ("a\x1b[31m.png", "a-31m.jpg"),
        ("...", "photograph.jpg"),
        ("x" * 300 + ".jpg", "x" * 80 + ".jpg"),
    ],
)
def test_a_name_is_one_that_every_file_system_takes(given: str, kept: str) -> None:
    assert file_name_of(given, "jpeg") == kept


def test_another_file_of_the_same_name_is_numbered() -> None:
    assert [numbered("front.jpg", number) for number in (1, 2, 3)] == [
        "front.jpg",
        "front-2.jpg",
        "front-3.jpg",
    ]


def test_when_it_was_taken_goes_by_its_offset_else_by_the_shops_zone() -> None:
    with_offset = taken_at_us("2026:05:01 10:11:12", "-05:00", "Europe/Berlin")
    without = taken_at_us("2026:05:01 10:11:12", "", "Europe/Berlin")
    assert with_offset is not None
    assert without is not None
    assert iso_local(with_offset, "UTC") == "2026-05-01T15:11:12+00:00"
    assert iso_local(without, "UTC") == "2026-05-01T08:11:12+00:00"
    for odd in ("", "0000:00:00 00:00:00", "    :  :     :  :  ", "2026-05-01"):
        assert taken_at_us(odd, "", "UTC") is None


def test_a_page_gets_it_small_and_the_right_way_up() -> None:
    small = smaller_jpeg(jpeg(size=(480, 320), orientation=6), "one.jpg", 120)
    with Image.open(io.BytesIO(small)) as picture:
        assert picture.size == (80, 120)  # turned by a quarter
        assert not picture.getexif()


def test_a_terminal_gets_two_colours_a_cell() -> None:
    made = io.BytesIO()
    half = Image.new("RGB", (20, 20), (250, 0, 0))
    half.paste((0, 0, 250), (0, 10, 20, 20))
    half.save(made, "PNG")
    cells = cells_of(made.getvalue(), "half.png", 10, 5).rows
    assert (len(cells), len(cells[0])) == (5, 10)
    assert cells[0][0] == ((250, 0, 0), (250, 0, 0))
    assert cells[4][9] == ((0, 0, 250), (0, 0, 250))


def test_what_has_too_many_pixels_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bench.domain.decoding.MOST_PIXELS", 100)
    with pytest.raises(BadInput, match="million pixels"):
        require_whole(png(), "large.png")


def test_what_is_transparent_stands_on_white() -> None:
    made = io.BytesIO()
    Image.new("RGBA", (4, 4), (0, 0, 0, 0)).save(made, "PNG")
    assert cells_of(made.getvalue(), "clear.png", 4, 4).rows[0][0] == ((255, 255, 255), (255, 255, 255))
    assert drawn().size == (48, 32)
