"""What is left of each receipt, kept by the file itself at every movement, and indexes for a long history."""

STATEMENTS = (
    """CREATE TABLE layer_balance (
        layer_id INTEGER NOT NULL,
        consumable_id INTEGER NOT NULL,
        quantity INTEGER NOT NULL,
        cost_minor INTEGER NOT NULL,
        CONSTRAINT pk_layer_balance PRIMARY KEY (layer_id)
    ) STRICT""",
    """INSERT INTO layer_balance (layer_id, consumable_id, quantity, cost_minor)
    SELECT COALESCE(layer_id, id), MIN(consumable_id), SUM(quantity), SUM(cost_minor)
    FROM movement GROUP BY COALESCE(layer_id, id) HAVING SUM(quantity) <> 0 OR SUM(cost_minor) <> 0""",
    "CREATE INDEX ix_layer_balance_consumable_id ON layer_balance (consumable_id, quantity)",
    """CREATE TRIGGER movement_changes_balance AFTER INSERT ON movement BEGIN
        INSERT INTO layer_balance (layer_id, consumable_id, quantity, cost_minor)
        VALUES (COALESCE(NEW.layer_id, NEW.id), NEW.consumable_id, NEW.quantity, NEW.cost_minor)
        ON CONFLICT (layer_id) DO UPDATE
        SET quantity = quantity + excluded.quantity, cost_minor = cost_minor + excluded.cost_minor;
        DELETE FROM layer_balance
        WHERE layer_id = COALESCE(NEW.layer_id, NEW.id) AND quantity = 0 AND cost_minor = 0;
    END""",
    # The order in which the movements of one consumable were booked.
    "CREATE INDEX ix_movement_booked ON movement (consumable_id)",
    # It holds all that is asked of a task's uses: SQLite makes no index of its own at every read.
    "CREATE INDEX ix_task_use_task_id ON task_use (task_id, consumable_id, quantity)",
    "CREATE INDEX ix_task_name ON task (name, ended_us)",
    "CREATE INDEX ix_time_entry_runs ON time_entry (person_id, attended) WHERE stopped_us IS NULL",
    "CREATE INDEX ix_part_drive_id ON part (drive_id)",
    "CREATE INDEX ix_drive_came_in_unit_id ON drive (came_in_unit_id)",
    "CREATE INDEX ix_offer_state ON offer (state)",
    "CREATE INDEX ix_offer_unit_id ON offer (unit_id)",
    "CREATE INDEX ix_sale_channel_id ON sale (channel_id, sold_us)",
)
