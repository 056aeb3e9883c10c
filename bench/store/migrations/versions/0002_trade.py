"""Second revision: buying, condition, selling. New tables only, so an older file's rows stay as they are."""

import sqlalchemy as sa
from alembic import op

from bench.store.migrations.second_rows import ROWS

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.create_table(
        "channel",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("fee_per_10000", sa.Integer(), nullable=False),
        sa.Column("fee_fixed_minor", sa.Integer(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("fee_fixed_minor >= 0", name=op.f("ck_channel_fixed")),
        sa.CheckConstraint("fee_per_10000 BETWEEN 0 AND 10000", name=op.f("ck_channel_share")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_channel_removed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_channel")),
        sqlite_strict=True,
    )
    op.create_index("uq_channel_name", "channel", ["name"], unique=True, sqlite_where=sa.text("removed = 0"))
    op.create_table(
        "grade_step",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("side", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("meaning", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("side IN ('function', 'looks')", name=op.f("ck_grade_step_side")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_grade_step_removed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_grade_step")),
        sqlite_strict=True,
    )
    op.create_table(
        "party",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("contact", sa.Text(), nullable=False),
        sa.Column("identity_seen", sa.Text(), nullable=False),
        sa.Column("private", sa.Integer(), nullable=False),
        sa.Column("erased_us", sa.Integer(), nullable=True),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("private IN (0, 1)", name=op.f("ck_party_private")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_party_removed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_party")),
        sqlite_strict=True,
    )
    op.create_table(
        "trade",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("margin_scheme", sa.Integer(), nullable=False),
        sa.Column("margin_tax_per_10000", sa.Integer(), nullable=False),
        sa.Column("hold_days", sa.Integer(), nullable=False),
        sa.Column("keep_private_years", sa.Integer(), nullable=False),
        sa.Column("risk_reserve_per_10000", sa.Integer(), nullable=False),
        sa.Column("wanted_margin_minor", sa.Integer(), nullable=False),
        sa.Column("warranty_days", sa.Integer(), nullable=False),
        sa.CheckConstraint("hold_days BETWEEN 0 AND 365", name=op.f("ck_trade_hold_days")),
        sa.CheckConstraint("id = 1", name=op.f("ck_trade_one_row")),
        sa.CheckConstraint("keep_private_years BETWEEN 0 AND 100", name=op.f("ck_trade_keep_private")),
        sa.CheckConstraint("margin_scheme IN (0, 1)", name=op.f("ck_trade_margin_scheme")),
        sa.CheckConstraint("margin_tax_per_10000 BETWEEN 0 AND 10000", name=op.f("ck_trade_margin_tax")),
        sa.CheckConstraint("risk_reserve_per_10000 BETWEEN 0 AND 10000", name=op.f("ck_trade_risk_reserve")),
        sa.CheckConstraint("wanted_margin_minor >= 0", name=op.f("ck_trade_wanted_margin")),
        sa.CheckConstraint("warranty_days BETWEEN 0 AND 3650", name=op.f("ck_trade_warranty_days")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trade")),
        sqlite_strict=True,
    )
    op.create_table(
        "lot",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("bought_on", sa.Text(), nullable=False),
        sa.Column("party_id", sa.Integer(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("price_minor >= 0", name=op.f("ck_lot_price")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_lot_removed")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_lot_party_id_party")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot")),
        sqlite_strict=True,
    )
    op.create_table(
        "drive",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=True),
        sa.Column("maker", sa.Text(), nullable=False),
        sa.Column("model", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.Column("media_number", sa.Text(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=True),
        sa.Column("came_from", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_drive_removed")),
        sa.CheckConstraint("size_bytes IS NULL OR size_bytes > 0", name=op.f("ck_drive_size")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_drive_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_drive")),
        sqlite_strict=True,
    )
    op.create_index("ix_drive_unit_id", "drive", ["unit_id"], unique=False)
    op.create_table(
        "grade",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("part", sa.Text(), nullable=False),
        sa.Column("function_step_id", sa.Integer(), nullable=True),
        sa.Column("looks_step_id", sa.Integer(), nullable=True),
        sa.Column("sentence", sa.Text(), nullable=False),
        sa.Column("tested", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "part IN ('whole', 'lid', 'screen', 'keyboard', 'case', 'battery', 'ports')",
            name=op.f("ck_grade_part"),
        ),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_grade_removed")),
        sa.CheckConstraint("tested IN (0, 1)", name=op.f("ck_grade_tested")),
        sa.ForeignKeyConstraint(
            ["function_step_id"], ["grade_step.id"], name=op.f("fk_grade_function_step_id_grade_step")
        ),
        sa.ForeignKeyConstraint(
            ["looks_step_id"], ["grade_step.id"], name=op.f("fk_grade_looks_step_id_grade_step")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_grade_person_id_person")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_grade_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_grade")),
        sqlite_strict=True,
    )
    op.create_index("ix_grade_unit_id", "grade", ["unit_id"], unique=False)
    op.create_table(
        "offer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("maker", sa.Text(), nullable=False),
        sa.Column("model", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("route_id", sa.Integer(), nullable=True),
        sa.Column("channel_id", sa.Integer(), nullable=True),
        sa.Column("party_id", sa.Integer(), nullable=True),
        sa.Column("asking_minor", sa.Integer(), nullable=True),
        sa.Column("expected_minor", sa.Integer(), nullable=False),
        sa.Column("parts_minor", sa.Integer(), nullable=False),
        sa.Column("findings", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=True),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("state IN ('open', 'bought', 'left')", name=op.f("ck_offer_state")),
        sa.CheckConstraint("asking_minor IS NULL OR asking_minor >= 0", name=op.f("ck_offer_asking")),
        sa.CheckConstraint("expected_minor >= 0", name=op.f("ck_offer_expected")),
        sa.CheckConstraint("json_valid(findings)", name=op.f("ck_offer_findings")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_offer_removed")),
        sa.ForeignKeyConstraint(["channel_id"], ["channel.id"], name=op.f("fk_offer_channel_id_channel")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_offer_party_id_party")),
        sa.ForeignKeyConstraint(["route_id"], ["route.id"], name=op.f("fk_offer_route_id_route")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_offer_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_offer")),
        sqlite_strict=True,
    )
    op.create_table(
        "purchase",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=True),
        sa.Column("party_id", sa.Integer(), nullable=True),
        sa.Column("bought_on", sa.Text(), nullable=True),
        sa.Column("invoice", sa.Text(), nullable=False),
        sa.Column("expected_minor", sa.Integer(), nullable=True),
        sa.Column("donor", sa.Integer(), nullable=False),
        sa.CheckConstraint("donor IN (0, 1)", name=op.f("ck_purchase_donor")),
        sa.CheckConstraint(
            "expected_minor IS NULL OR expected_minor >= 0", name=op.f("ck_purchase_expected")
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_purchase_lot_id_lot")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_purchase_party_id_party")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_purchase_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_purchase")),
        sqlite_strict=True,
    )
    op.create_index("ix_purchase_lot_id", "purchase", ["lot_id"], unique=False)
    op.create_index("uq_purchase_unit_id", "purchase", ["unit_id"], unique=True)
    op.create_table(
        "sale",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("party_id", sa.Integer(), nullable=True),
        sa.Column("channel_id", sa.Integer(), nullable=True),
        sa.Column("sold_on", sa.Text(), nullable=False),
        sa.Column("sold_us", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("price_minor", sa.Integer(), nullable=False),
        sa.Column("fee_minor", sa.Integer(), nullable=False),
        sa.Column("shipping_minor", sa.Integer(), nullable=False),
        sa.Column("tax_minor", sa.Integer(), nullable=False),
        sa.Column("invoice", sa.Text(), nullable=False),
        sa.Column("warranty_until", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "fee_minor >= 0 AND shipping_minor >= 0 AND tax_minor >= 0", name=op.f("ck_sale_fees")
        ),
        sa.CheckConstraint("price_minor >= 0", name=op.f("ck_sale_price")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_sale_removed")),
        sa.ForeignKeyConstraint(["channel_id"], ["channel.id"], name=op.f("fk_sale_channel_id_channel")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_sale_party_id_party")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_sale_person_id_person")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_sale_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sale")),
        sqlite_strict=True,
    )
    op.create_index("ix_sale_sold_on", "sale", ["sold_on"], unique=False)
    op.create_index("ix_sale_unit_id", "sale", ["unit_id"], unique=False)
    op.create_table(
        "unwiped",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_unwiped_removed")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_unwiped_person_id_person")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_unwiped_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_unwiped")),
        sqlite_strict=True,
    )
    op.create_index("ix_unwiped_unit_id", "unwiped", ["unit_id"], unique=False)
    op.create_table(
        "comeback",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sale_id", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("refund_minor", sa.Integer(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("refund_minor >= 0", name=op.f("ck_comeback_refund")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_comeback_removed")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_comeback_person_id_person")),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_comeback_sale_id_sale")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_comeback")),
        sqlite_strict=True,
    )
    op.create_index("ix_comeback_sale_id", "comeback", ["sale_id"], unique=False)
    op.create_table(
        "part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("from_unit_id", sa.Integer(), nullable=True),
        sa.Column("to_unit_id", sa.Integer(), nullable=True),
        sa.Column("cost_minor", sa.Integer(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("drive_id", sa.Integer(), nullable=True),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("cost_minor >= 0", name=op.f("ck_part_cost")),
        sa.CheckConstraint("from_unit_id IS NOT NULL OR to_unit_id IS NOT NULL", name=op.f("ck_part_ends")),
        sa.CheckConstraint(
            "from_unit_id IS NULL OR to_unit_id IS NULL OR from_unit_id <> to_unit_id",
            name=op.f("ck_part_two_units"),
        ),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_part_removed")),
        sa.ForeignKeyConstraint(["drive_id"], ["drive.id"], name=op.f("fk_part_drive_id_drive")),
        sa.ForeignKeyConstraint(["from_unit_id"], ["unit.id"], name=op.f("fk_part_from_unit_id_unit")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_part_person_id_person")),
        sa.ForeignKeyConstraint(["to_unit_id"], ["unit.id"], name=op.f("fk_part_to_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
        sqlite_strict=True,
    )
    op.create_index("ix_part_from_unit_id", "part", ["from_unit_id"], unique=False)
    op.create_index("ix_part_to_unit_id", "part", ["to_unit_id"], unique=False)
    op.create_table(
        "reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("unit_id", sa.Integer(), nullable=False),
        sa.Column("drive_id", sa.Integer(), nullable=True),
        sa.Column("moment", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("figures", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("at_us", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint("moment IN ('before', 'after')", name=op.f("ck_reading_moment")),
        sa.CheckConstraint(
            "source IN ('typed', 'power_supply', 'nvme_log', 'smartctl')", name=op.f("ck_reading_source")
        ),
        sa.CheckConstraint(
            "subject IN ('battery', 'drive', 'memory', 'heat', 'screen', 'ports', 'keyboard', 'screws')",
            name=op.f("ck_reading_subject"),
        ),
        sa.CheckConstraint("json_valid(figures)", name=op.f("ck_reading_figures")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_reading_removed")),
        sa.ForeignKeyConstraint(["drive_id"], ["drive.id"], name=op.f("fk_reading_drive_id_drive")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_reading_person_id_person")),
        sa.ForeignKeyConstraint(["unit_id"], ["unit.id"], name=op.f("fk_reading_unit_id_unit")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
        sqlite_strict=True,
    )
    op.create_index("ix_reading_unit_id", "reading", ["unit_id"], unique=False)
    op.create_table(
        "wipe",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("drive_id", sa.Integer(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("technique", sa.Text(), nullable=False),
        sa.Column("tool", sa.Text(), nullable=False),
        sa.Column("tool_version", sa.Text(), nullable=False),
        sa.Column("confidentiality_before", sa.Text(), nullable=False),
        sa.Column("confidentiality_after", sa.Text(), nullable=False),
        sa.Column("destination", sa.Text(), nullable=False),
        sa.Column("location", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("contact", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("wiped_us", sa.Integer(), nullable=False),
        sa.Column("verification", sa.Text(), nullable=False),
        sa.Column("result", sa.Text(), nullable=False),
        sa.Column("verified_by_id", sa.Integer(), nullable=True),
        sa.Column("verified_us", sa.Integer(), nullable=True),
        sa.Column("verifier_title", sa.Text(), nullable=False),
        sa.Column("verifier_location", sa.Text(), nullable=False),
        sa.Column("verifier_contact", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("removed", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "(result = 'not verified') = (verified_us IS NULL)", name=op.f("ck_wipe_verified")
        ),
        sa.CheckConstraint("method IN ('clear', 'purge', 'destroy')", name=op.f("ck_wipe_method")),
        sa.CheckConstraint("result IN ('passed', 'failed', 'not verified')", name=op.f("ck_wipe_result")),
        sa.CheckConstraint("removed IN (0, 1)", name=op.f("ck_wipe_removed")),
        sa.ForeignKeyConstraint(["drive_id"], ["drive.id"], name=op.f("fk_wipe_drive_id_drive")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_wipe_person_id_person")),
        sa.ForeignKeyConstraint(
            ["verified_by_id"], ["person.id"], name=op.f("fk_wipe_verified_by_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wipe")),
        sqlite_strict=True,
    )
    op.create_index("ix_wipe_drive_id", "wipe", ["drive_id"], unique=False)
    op.create_index(
        "ix_journal_moves",
        "journal",
        ["at_us"],
        unique=False,
        sqlite_where=sa.text("instr(changes, '\"stage_since_us\"') > 0"),
    )
    for row in ROWS:
        op.execute(row)
