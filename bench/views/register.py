"""The SQL text behind the register of second-hand goods: every unit, with a row for each of its sales."""

from __future__ import annotations

import sqlite3

_LINES = """
WITH back AS (
    SELECT sale_id, SUM(refund_minor) AS refund_minor, MAX(at_us) AS at_us, MAX(undoes) AS undone
    FROM comeback WHERE removed = 0 GROUP BY sale_id
),
sold AS (
    SELECT sale.*, ROW_NUMBER() OVER (PARTITION BY unit_id ORDER BY sold_us, id) AS number,
           ROW_NUMBER() OVER (PARTITION BY unit_id ORDER BY sold_us DESC, id DESC) = 1 AS newest
    FROM sale WHERE removed = 0
)
SELECT unit.id AS unit_id, unit.removed, unit.tag, TRIM(unit.maker || ' ' || unit.model) AS what, unit.serial,
       unit.price_minor AS purchase_minor, unit.added_us, unit.owner_id, way_out.way,
       stage.final, COALESCE(purchase.donor, 0) AS donor,
       COALESCE(purchase.bought_on, lot.bought_on) AS bought_on,
       COALESCE(seller.name, '') AS seller, COALESCE(seller.address, '') AS seller_address,
       COALESCE(seller.identity_seen, '') AS identity_seen,
       COALESCE(purchase.invoice, '') AS purchase_invoice,
       COALESCE(lot.name, '') AS lot, lot.price_minor AS lot_price_minor,
       sold.number AS sale, sold.newest, sold.id AS sale_id, sold.sold_on,
       COALESCE(buyer.name, '') AS buyer, COALESCE(buyer.address, '') AS buyer_address,
       COALESCE(sold.invoice, '') AS sale_invoice, COALESCE(channel.name, '') AS channel,
       sold.price_minor, sold.tax_minor, back.at_us AS back_us, back.refund_minor, back.undone
FROM unit JOIN stage ON stage.id = unit.stage_id
LEFT JOIN purchase ON purchase.unit_id = unit.id
LEFT JOIN lot ON lot.id = purchase.lot_id AND lot.removed = 0
LEFT JOIN party AS seller ON seller.id = COALESCE(purchase.party_id, lot.party_id)
LEFT JOIN sold ON sold.unit_id = unit.id
LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
LEFT JOIN party AS buyer ON buyer.id = sold.party_id
LEFT JOIN channel ON channel.id = sold.channel_id
LEFT JOIN back ON back.sale_id = sold.id
ORDER BY unit.id, sold.number
"""


def lines(connection: sqlite3.Connection) -> list[sqlite3.Row]:
    """Every unit by number, taken back ones too, with each sale that stands in the file."""
    return connection.execute(_LINES).fetchall()
