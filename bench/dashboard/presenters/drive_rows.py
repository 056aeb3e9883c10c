"""The drives in a unit and the wipes of one of them, as rows and as the texts of their forms."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, spread, wrap
from bench.domain.condition.figures import decimal
from bench.domain.text import for_display
from bench.domain.wipe import METHODS, METHODS_SOURCE
from bench.domain.wipe_techniques import CRYPTO_HINT, TECHNIQUES_SOURCE, suggested
from bench.views.drives import DriveLine, DriveSheet
from bench.views.kinds import Context


def drives_head(sheet: DriveSheet, width: int) -> tuple[Line, ...]:
    """The unit, and whether anything about its drives stands in the way of listing it."""
    left = (Part(f" Drives of {sheet.tag}", "strong"), Part(f"  {for_display(sheet.model)}"))
    return (spread(left, (standing_of(sheet), Part(" ")), width),)


def drive_detail(
    sheet: DriveSheet, drive: DriveLine | None, context: Context, width: int
) -> tuple[Line, ...]:
    """What else is known of the drive under the cursor, and the reason where one was typed for the unit."""
    lines: list[Line] = []
    if drive is not None:
        facts = (
            ("media number", drive.media_number),
            ("came from", drive.came_from),
            *(("note", wipe.note) for wipe in drive.wipes[:1]),
        )
        words = " · ".join(f"{name}: {text}" for name, text in facts if text)
        lines += [(Part(line, "muted"),) for line in wrap(words, width)]
    if not sheet.drives and sheet.looked is not None:
        when = context.instant(sheet.looked.at_us)
        lines.append((Part(f"none in it: {for_display(sheet.looked.person)} looked, {when}", "muted"),))
    if sheet.unwiped is not None:
        when = context.instant(sheet.unwiped.at_us)
        words = f"! may be listed without a wipe: {sheet.unwiped.reason} ({sheet.unwiped.person}, {when})"
        lines += [(Part(line, "alert"),) for line in wrap(words, width)]
    return tuple(lines)


def method_lines(method: str, media_type: str, width: int) -> tuple[Line, ...]:
    """What a method means, and techniques of it that work on that type of media."""
    if method not in METHODS:
        return ()
    words = f"{method.capitalize()}: {METHODS[method]} ({METHODS_SOURCE})"
    on = f"On {for_display(media_type)}" if media_type else "By type of media"
    often = f"{on}: {'; '.join(suggested(method, media_type))} ({TECHNIQUES_SOURCE})."
    hints = (CRYPTO_HINT,) if "crypto" in often else ()
    return tuple((Part(line, "muted"),) for text in (words, often, *hints) for line in wrap(text, width))


def drive_values(drive: DriveLine) -> dict[str, str]:
    """What a drive's form begins with, by field."""
    return {
        "maker": drive.maker,
        "model": drive.model,
        "serial": drive.serial,
        "media_type": drive.media_type,
        "media_number": drive.media_number,
        "size_text": _gigabytes(drive.size_bytes),
        "came_from": drive.came_from,
    }


def _gigabytes(size_bytes: int | None) -> str:
    """All its digits, so that a form that is sent unchanged changes nothing."""
    return "" if size_bytes is None else decimal(size_bytes, 10**9, 9).rstrip("0").rstrip(".")


def standing_of(sheet: DriveSheet) -> Part:
    """Whether anything about a unit's drives stands in the way of listing it, in a few words."""
    if not sheet.drives:
        seen = sheet.looked is not None
        return Part("✓ no drive in it", "good") if seen else Part("! no drive recorded", "warning")
    if not sheet.not_wiped:
        return Part("✓ every drive wiped", "good")
    count = f"{len(sheet.not_wiped)} of {len(sheet.drives)} without a passed wipe"
    if sheet.unwiped is not None:
        return Part(f"! {count}, reason typed", "warning")
    return Part(f"! {count}", "alert")
