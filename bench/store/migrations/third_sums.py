"""Third revision: what became of the money. Returns told apart."""

STATEMENTS = (
    # A return that gave back the whole price undid its sale; any other leaves it standing.
    """ALTER TABLE comeback ADD COLUMN undoes INTEGER NOT NULL DEFAULT 0
    CONSTRAINT ck_comeback_undoes CHECK (undoes IN (0, 1))""",
    """ALTER TABLE comeback ADD COLUMN fee_back_minor INTEGER NOT NULL DEFAULT 0
    CONSTRAINT ck_comeback_fee_back CHECK (fee_back_minor >= 0)""",
    """ALTER TABLE comeback ADD COLUMN postage_minor INTEGER
    CONSTRAINT ck_comeback_postage CHECK (postage_minor IS NULL OR postage_minor >= 0)""",
    """UPDATE comeback SET undoes = 1 WHERE removed = 0 AND refund_minor > 0 AND (
        SELECT SUM(other.refund_minor) FROM comeback AS other
        WHERE other.sale_id = comeback.sale_id AND other.removed = 0 AND other.id <= comeback.id
    ) = (SELECT price_minor FROM sale WHERE sale.id = comeback.sale_id)""",
)
