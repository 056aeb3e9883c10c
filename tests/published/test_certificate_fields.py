"""The certificate of sanitization holds the standard's fields, in its order.

Source: NIST SP 800-88 Rev. 1, section 4.8 and its sample certificate, whose labels were read when the
project's reference values were put together. Rev. 2 of 2025-09-26 replaces Rev. 1; its text was not at hand.
"""

from __future__ import annotations

from dataclasses import replace

from bench.domain.wipe import STANDARD
from bench.reports.certificate import certificate_sections
from tests.wipes import CERTIFICATE, DRIVE

# Our words for the standard's list: (what the standard asks for, what stands there in the test's certificate)
LIST = [
    ("manufacturer", "Invented"),
    ("model", "NV-512"),
    ("serial", "NV512-0001"),
    ("media number", "M-77"),
    ("media type", "NVMe drive"),
    ("media source", "office clearance"),
    ("confidentiality before", "personal data"),
    ("sanitization description", "purge"),
    ("method used", "NVMe sanitize, block erase"),
    ("tool used", "a tool 2.1"),
    ("verification method", "read back in full"),
    ("confidentiality after", "none"),
    ("destination", "sold in the unit"),
    *(("name", "Ada Ägren"), ("title", "technician"), ("date", "2026-11-25"), ("location", "Bench 2")),
    *(("contact", "bench@shop.example"), ("signature", "")),
    *(("name", "Bo Ελένη"), ("title", "foreman"), ("date", "2026-11-26"), ("location", "Office")),
    *(("contact", "office@shop.example"), ("signature", "")),
]


def test_every_field_of_the_list_in_its_order() -> None:
    fields = [field for section in certificate_sections(CERTIFICATE) for field in section.fields]
    assert len(fields) == len(LIST)
    for (label, value), (asked, expected) in zip(fields, LIST, strict=True):
        assert asked in label.casefold()
        assert value == expected


def test_it_says_which_revision_the_list_follows() -> None:
    assert "Rev. 1" in STANDARD
    assert "Rev. 2 of 2025-09-26 replaces" in STANDARD


def test_the_source_falls_back_on_the_unit_and_then_on_nothing() -> None:
    def source(**changed: object) -> str:
        certificate = replace(CERTIFICATE, drive=replace(DRIVE, came_from="", **changed))
        return certificate_sections(certificate)[0].fields[5][1]

    assert source() == "unit 10014"
    assert source(tag="") == ""


def test_an_unverified_date_stays_empty() -> None:
    certificate = replace(CERTIFICATE, wipe=replace(CERTIFICATE.wipe, verified_us=None))
    assert dict(certificate_sections(certificate)[3].fields)["Date"] == ""
