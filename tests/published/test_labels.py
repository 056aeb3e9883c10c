"""Labels and cards against readers and standards of others.

Sources: ISO/IEC 7064 by python-stdnum; QR code (ISO/IEC 18004) and Code 128 (ISO/IEC 15417) by the decoder
ZXing-C++; PDF drawn by PDFium. ZPL II: the commands' forms as its programming guide has them (from memory).
"""

from __future__ import annotations

import re
from io import BytesIO

import pypdfium2
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from stdnum.iso7064 import mod_37_36

from bench.domain.labels import (
    ACTS,
    USUAL,
    WHO,
    Card,
    Label,
    LabelSize,
    card_code,
    check_character,
    part_code,
    read_card,
    read_label_sheet,
    read_part_code,
)
from bench.reports.label_drawing import draw
from bench.reports.label_forms import label_png, labels_pdf, labels_zpl, zpl_text

CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
CODES = ["10629", "CARDSTART0", part_code(49), "SN-77 b/42", "0123456789012"]


def read_by_zxing(picture: Image.Image) -> dict[str, str]:
    """What an independent decoder reads in a picture: format to text."""
    found = zxingcpp.read_barcodes(picture.convert("L"))
    return {str(one.format).rpartition(".")[2]: one.text for one in found}


def formats(read: dict[str, str], code: str) -> tuple[bool, bool]:
    """Whether the QR code and the bars were read, each as the code."""
    qr = [text for name, text in read.items() if "QR" in name.upper()]
    bars = [text for name, text in read.items() if "128" in name]
    return qr == [code], bars == [code]


@given(st.text(alphabet=CHARACTERS, min_size=1, max_size=20))
def test_the_check_character_is_that_of_the_standard(body: str) -> None:
    assert check_character(body) == mod_37_36.calc_check_digit(body)


@given(st.integers(min_value=1, max_value=10**9), st.integers(0, 40), st.sampled_from(CHARACTERS))
def test_a_parts_code_ends_in_a_valid_check_character_and_no_slip_names_another(
    number: int, at: int, other: str
) -> None:
    """ISO/IEC 7064: every single substitution is detected."""
    code = part_code(number)
    assert mod_37_36.is_valid(code)
    assert read_part_code(code.lower()) == number
    slip = code[: at % len(code)] + other + code[at % len(code) + 1 :]
    assert read_part_code(slip) == (number if slip == code else None)


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("size", [USUAL, LabelSize(90, 40), LabelSize(50, 30)])
def test_a_picture_is_read_by_another_decoder(code: str, size: LabelSize) -> None:
    picture = Image.open(BytesIO(label_png(draw(Label(code, code, ("Fenn Oxlip 14", "Shop")), size))))
    assert formats(read_by_zxing(picture), code) == (True, True)


@pytest.mark.parametrize("code", CODES)
def test_a_pdf_page_is_read_by_another_decoder(code: str) -> None:
    pdf = pypdfium2.PdfDocument(labels_pdf([draw(Label(code, code, ("Ψ Δ Ж",)), USUAL)]))
    try:
        page = pdf[0]
        points = tuple(round(one) for one in page.get_size())
        assert points == (round(62 / 25.4 * 72), round(29 / 25.4 * 72))
        assert formats(read_by_zxing(page.render(scale=300 / 72).to_pil()), code) == (True, True)
    finally:
        pdf.close()


def test_every_label_of_a_sheet_is_read_where_it_stands() -> None:
    sheet = read_label_sheet("A4 3x8 margin 6x12")
    codes = [f"1{number:03}9" for number in range(30)]
    pdf = pypdfium2.PdfDocument(labels_pdf([draw(Label(one, one), sheet.label) for one in codes], sheet))
    try:
        assert len(pdf) == 2
        read = []
        for page in pdf:
            picture = page.render(scale=300 / 72).to_pil()
            found = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
            read += sorted(found, key=lambda one: (one.position.top_left.y // 100, one.position.top_left.x))
        assert [one.text for one in read] == codes
    finally:
        pdf.close()


def test_a_label_too_small_for_bars_has_none_rather_than_unreadable_ones() -> None:
    picture = Image.open(BytesIO(label_png(draw(Label("10629", "10629"), LabelSize(30, 15)))))
    assert formats(read_by_zxing(picture), "10629") == (True, False)


@given(st.text(max_size=40))
def test_no_text_is_a_command_of_the_printer(text: str) -> None:
    written = zpl_text(text)
    assert re.fullmatch(r"(?:[0-9A-Za-z]|_[0-9A-F]{2})*", written)
    shown = re.sub(rb"_([0-9A-F]{2})", lambda found: bytes.fromhex(found[1].decode()), written.encode())
    assert shown.decode() == text


def test_a_raw_file_is_made_of_whole_labels_and_known_commands() -> None:
    drawings = [draw(Label(code, "^XA~JA", ("a^FS", "b")), USUAL) for code in CODES]
    text = labels_zpl(CODES, drawings).decode("ascii")
    known = {"XA", "CI", "PW", "LL", "FO", "BQ", "FH", "FD", "FS", "A0", "BY", "BC", "XZ"}
    assert {one[:2] for one in re.findall(r"\^(..)", text)} <= known
    assert "~" not in text
    for whole in re.findall(r"\^XA(.*?)\^XZ", text, re.DOTALL):
        assert whole.count("^FD") == whole.count("^FS") == whole.count("^FO")
    assert text.count("^XA") == text.count("^XZ") == len(CODES)


@given(st.sampled_from(ACTS), st.integers(min_value=1, max_value=99_999))
def test_a_card_is_read_as_what_it_was_written_for(act: str, number: int) -> None:
    card = Card(act, number if act == WHO else None)
    code = card_code(card)
    assert mod_37_36.is_valid(code)
    assert read_card(code) == read_card(code.lower()) == card


@given(
    st.sampled_from(ACTS), st.integers(min_value=0), st.sampled_from("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")
)
def test_a_card_read_with_one_wrong_character_is_no_card(act: str, place: int, other: str) -> None:
    code = card_code(Card(act, 12 if act == WHO else None))
    at = place % len(code)
    wrong = code[:at] + other + code[at + 1 :]
    if wrong != code:
        assert read_card(wrong) is None


@given(st.text(alphabet="0123456789", max_size=14))
def test_digits_alone_are_never_a_card(text: str) -> None:
    assert read_card(text) is None
