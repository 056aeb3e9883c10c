"""Third revision: what became of the money. Returns and ways out told apart, owners' machines."""

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
    """ALTER TABLE unit ADD COLUMN owner_id INTEGER
    CONSTRAINT fk_unit_owner_id_party REFERENCES party (id)""",
    """CREATE TABLE way_out (
        id INTEGER NOT NULL,
        unit_id INTEGER NOT NULL,
        way TEXT NOT NULL,
        at_us INTEGER NOT NULL,
        person_id INTEGER,
        note TEXT NOT NULL,
        price_minor INTEGER,
        proceeds_minor INTEGER NOT NULL,
        ended_us INTEGER,
        removed INTEGER NOT NULL,
        CONSTRAINT pk_way_out PRIMARY KEY (id),
        CONSTRAINT ck_way_out_way CHECK (way IN ('sold', 'handed back', 'kept', 'scrapped', 'parts')),
        CONSTRAINT ck_way_out_price CHECK (price_minor IS NULL OR price_minor >= 0),
        CONSTRAINT ck_way_out_proceeds CHECK (proceeds_minor >= 0),
        CONSTRAINT ck_way_out_removed CHECK (removed IN (0, 1)),
        CONSTRAINT fk_way_out_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id),
        CONSTRAINT fk_way_out_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
    ) STRICT""",
    "CREATE INDEX ix_way_out_unit_id ON way_out (unit_id)",
    "CREATE INDEX ix_way_out_at_us ON way_out (at_us)",
    "CREATE UNIQUE INDEX uq_way_out_out ON way_out (unit_id) WHERE removed = 0 AND ended_us IS NULL",
    "CREATE INDEX ix_way_out_out ON way_out (way, unit_id) WHERE removed = 0 AND ended_us IS NULL",
    # Units that have left already: sold ones, those back again from a repair, donors, and the rest as before.
    """INSERT INTO way_out (unit_id, way, at_us, person_id, note, proceeds_minor, removed)
    SELECT unit.id,
           CASE WHEN comeback.id IS NOT NULL AND comeback.undoes = 0 THEN 'handed back'
                WHEN sale.id IS NULL AND purchase.donor = 1 THEN 'parts' ELSE 'sold' END,
           unit.stage_since_us, sale.person_id, '', 0, 0
    FROM unit JOIN stage ON stage.id = unit.stage_id AND stage.final = 1
    LEFT JOIN purchase ON purchase.unit_id = unit.id
    LEFT JOIN sale ON sale.id = (SELECT id FROM sale WHERE unit_id = unit.id AND removed = 0
                                 ORDER BY sold_us DESC, id DESC LIMIT 1)
    LEFT JOIN comeback ON comeback.id = (SELECT id FROM comeback WHERE sale_id = sale.id AND removed = 0
                                         ORDER BY at_us DESC, id DESC LIMIT 1)
    WHERE unit.removed = 0""",
    # Until now 0 was written whether it was typed or nothing was, and no other column tells them apart: what
    # is above 0 was typed, a 0 is not known until it is said to be one (by unit, or for a whole channel).
    """ALTER TABLE sale ADD COLUMN shipping_known INTEGER NOT NULL DEFAULT 1
    CONSTRAINT ck_sale_shipping_known CHECK (
        shipping_known = 1 OR (shipping_known = 0 AND shipping_minor = 0))""",
    "UPDATE sale SET shipping_known = 0 WHERE shipping_minor = 0",
    # The premium is a part of the price paid; freight comes on top of it. Nothing typed is none.
    """ALTER TABLE purchase ADD COLUMN premium_minor INTEGER NOT NULL DEFAULT 0
    CONSTRAINT ck_purchase_premium CHECK (premium_minor >= 0)""",
    """ALTER TABLE purchase ADD COLUMN freight_minor INTEGER NOT NULL DEFAULT 0
    CONSTRAINT ck_purchase_freight CHECK (freight_minor >= 0)""",
    """ALTER TABLE purchase ADD COLUMN shipping_minor INTEGER
    CONSTRAINT ck_purchase_shipping CHECK (shipping_minor IS NULL OR shipping_minor >= 0)""",
    """ALTER TABLE offer ADD COLUMN premium_per_10000 INTEGER CONSTRAINT ck_offer_premium
    CHECK (premium_per_10000 IS NULL OR premium_per_10000 BETWEEN 0 AND 10000)""",
    """ALTER TABLE offer ADD COLUMN freight_minor INTEGER
    CONSTRAINT ck_offer_freight CHECK (freight_minor IS NULL OR freight_minor >= 0)""",
    """ALTER TABLE offer ADD COLUMN shipping_minor INTEGER
    CONSTRAINT ck_offer_shipping CHECK (shipping_minor IS NULL OR shipping_minor >= 0)""",
    """ALTER TABLE lot ADD COLUMN premium_minor INTEGER NOT NULL DEFAULT 0
    CONSTRAINT ck_lot_premium CHECK (premium_minor >= 0)""",
    """ALTER TABLE lot ADD COLUMN freight_minor INTEGER NOT NULL DEFAULT 0
    CONSTRAINT ck_lot_freight CHECK (freight_minor >= 0)""",
)
