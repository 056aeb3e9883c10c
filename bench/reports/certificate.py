"""The certificate of sanitization as text, HTML and JSON; as PDF in certificate_pdf."""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.localtime import iso_local
from bench.domain.wipe import METHODS, METHODS_SOURCE, STANDARD, STATEMENT
from bench.reports.html_page import facts_table, heading, page, paragraph
from bench.reports.plain_tables import one_line, sections, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.certificate import Certificate

TITLE = "Certificate of sanitization"
_LABEL_WIDTH = 36
_LINE = "_" * 30


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the certificate: its title, and labels with what stands beside them."""

    title: str
    fields: tuple[tuple[str, str], ...]


def certificate_sections(certificate: Certificate) -> tuple[Section, ...]:
    """The certificate's fields in the standard's order; what is not known is empty, to be filled by hand."""
    drive, wipe, zone = certificate.drive, certificate.wipe, certificate.zone
    return (
        Section(
            "Media",
            (
                ("Manufacturer", drive.maker),
                ("Model", drive.model),
                ("Serial number", drive.serial),
                ("Organization's media number", drive.media_number),
                ("Media type", drive.media_type),
                ("Media source", drive.came_from or (f"unit {drive.tag}" if drive.tag else "")),
                ("Confidentiality before (optional)", wipe.confidentiality_before),
            ),
        ),
        Section(
            "Sanitization",
            (
                ("Sanitization description", wipe.method),
                ("Method used", wipe.technique),
                ("Tool used, with version", f"{wipe.tool} {wipe.tool_version}".strip()),
                ("Verification method", wipe.verification),
                ("Confidentiality after (optional)", wipe.confidentiality_after),
                ("Destination", wipe.destination),
            ),
        ),
        Section(
            "Sanitization performed by",
            _person(wipe.person, wipe.title, wipe.wiped_us, wipe.location, wipe.contact, zone),
        ),
        Section(
            "Verification performed by",
            _person(
                wipe.verifier,
                wipe.verifier_title,
                wipe.verified_us,
                wipe.verifier_location,
                wipe.verifier_contact,
                zone,
            ),
        ),
    )


def certificate_text(certificate: Certificate) -> str:
    """The certificate in plain text, with lines to sign on."""
    return sections(
        "\n".join((TITLE, *(one_line(line) for line in headlines(certificate)))),
        *(
            under(part.title, "\n".join(_field(label, value) for label, value in part.fields))
            for part in certificate_sections(certificate)
        ),
        "\n\n".join(wrapped(note) for note in notes(certificate)),
    )


def certificate_html(certificate: Certificate) -> str:
    """The certificate as a page to print."""
    parts: list[str] = [paragraph(line) for line in headlines(certificate)]
    for part in certificate_sections(certificate):
        parts += [heading(part.title), facts_table(part.fields)]
    return page(TITLE, *parts, *(paragraph(note, note=True) for note in notes(certificate)))


def certificate_json(certificate: Certificate) -> str:
    """The certificate as a JSON document: the records it is made of, and its fields in order."""
    fields = [
        {"part": part.title, "label": label, "value": value}
        for part in certificate_sections(certificate)
        for label, value in part.fields
    ]
    return json_text("certificate", {**facts_of(certificate, certificate.zone), "fields": fields})


def headlines(certificate: Certificate) -> tuple[str, ...]:
    """What stands under the title: whose it is, its number, and when it was printed."""
    day = iso_local(certificate.issued_us, certificate.zone)[:10]
    number = f"Wipe {certificate.wipe.wipe_id} of drive {certificate.drive.drive_id}"
    return certificate.shop, f"{number}, printed {day}"


def notes(certificate: Certificate) -> tuple[str, ...]:
    """What stands beneath: result and times, what the method means, whose list this is, what it is not."""
    wipe, zone = certificate.wipe, certificate.zone
    done = f"Wiped {_minute(wipe.wiped_us, zone)}; verification {wipe.result}"
    verified = f" {_minute(wipe.verified_us, zone)}" if wipe.verified_us is not None else ""
    return (
        f"{done}{verified}, by the clock of {zone}.",
        f"{wipe.method.capitalize()}: {METHODS[wipe.method]} ({METHODS_SOURCE}.)",
        STANDARD,
        STATEMENT,
        *([wipe.note] if wipe.note else []),
    )


def _minute(at_us: int, zone: str) -> str:
    return iso_local(at_us, zone)[:16].replace("T", " ")


def _field(label: str, value: str) -> str:
    line = value or (_LINE if label == "Signature" else "")
    return wrapped(f"{label:<{_LABEL_WIDTH}}{line}", start=2, indent=_LABEL_WIDTH + 2)


def _person(
    name: str, title: str, at_us: int | None, location: str, contact: str, zone: str
) -> tuple[tuple[str, str], ...]:
    return (
        ("Name", name),
        ("Title", title),
        ("Date", "" if at_us is None else iso_local(at_us, zone)[:10]),
        ("Location", location),
        ("Contact", contact),
        ("Signature", ""),
    )
