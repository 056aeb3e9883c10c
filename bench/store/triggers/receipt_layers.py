"""Stock is drawn from a receipt of the same consumable, no more than is left; the file keeps what that is."""

from __future__ import annotations

TRIGGERS = (
    """CREATE TRIGGER movement_own_layer BEFORE INSERT ON movement
    WHEN NEW.layer_id IS NOT NULL AND NOT EXISTS (
        SELECT 1 FROM movement
        WHERE id = NEW.layer_id AND layer_id IS NULL AND consumable_id = NEW.consumable_id
    )
    BEGIN SELECT RAISE(ABORT, 'stock is drawn from a receipt of the same consumable'); END""",
    """CREATE TRIGGER movement_not_below_zero AFTER INSERT ON movement
    WHEN NEW.layer_id IS NOT NULL AND (
        SELECT SUM(quantity) FROM movement WHERE id = NEW.layer_id OR layer_id = NEW.layer_id
    ) < 0
    BEGIN SELECT RAISE(ABORT, 'stock never goes below zero'); END""",
    """CREATE TRIGGER movement_changes_balance AFTER INSERT ON movement BEGIN
        INSERT INTO layer_balance (layer_id, consumable_id, quantity, cost_minor)
        VALUES (COALESCE(NEW.layer_id, NEW.id), NEW.consumable_id, NEW.quantity, NEW.cost_minor)
        ON CONFLICT (layer_id) DO UPDATE
        SET quantity = quantity + excluded.quantity, cost_minor = cost_minor + excluded.cost_minor;
        DELETE FROM layer_balance
        WHERE layer_id = COALESCE(NEW.layer_id, NEW.id) AND quantity = 0 AND cost_minor = 0;
    END""",
)
