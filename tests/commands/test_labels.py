"""`bench label`: files whole or none, sentences for what cannot be, an owner's name on none."""

from __future__ import annotations

from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from bench.domain.labels import read_label_sheet, read_label_size
from bench.errors import BadInput
from tests.test_cli import Did, Refused


@pytest.fixture
def tag(did: Did) -> str:
    did("add", "Oxlip 14", "--maker", "Fenn", "--tag", "10014", "--route", "full refurbish")
    return "10014"


def read(path: Path) -> set[str]:
    return {one.text for one in zxingcpp.read_barcodes(Image.open(path).convert("L"))}


def test_a_units_label_is_written_and_read_back(did: Did, tag: str, tmp_path: Path) -> None:
    path = tmp_path / "one.png"
    assert did("label", tag, "--to", str(path)) == f"Wrote {path}.\n"
    assert read(path) == {tag}
    assert path.stat().st_mode & 0o777 == 0o600


def test_several_pictures_get_numbers_and_none_goes_over_another(
    did: Did, refused: Refused, tag: str, tmp_path: Path
) -> None:
    did("add", "Burr 17", "--maker", "Fenn", "--tag", "10022", "--route", "full refurbish")
    did("label", tag, "10022", "--to", str(tmp_path / "two.png"))
    assert read(tmp_path / "two-1.png") == {tag}
    assert read(tmp_path / "two-2.png") == {"10022"}
    (tmp_path / "two-1.png").unlink()
    assert "two-2.png already" in refused(2, "label", tag, "10022", "--to", str(tmp_path / "two.png"))
    assert not (tmp_path / "two-1.png").exists()


def test_cards_a_place_and_a_raw_file(did: Did, tag: str, tmp_path: Path) -> None:
    did("label", "cards", "--to", str(tmp_path / "cards.pdf"), "--sheet", "A4 2x5 margin 10x10")
    assert (tmp_path / "cards.pdf").read_bytes().startswith(b"%PDF-")
    did("label", "--place", "Shelf B 3", "--to", str(tmp_path / "place.png"))
    assert read(tmp_path / "place.png") == {"Shelf B 3"}
    did("label", tag, "--to", str(tmp_path / "raw.zpl"))
    assert (tmp_path / "raw.zpl").read_bytes().startswith(b"^XA")


@pytest.mark.parametrize(
    ("code", "arguments", "says"),
    [
        (2, (), "not said"),
        (2, ("10014", "--drive", "X"), "not said"),
        (2, ("10014", "--to", "x.gif"), "does not say which format"),
        (2, ("10014",), "not named"),
        (2, ("10014", "--to", "x.pdf", "--size", "62"), "is not the size of a label"),
        (2, ("10014", "--to", "x.png", "--sheet", "A4 3x8"), "cannot be a .png file"),
        (2, ("10014", "--to", "x.pdf", "--sheet", "A5 3x8"), "is not a sheet of labels"),
        (3, ("10022", "--to", "x.pdf"), "10022"),
        (3, ("--drive", "none", "--to", "x.pdf"), "No drive bears"),
    ],
)
def test_what_cannot_be_is_one_sentence(
    refused: Refused,
    tag: str,
    code: int,
    arguments: tuple[str, ...],
    says: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert says in refused(code, "label", *arguments)
    assert not list(tmp_path.glob("x.*"))


def test_sizes_and_sheets_as_people_type_them() -> None:
    assert read_label_size(" 62 x 29 mm") == read_label_size("62X29")
    sheet = read_label_sheet("a4 3x8 margin 6x12")
    assert (sheet.label.width_mm, sheet.label.height_mm) == (66, 34)
    assert sheet.place_mm(0) == (0, 6, 12)
    assert sheet.place_mm(25) == (1, 72, 12)
    for wrong in ("A4 0x8", "A4 90x8", "A4 3x8 margin", "A4 3x8 margin 99x99", ""):
        with pytest.raises(BadInput):
            read_label_sheet(wrong)
