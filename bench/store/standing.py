"""SQL that says which sale of a unit stands, for the rules of the file and for every read.

A sale stands while no later one of its unit was made and no return undid it, wherever the unit is: back for
repair under warranty, it is still the buyer's. Each text names the `unit` or the `sale` of what it is put in.
"""

from __future__ import annotations

UNDONE = """
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
"""

NEWEST = """
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
"""

# Of the kept sales of a unit, whether one stands.
IS_SOLD = """
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND {newest} AND NOT {undone})
""".replace("{newest}", NEWEST).replace("{undone}", UNDONE)
