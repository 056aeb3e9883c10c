"""The chance of a loss that the shop takes when it buys."""

STATEMENTS = (
    """ALTER TABLE trade ADD COLUMN loss_chance_per_10000 INTEGER NOT NULL DEFAULT 2000
    CONSTRAINT ck_trade_loss_chance CHECK (loss_chance_per_10000 BETWEEN 0 AND 10000)""",
)
