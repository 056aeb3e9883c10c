"""Findings on a drive: its own warnings, spare, wear, attributes against thresholds, smartctl's exit bits."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bench.domain.calculators.drive_wear import percent_left
from bench.domain.condition.ata_attributes import IN_THE_PAST, NOW, PENDING, REALLOCATED
from bench.domain.condition.figures import Figures, number
from bench.domain.condition.found import ACT, FINE, OPEN, STATE, Finding
from bench.domain.condition.nvme_log import CRITICAL_WARNINGS
from bench.domain.limits.media import LIMITS

STATE_FROM_USED = LIMITS["drive.state_from_percent"].whole
WORN_OUT_PERCENT = LIMITS["drive.worn_out_percent"].whole

# Bits 0 and 1 never come here: without a drive that was opened there is no reading.
_EXIT_BITS: dict[int, tuple[str, str]] = {
    2: (STATE, "a command failed or a checksum was wrong: the reading may be incomplete"),
    3: (ACT, "the drive says it is failing"),
    4: (ACT, "a pre-failure attribute is at or under its threshold"),
    5: (STATE, "an attribute was at or under its threshold in the past"),
    6: (STATE, "the error log holds errors"),
    7: (STATE, "the self-test log holds errors"),
}


def drive_findings(figures: Figures) -> Iterator[Finding]:
    """Every finding on a drive's figures, whichever of them there are."""
    yield from _warnings(number(figures, "critical_warning"))
    yield from _spare(number(figures, "spare_percent"), number(figures, "spare_threshold_percent"))
    yield from _used(number(figures, "used_percent"))
    yield from _media_errors(number(figures, "media_errors"))
    yield from _exit_bits(number(figures, "exit_status"))
    attributes = figures.get("attributes")
    rows = attributes if isinstance(attributes, list) else []
    yield from _attributes(rows)
    yield from _passed(figures.get("passed"), judged="critical_warning" in figures or bool(rows))


def _warnings(bits: int | None) -> Iterator[Finding]:
    if bits is None:
        return
    if bits == 0:
        yield Finding("critical_warning", FINE, "no critical warning")
    for bit, name in enumerate(CRITICAL_WARNINGS):
        if bits >> bit & 1:
            yield Finding("critical_warning", ACT, f"WARNING: {name}")


def _spare(left: int | None, threshold: int | None) -> Iterator[Finding]:
    if left is None or threshold is None:
        return
    words = f"{left} % spare left, threshold {threshold} %"
    yield Finding("spare", ACT if left <= threshold else FINE, words)


def _used(used: int | None) -> Iterator[Finding]:
    if used is None:
        return
    if used >= WORN_OUT_PERCENT:
        yield Finding("used", ACT, f"{used} % used: past the maker's estimate")
    else:
        standing = STATE if used >= STATE_FROM_USED else FINE
        yield Finding("used", standing, f"{used} % used, {percent_left(used)} % left by the maker's estimate")


def _media_errors(errors: int | None) -> Iterator[Finding]:
    if errors:
        yield Finding("media_errors", STATE, f"{errors} media errors")
    elif errors == 0:
        yield Finding("media_errors", FINE, "no media error counted")


def _exit_bits(status: int | None) -> Iterator[Finding]:
    for bit, (standing, words) in _EXIT_BITS.items():
        if status is not None and status >> bit & 1:
            yield Finding("exit_status", standing, words)


def _attributes(rows: list[dict[str, Any]]) -> Iterator[Finding]:
    against = 0
    for row in rows:
        name = f"attribute {row['number']} {row['name']}".rstrip()
        against += row["failed"] != ""
        if row["failed"] == NOW:
            words = f"{name}: {row['value']}, threshold {row['threshold']}"
            yield Finding("attribute", ACT if row["prefailure"] else STATE, words)
        elif row["failed"] == IN_THE_PAST:
            words = f"{name}: down to {row['worst']} in the past, threshold {row['threshold']}"
            yield Finding("attribute", STATE, words)
        if row["number"] in (REALLOCATED, PENDING) and row["raw"]:
            yield Finding("sectors", STATE, f"{name}: {row['meaning']} sectors")
    if rows and not against:
        yield Finding("attribute", FINE, f"{len(rows)} attributes above their thresholds")


def _passed(passed: object, *, judged: bool) -> Iterator[Finding]:
    if passed is False:
        yield Finding("passed", ACT, "the drive's own verdict: FAILED")
    elif passed is True and not judged:
        yield Finding("passed", OPEN, "the drive's own verdict is passed: not enough alone")
