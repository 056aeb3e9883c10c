"""A scanner's bursts and a fast typist's lines, through a terminal to the program's ear."""

from __future__ import annotations

from tests.pty.bursts_measured import SCANNER_PACES_MS, TYPISTS_PACES_MS, measure

FEW = 2


def test_every_scanners_pace_is_a_scan_and_no_typists_is() -> None:
    found = {seen.pace_ms: seen for seen in measure((*SCANNER_PACES_MS, min(TYPISTS_PACES_MS)), FEW)}
    assert {pace: found[pace].scans for pace in SCANNER_PACES_MS} == dict.fromkeys(SCANNER_PACES_MS, FEW)
    typist = found[min(TYPISTS_PACES_MS)]
    assert (typist.scans, typist.typed, typist.torn) == (0, FEW, 0)
    assert all(gap >= 0 for seen in found.values() for gap in seen.gaps_ms)
