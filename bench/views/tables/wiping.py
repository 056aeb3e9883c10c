"""A unit's drives and the wipes of one of them as tables."""

from __future__ import annotations

from bench.domain.condition.figures import shown
from bench.domain.wipe import PASSED
from bench.views.columns import Column, Table
from bench.views.drives import DriveLine, WipeLine
from bench.views.kinds import INSTANT, SAID, Kind, Said

RESULTS = {PASSED: ("✓", "good"), "failed": ("!", "alert")}
SIZE = Kind(lambda size_bytes, _: shown("size_bytes", size_bytes), width=9)


def _result(wipe: WipeLine) -> Said:
    mark, look = RESULTS.get(wipe.result, ("·", "warning"))
    return Said(f"{mark} {wipe.result}", look)


def _wiped(drive: DriveLine) -> Said:
    return Said(f"✓ {drive.standing}", "good") if drive.wiped else Said(f"! {drive.standing}", "alert")


DRIVES = Table[DriveLine](
    "drives",
    "Drives",
    (
        Column("Drive", "name", width=18, grow=2),
        Column("Media", "media_type", width=10, grow=1, from_width=80, look="muted"),
        Column("Size", "size_bytes", SIZE, from_width=56, look="muted"),
        Column("Wiped", _wiped, SAID, 22),
    ),
    key="drive_id",
)
WIPES = Table[WipeLine](
    "wipes",
    "Its wipes",
    (
        Column("When", "wiped_us", INSTANT, look="muted"),
        Column("Method", "method"),
        Column("How", "technique", width=14, grow=2),
        Column("Who", "person", from_width=70, look="muted"),
        Column("Result", _result, SAID, 14),
        Column("Verified by", "verifier", width=12, grow=1, from_width=96, look="muted"),
    ),
    key="wipe_id",
)
