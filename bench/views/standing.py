"""SQL that says which units are in the queue, once for every read. Which sale stands: `store/standing.py`."""

from __future__ import annotations

# Where the units in the queue come from, however many have left: down the stages, in this order (CROSS JOIN).
IN_QUEUE = """stage AS standing
CROSS JOIN unit ON standing.final = 0 AND unit.stage_id = standing.id AND unit.removed = 0"""
