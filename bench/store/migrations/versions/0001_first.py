"""First revision: every table, and the rules that no program may break."""

import sqlalchemy as sa
from alembic import op

from bench.store.migrations.first_rules import INDEXES, RULES

revision = "0001"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "consumable",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("base_unit", sa.Text(), nullable=False),
        sa.Column("pack_quantity", sa.Integer(), nullable=False),
        sa.Column("lead_days", sa.Integer(), nullable=False),
        sa.Column("shelf_life_days", sa.Integer(), nullable=True),
        sa.Column("reorder_quantity", sa.Integer(), nullable=True),
        sa.Column("hazard", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("base_unit IN ('ml', 'g', 'm', 'piece')", name=op.f("ck_consumable_base_unit")),
        sa.CheckConstraint("lead_days >= 0", name=op.f("ck_consumable_lead")),
        sa.CheckConstraint("pack_quantity > 0", name=op.f("ck_consumable_pack")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_consumable_removed")),
        sa.CheckConstraint(
            "reorder_quantity IS NULL OR reorder_quantity >= 0", name=op.f("ck_consumable_reorder")
        ),
        sa.CheckConstraint(
            "shelf_life_days IS NULL OR shelf_life_days > 0", name=op.f("ck_consumable_shelf")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_consumable")),
        sqlite_strict=True,
    )
    op.create_table(
        "draft",
        sa.Column("form", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("saved_us", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("form", name=op.f("pk_draft")),
        sqlite_strict=True,
    )
    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_person_removed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sqlite_strict=True,
    )
    op.create_table(
        "route",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_route_removed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_route")),
        sqlite_strict=True,
    )
    op.create_table(
        "shop",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("rate_minor_per_hour", sa.Integer(), nullable=False),
        sa.Column("forgotten_times", sa.Integer(), nullable=False),
        sa.Column("forgotten_least_minutes", sa.Integer(), nullable=False),
        sa.Column("next_tag_number", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "forgotten_least_minutes BETWEEN 1 AND 10000", name=op.f("ck_shop_forgotten_least")
        ),
        sa.CheckConstraint("forgotten_times BETWEEN 1 AND 100", name=op.f("ck_shop_forgotten_times")),
        sa.CheckConstraint("id = 1", name=op.f("ck_shop_one_row")),
        sa.CheckConstraint("length(currency) = 3", name=op.f("ck_shop_currency")),
        sa.CheckConstraint("next_tag_number >= 1", name=op.f("ck_shop_next_tag")),
        sa.CheckConstraint("rate_minor_per_hour >= 0", name=op.f("ck_shop_rate")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shop")),
        sqlite_strict=True,
    )
    op.create_table(
        "stage",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("lid_off", sa.Integer(), nullable=False),
        sa.Column("final", sa.Integer(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("final IN (0, 1)", name=op.f("ck_stage_final")),
        sa.CheckConstraint("lid_off IN (0, 1)", name=op.f("ck_stage_lid_off")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_stage_removed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stage")),
        sqlite_strict=True,
    )
    op.create_table(
        "journal",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("summary", sa.Text(), nullable=False),
        sa.Column("via", sa.Text(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("changes", sa.Text(), nullable=False),
        sa.Column("takes_back_id", sa.Integer(), nullable=True),
        sa.CheckConstraint("via IN ('dashboard', 'command', 'demo')", name=op.f("ck_journal_via")),
        sa.CheckConstraint("json_valid(changes)", name=op.f("ck_journal_changes")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_journal_person_id_person")),
        sa.ForeignKeyConstraint(
            ["takes_back_id"], ["journal.id"], name=op.f("fk_journal_takes_back_id_journal")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_journal")),
        sqlite_strict=True,
    )
    op.create_table(
        "route_task",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("route_id", sa.Integer(), nullable=False),
        sa.Column("stage_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("estimate_minutes", sa.Integer(), nullable=False),
        sa.Column("unattended", sa.Integer(), nullable=False),
        sa.Column("lid_off", sa.Integer(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("estimate_minutes > 0", name=op.f("ck_route_task_estimate")),
        sa.CheckConstraint("lid_off IN (0, 1)", name=op.f("ck_route_task_lid_off")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_route_task_removed")),
        sa.CheckConstraint("unattended IN (0, 1)", name=op.f("ck_route_task_unattended")),
        sa.ForeignKeyConstraint(["route_id"], ["route.id"], name=op.f("fk_route_task_route_id_route")),
        sa.ForeignKeyConstraint(["stage_id"], ["stage.id"], name=op.f("fk_route_task_stage_id_stage")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_route_task")),
        sqlite_strict=True,
    )
    op.create_table(
        "unit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("maker", sa.Text(), nullable=False),
        sa.Column("model", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("route_id", sa.Integer(), nullable=True),
        sa.Column("stage_id", sa.Integer(), nullable=False),
        sa.Column("stage_since_us", sa.Integer(), nullable=False),
        sa.Column("added_us", sa.Integer(), nullable=False),
        sa.Column("due_on", sa.Text(), nullable=True),
        sa.Column("price_minor", sa.Integer(), nullable=True),
        sa.Column("held_reason", sa.Text(), nullable=True),
        sa.Column("held_us", sa.Integer(), nullable=True),
        sa.Column("lid_off", sa.Integer(), nullable=False),
        sa.Column("lid_count", sa.Integer(), nullable=False),
        sa.Column("screws_out", sa.Integer(), nullable=True),
        sa.Column("cell_finding", sa.Text(), nullable=True),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "cell_finding IS NULL OR cell_finding IN ('swollen', 'punctured', 'wet')",
            name=op.f("ck_unit_cell"),
        ),
        sa.CheckConstraint("tag NOT GLOB '*[^0-9]*' AND length(tag) >= 2", name=op.f("ck_unit_tag")),
        sa.CheckConstraint("(held_reason IS NULL) = (held_us IS NULL)", name=op.f("ck_unit_held")),
        sa.CheckConstraint("lid_count >= 0", name=op.f("ck_unit_lid_count")),
        sa.CheckConstraint("lid_off IN (0, 1)", name=op.f("ck_unit_lid_off")),
        sa.CheckConstraint("price_minor IS NULL OR price_minor >= 0", name=op.f("ck_unit_price")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_unit_removed")),
        sa.CheckConstraint("screws_out IS NULL OR screws_out >= 0", name=op.f("ck_unit_screws")),
        sa.ForeignKeyConstraint(["route_id"], ["route.id"], name=op.f("fk_unit_route_id_route")),
        sa.ForeignKeyConstraint(["stage_id"], ["stage.id"], name=op.f("fk_unit_stage_id_stage")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_unit")),
        sqlite_strict=True,
    )
    op.create_table(
        "route_use",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("route_task_id", sa.Integer(), nullable=False),
        sa.Column("consumable_id", sa.Integer(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_route_use_quantity")),
        sa.ForeignKeyConstraint(
            ["consumable_id"], ["consumable.id"], name=op.f("fk_route_use_consumable_id_consumable")
        ),
        sa.ForeignKeyConstraint(
            ["route_task_id"], ["route_task.id"], name=op.f("fk_route_use_route_task_id_route_task")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_route_use")),
        sa.UniqueConstraint(
            "route_task_id", "consumable_id", name=op.f("uq_route_use_route_task_id_consumable_id")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "safety_check",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("lid_count", sa.Integer(), nullable=False),
        sa.Column("list", sa.Text(), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("screws", sa.Integer(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.CheckConstraint("(item = 'without') = (reason IS NOT NULL)", name=op.f("ck_safety_check_without")),
        sa.CheckConstraint("list IN ('opening', 'close_up')", name=op.f("ck_safety_check_list")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_safety_check_person_id_person")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_safety_check_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_safety_check")),
        sa.UniqueConstraint(
            "unit_id", "lid_count", "list", "item", name=op.f("uq_safety_check_unit_id_lid_count_list_item")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "task",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("stage_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("estimate_minutes", sa.Integer(), nullable=False),
        sa.Column("unattended", sa.Integer(), nullable=False),
        sa.Column("lid_off", sa.Integer(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("ended_us", sa.Integer(), nullable=True),
        sa.Column("skip_reason", sa.Text(), nullable=True),
        sa.Column("route_task_id", sa.Integer(), nullable=True),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("(state = 'skipped') = (skip_reason IS NOT NULL)", name=op.f("ck_task_skipped")),
        sa.CheckConstraint("(state = 'todo') = (ended_us IS NULL)", name=op.f("ck_task_ended")),
        sa.CheckConstraint("state IN ('todo', 'done', 'skipped')", name=op.f("ck_task_state")),
        sa.CheckConstraint("estimate_minutes > 0", name=op.f("ck_task_estimate")),
        sa.CheckConstraint("lid_off IN (0, 1)", name=op.f("ck_task_lid_off")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_task_removed")),
        sa.CheckConstraint("unattended IN (0, 1)", name=op.f("ck_task_unattended")),
        sa.ForeignKeyConstraint(
            ["route_task_id"], ["route_task.id"], name=op.f("fk_task_route_task_id_route_task")
        ),
        sa.ForeignKeyConstraint(["stage_id"], ["stage.id"], name=op.f("fk_task_stage_id_stage")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_task_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_task")),
        sqlite_strict=True,
    )
    op.create_table(
        "movement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("consumable_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("cost_minor", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("layer_id", sa.Integer(), nullable=True),
        sa.Column("task_id", sa.Integer(), nullable=True),
        sa.Column("reverses_id", sa.Integer(), nullable=True),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("expires_on", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.CheckConstraint(
            "(kind = 'reversal') = (reverses_id IS NOT NULL)", name=op.f("ck_movement_reversal")
        ),
        sa.CheckConstraint(
            "kind <> 'count' OR (quantity > 0) = (layer_id IS NULL)", name=op.f("ck_movement_count")
        ),
        sa.CheckConstraint(
            "kind <> 'issue' OR (quantity < 0 AND layer_id IS NOT NULL AND task_id IS NOT NULL)",
            name=op.f("ck_movement_issue"),
        ),
        sa.CheckConstraint(
            "kind <> 'receipt' OR (quantity > 0 AND layer_id IS NULL)", name=op.f("ck_movement_receipt")
        ),
        sa.CheckConstraint(
            "kind IN ('receipt', 'issue', 'count', 'reversal')", name=op.f("ck_movement_kind")
        ),
        sa.CheckConstraint(
            "cost_minor = 0 OR (cost_minor > 0) = (quantity > 0)", name=op.f("ck_movement_sign")
        ),
        sa.CheckConstraint("quantity <> 0", name=op.f("ck_movement_quantity")),
        sa.ForeignKeyConstraint(
            ["consumable_id"], ["consumable.id"], name=op.f("fk_movement_consumable_id_consumable")
        ),
        sa.ForeignKeyConstraint(["layer_id"], ["movement.id"], name=op.f("fk_movement_layer_id_movement")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_movement_person_id_person")),
        sa.ForeignKeyConstraint(
            ["reverses_id"], ["movement.id"], name=op.f("fk_movement_reverses_id_movement")
        ),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_movement_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_movement")),
        sqlite_strict=True,
    )
    op.create_table(
        "task_use",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=False),
        sa.Column("consumable_id", sa.Integer(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_task_use_quantity")),
        sa.ForeignKeyConstraint(
            ["consumable_id"], ["consumable.id"], name=op.f("fk_task_use_consumable_id_consumable")
        ),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_task_use_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_task_use")),
        sa.UniqueConstraint("task_id", "consumable_id", name=op.f("uq_task_use_task_id_consumable_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "time_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("task_id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("started_us", sa.Integer(), nullable=False),
        sa.Column("stopped_us", sa.Integer(), nullable=True),
        sa.Column("attended", sa.Integer(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("kept_us", sa.Integer(), nullable=True),
        sa.CheckConstraint("attended IN (0, 1)", name=op.f("ck_time_entry_attended")),
        sa.CheckConstraint(
            "stopped_us IS NULL OR stopped_us >= started_us", name=op.f("ck_time_entry_length")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_time_entry_person_id_person")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_time_entry_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_time_entry")),
        sqlite_strict=True,
    )
    op.create_table(
        "correction",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("time_entry_id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("old_started_us", sa.Integer(), nullable=False),
        sa.Column("old_stopped_us", sa.Integer(), nullable=True),
        sa.Column("new_started_us", sa.Integer(), nullable=False),
        sa.Column("new_stopped_us", sa.Integer(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_correction_person_id_person")),
        sa.ForeignKeyConstraint(
            ["time_entry_id"], ["time_entry.id"], name=op.f("fk_correction_time_entry_id_time_entry")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_correction")),
        sqlite_strict=True,
    )
    for index in INDEXES:
        op.execute(index)
    for rule in RULES:
        op.execute(rule)
