"""What a whole number counts. A record's fields say it, and its JSON and CSV are made from that.

They are whole numbers all the same: sums and differences need no wrapping, as with types of their own.
"""

from __future__ import annotations

from typing import Annotated

INSTANT, LENGTH, MINOR, THOUSANDTHS = "instant", "length", "minor", "thousandths"

Instant = Annotated[int, INSTANT]  # microseconds UTC since 1970
Length = Annotated[int, LENGTH]  # microseconds
Minor = Annotated[int, MINOR]  # minor units of the shop's currency
Thousandths = Annotated[int, THOUSANDTHS]  # of the base unit named beside it
