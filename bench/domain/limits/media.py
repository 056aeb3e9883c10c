"""Drives: the fields of their logs, and when a figure is stated."""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, Source, by_id

NVME = Source("NVM Express base specification, SMART / Health Information log 02h", "as in public headers")

LIMITS = by_id(
    NVME.of("drive.data_unit_bytes", 512_000, "bytes"),
    NVME.of("drive.most_percent_used", 255, "%"),
    NVME.of("drive.worn_out_percent", 100, "%"),
    PRACTICE.of("drive.state_from_percent", 80, "%"),
    PRACTICE.of("drive.most_years", 20, "years"),
    PRACTICE.of("drive.warranty_years", 5, "years"),
)
