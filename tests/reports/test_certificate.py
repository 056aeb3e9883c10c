"""The certificate in its four forms says the same, and says no name wrong."""

from __future__ import annotations

import json
import shutil
import subprocess
import unicodedata
from dataclasses import replace
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from bench.domain.wipe import STANDARD, STATEMENT
from bench.errors import BadInput
from bench.reports.certificate import (
    certificate_html,
    certificate_json,
    certificate_sections,
    certificate_text,
)
from bench.reports.certificate_pdf import certificate_pdf
from tests.reports.markup import read_page
from tests.reports.reading import companions_agree, is_plain, same
from tests.wipes import CERTIFICATE, DRIVE, WIPE

FIELDS = [field for section in certificate_sections(CERTIFICATE) for field in section.fields]


def text_of(pdf: bytes, tmp_path: Path) -> str:
    """What a person reads in the PDF; skipped where no reader of PDF is installed."""
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    path = tmp_path / "certificate.pdf"
    path.write_bytes(pdf)
    ran = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, check=True)
    return ran.stdout.decode()


def in_order(parts: list[str], text: str) -> None:
    at = 0
    for part in parts:
        assert part in text[at:], part
        at = text.index(part, at) + len(part)


def test_the_text_holds_every_field_in_order() -> None:
    text = certificate_text(CERTIFICATE)
    is_plain(text)
    in_order([word for field in FIELDS for word in field if word], text)
    assert text.count("_" * 30) == 2, "two lines to sign on"
    for note in (STANDARD, STATEMENT):
        assert note in " ".join(text.split())
    assert "Wiped 2026-11-25 10:00; verification passed 2026-11-26 10:00, by the clock of" in text


def test_the_page_holds_every_field_in_order() -> None:
    page = read_page(certificate_html(CERTIFICATE))
    in_order([word for field in FIELDS for word in field if word], "\n".join(page.texts))
    assert STANDARD in page.texts
    assert page.texts[0] == page.texts[1] == "Certificate of sanitization"


def test_the_json_is_the_record_and_the_fields() -> None:
    facts = json.loads(certificate_json(CERTIFICATE))
    same(CERTIFICATE, facts)
    assert companions_agree(facts) > 4
    assert [(one["label"], one["value"]) for one in facts["fields"]] == FIELDS


def test_the_pdf_holds_every_field_in_order(tmp_path: Path) -> None:
    pdf = certificate_pdf(CERTIFICATE)
    assert pdf.startswith(b"%PDF-")
    assert pdf.rstrip().endswith(b"%%EOF")
    assert b"/FontFile2" in pdf, "the typeface is inside"
    assert pdf.count(b"/Type /Page\n") == 1
    text = text_of(pdf, tmp_path)
    in_order([word for field in FIELDS for word in field if word], text)
    assert STATEMENT in " ".join(text.split())


def test_the_same_certificate_is_the_same_file() -> None:
    assert certificate_pdf(CERTIFICATE) == certificate_pdf(CERTIFICATE)


HOSTILE = '<b>=Ada & "Bo"</b> [/] %s {nb} **x**'


def test_names_are_literal_in_every_form(tmp_path: Path) -> None:
    certificate = replace(CERTIFICATE, wipe=replace(WIPE, person=HOSTILE), shop=HOSTILE)
    assert HOSTILE in certificate_text(certificate)
    assert HOSTILE in read_page(certificate_html(certificate)).texts
    assert json.loads(certificate_json(certificate))["wipe"]["person"] == HOSTILE
    assert HOSTILE in text_of(certificate_pdf(certificate), tmp_path)


@pytest.mark.parametrize("name", ["Żółć Łukasz", "Ελένη Παπά", "Іван Ґедзь", "Trần Thị Ánh", "Ñandú ß ø €"])
def test_latin_greek_and_cyrillic_names_stand_in_the_pdf_as_typed(name: str, tmp_path: Path) -> None:
    certificate = replace(CERTIFICATE, wipe=replace(WIPE, person=name))
    assert name in text_of(certificate_pdf(certificate), tmp_path)


@pytest.mark.parametrize("name", ["山田", "سلمى", "आशा", "Zo\u0327e\u0301", "😀"])
def test_a_name_the_typeface_cannot_print_is_refused_with_a_way_out(name: str) -> None:
    certificate = replace(CERTIFICATE, wipe=replace(WIPE, verifier=name))
    with pytest.raises(BadInput, match="as HTML"):
        certificate_pdf(certificate)
    assert unicodedata.normalize("NFC", name) in read_page(certificate_html(certificate)).texts


def test_very_long_fields_run_on_to_another_page(tmp_path: Path) -> None:
    long = "a long word-and-more " * 90
    certificate = replace(
        CERTIFICATE, drive=replace(DRIVE, model=long.strip()), wipe=replace(WIPE, verification="x" * 1500)
    )
    is_plain(certificate_text(certificate))
    pdf = certificate_pdf(certificate)
    assert pdf.count(b"/Type /Page\n") > 1
    words = text_of(pdf, tmp_path).split()
    assert words.count("word-and-more") == 90
    assert sum(word.count("x") for word in words if set(word) == {"x"}) == 1500
    assert words.count("Signature") == 2


def test_a_note_and_an_open_date_are_told() -> None:
    certificate = replace(CERTIFICATE, wipe=replace(WIPE, note="first\nsecond", verified_us=None))
    text = certificate_text(certificate)
    assert "first ⏎ second" in text
    assert "verification passed, by the clock" in text


def test_the_typeface_is_the_one_that_was_chosen() -> None:
    from bench.reports.certificate_pdf import FONT

    with TTFont(str(FONT)) as font:
        assert font["name"].getDebugName(1) == "Noto Sans"
        assert "Open Font License" in (font["name"].getDebugName(13) or "")
