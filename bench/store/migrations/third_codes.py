"""Third revision, codes: what a scanner reads off a consumable's pack."""

STATEMENTS = ("ALTER TABLE consumable ADD COLUMN code TEXT DEFAULT '' NOT NULL",)
