"""Stock: what the stock sums assume."""

from __future__ import annotations

from bench.domain.limits.record import PRACTICE, by_id

LIMITS = by_id(PRACTICE.of("stock.service_percent", 95, "%"))
