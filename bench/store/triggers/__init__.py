"""Rules that no program may break, as far as one row and what it names can tell: a module a subject.

The program asks more, and says it in sentences (`work/gates.py`, `work/invariants.py`); these stop whatever
writes to the file past it.
"""

from bench.store.triggers import (
    bad_cells,
    kept_counts,
    kept_rows,
    one_place,
    receipt_layers,
    running_timers,
    unit_moves,
    wiped_drives,
)

TRIGGERS: tuple[str, ...] = (
    *kept_rows.TRIGGERS,
    *receipt_layers.TRIGGERS,
    *running_timers.TRIGGERS,
    *bad_cells.TRIGGERS,
    *wiped_drives.TRIGGERS,
    *unit_moves.TRIGGERS,
    *kept_counts.TRIGGERS,
    *one_place.TRIGGERS,
)
