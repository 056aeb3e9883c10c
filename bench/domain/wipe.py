"""Wiping drives in the words of NIST SP 800-88: methods, records, the certificate's fields in order.

Clear, purge and destroy are the methods of both Rev. 1 and Rev. 2 (2025-09-26), which replaces it and leaves
techniques to IEEE 2883. The certificate follows Rev. 1, section 4.8 and its sample certificate: the labels
were read there; the text of Rev. 2 was not at hand to compare.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.holding import MATTERS, WIPE
from bench.domain.limits.media import LIMITS
from bench.domain.localtime import iso_local
from bench.errors import BadInput

CLEAR, PURGE, DESTROY = "clear", "purge", "destroy"
METHODS: dict[str, str] = {
    CLEAR: "Logical techniques over the drive's ordinary interface, on all storage a user can address; "
    "protects against simple recovery without opening the drive.",
    PURGE: "Physical or logical techniques that make recovery infeasible even with laboratory means; "
    "the drive may stay usable.",
    DESTROY: "Recovery is infeasible even with laboratory means, and the drive can no longer store data.",
}
METHODS_SOURCE = "after NIST SP 800-88, definitions of clear, purge and destroy"

DESTINATIONS = ("sold in the unit", "reused in the shop", "recycler", "returned to its owner")

PASSED, FAILED, NOT_VERIFIED = "passed", "failed", "not verified"
RESULTS = (PASSED, FAILED, NOT_VERIFIED)

STANDARD = (
    "Fields after NIST SP 800-88 Rev. 1, section 4.8 and sample certificate; "
    "Rev. 2 of 2025-09-26 replaces Rev. 1."
)
STATEMENT = (
    "This records what was done and what the verification found. It is no statement of conformity with any "
    "standard."
)
ENDED = "wiped before its last owner had it"
SPROG_WHOLE = LIMITS["drive.sanitize_whole"].whole


@dataclass(frozen=True, slots=True)
class WipeLine:
    """One sanitization of a drive and its verification."""

    wipe_id: int
    drive_id: int
    method: str
    technique: str
    tool: str
    tool_version: str
    confidentiality_before: str
    confidentiality_after: str
    destination: str
    person: str
    title: str
    location: str
    contact: str
    wiped_us: int
    verification: str
    result: str
    verifier: str
    verifier_title: str
    verifier_location: str
    verifier_contact: str
    verified_us: int | None
    note: str


@dataclass(frozen=True, slots=True)
class DriveLine:
    """A drive and its wipes, the newest first. `unit_id` None: on the shelf.

    `outside_until_us`: until when someone outside the shop had it, 0 where nobody is known to have had it.
    """

    drive_id: int
    unit_id: int | None
    tag: str
    maker: str
    model: str
    serial: str
    media_type: str
    media_number: str
    size_bytes: int | None
    came_from: str
    wipes: tuple[WipeLine, ...]
    outside_until_us: int = 0

    @property
    def name(self) -> str:
        """The drive in one line: maker, model and serial number, else its own number."""
        return " ".join(word for word in (self.maker, self.model, self.serial) if word) or (
            f"drive {self.drive_id}"
        )

    @property
    def wiped(self) -> bool:
        """Whether its newest wipe counts: an earlier pass does not outlive a later failure."""
        return bool(self.wipes) and self.counts(self.wipes[0])

    @property
    def standing(self) -> str:
        """How it stands, in a few words."""
        if not self.wipes:
            return "no wipe record"
        newest = self.wipes[0]
        ended = newest.result == PASSED and not self.counts(newest)
        return ENDED if ended else f"{newest.method}, {newest.result}"

    def counts(self, wipe: WipeLine) -> bool:
        """Whether a wipe of it counts as one."""
        return counts(wipe.result, wipe.wiped_us, self.outside_until_us)


@dataclass(frozen=True, slots=True)
class UnwipedReason:
    """Why a unit may be listed without something, or who looked into it. `covers`: of `holding.MATTERS`."""

    reason: str
    person: str
    at_us: int
    covers: tuple[str, ...] = (WIPE,)

    @property
    def matters(self) -> str:
        """What it covers, in words."""
        return ", ".join(MATTERS[one] for one in self.covers)


@dataclass(frozen=True, slots=True)
class DriveSheet:
    """The drives in a unit, or (`unit_id` None) on the shelf.

    `unwiped`: a typed reason for going without a wipe, if one stands. `looked`: who found no drive in it.
    """

    unit_id: int | None
    tag: str
    model: str
    drives: tuple[DriveLine, ...]
    unwiped: UnwipedReason | None
    zone: str
    looked: UnwipedReason | None = None

    @property
    def not_wiped(self) -> tuple[DriveLine, ...]:
        """The drives without a passed record."""
        return tuple(drive for drive in self.drives if not drive.wiped)

    @property
    def may_be_listed(self) -> bool:
        """Whether nothing about its drives stands in the way of listing the unit."""
        if not self.drives:
            return self.looked is not None
        return not self.not_wiped or self.unwiped is not None


@dataclass(frozen=True, slots=True)
class Certificate:
    """A drive with one passed wipe, as certified by the shop on the day it was printed."""

    drive: DriveLine
    wipe: WipeLine
    shop: str
    zone: str
    issued_us: int


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


def counts(result: str, wiped_us: int, outside_until_us: int) -> bool:
    """Whether a wipe counts: its verification passed, and nobody outside the shop had the drive since."""
    return result == PASSED and wiped_us >= outside_until_us


def check_method(method: str) -> str:
    """The same method, if it is one of the standard's; BadInput otherwise."""
    if method not in METHODS:
        raise BadInput(f"{method or 'Nothing'} is not a method.", f"Choose one of: {', '.join(METHODS)}.")
    return method


def check_result(result: str) -> str:
    """The same result, if a verification can have it; BadInput otherwise."""
    if result not in (PASSED, FAILED):
        raise BadInput(
            f"{result or 'Nothing'} is not the result of a verification.", "Choose passed or failed."
        )
    return result


def sprog_percent(sprog: int) -> float:
    """Progress of an NVMe sanitize in percent: SPROG ÷ 65,536. Source: libnvme, sanitize status log.

    BadInput outside two bytes. 65,535 is also what a drive shows that runs none.
    """
    if not 0 <= sprog < SPROG_WHOLE:
        raise BadInput(f"A sanitize progress of {sprog} cannot be.", f"The log gives 0 to {SPROG_WHOLE - 1}.")
    return 100 * sprog / SPROG_WHOLE


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
