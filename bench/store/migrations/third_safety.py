"""Third revision, safety: which stage lists and sells, which task opens the machine, what a task's hazard is.

What the names of stages and tasks meant to the program until now becomes a flag of their own.
"""

_FLAG = "INTEGER NOT NULL DEFAULT 0 CONSTRAINT ck_{table}_{column} CHECK ({column} IN (0, 1))"
_HAZARD = (
    "TEXT NOT NULL DEFAULT '' CONSTRAINT ck_{table}_hazard "
    "CHECK (hazard IN ('', 'solvent', 'hot_air', 'mains', 'glued_cell'))"
)

# The words by which the program chose its cautions until now, in the order in which they counted.
_SIGNS = """UPDATE {table} SET hazard = CASE
    WHEN name LIKE '%charger%' OR name LIKE '%adapter%' OR name LIKE '%mains%' THEN 'mains'
    WHEN name LIKE '%heat-shrink%' OR name LIKE '%tubing%' OR name LIKE '%hot air%' THEN 'hot_air'
    WHEN name LIKE '%glued%' OR name LIKE '%battery pack%' OR name LIKE '%replace battery%'
        THEN 'glued_cell'
    WHEN name LIKE '%isopropyl%' OR name LIKE '%solvent%' OR name LIKE '%clean%'
        OR name LIKE '%wipe down%' OR name LIKE '%paste%' THEN 'solvent'
    ELSE '' END"""


def _flag(table: str, column: str) -> str:
    return f"ALTER TABLE {table} ADD COLUMN {column} " + _FLAG.format(table=table, column=column)


def _hazard(table: str) -> tuple[str, str]:
    add = f"ALTER TABLE {table} ADD COLUMN hazard " + _HAZARD.format(table=table)
    return add, _SIGNS.format(table=table)


STATEMENTS = (
    _flag("stage", "lists"),
    _flag("stage", "sells"),
    "UPDATE stage SET sells = 1 WHERE final = 1",
    "UPDATE stage SET lists = 1 WHERE lower(name) = 'listed' AND removed = 0",
    """UPDATE stage SET lists = 1 WHERE NOT EXISTS (SELECT 1 FROM stage WHERE lists = 1)
    AND id = (SELECT id FROM stage WHERE removed = 0 AND final = 0
              ORDER BY position DESC, id DESC LIMIT 1)""",
    _flag("task", "opens"),
    _flag("route_task", "opens"),
    # The starting routes' own task for it took the cover off without saying so.
    """UPDATE route_task SET opens = 1, lid_off = 1
    WHERE name = 'open the lid, disconnect the battery'""",
    """UPDATE task SET opens = 1, lid_off = 1
    WHERE name = 'open the lid, disconnect the battery' AND state = 'todo'
    AND id NOT IN (SELECT task_id FROM time_entry)""",
    *_hazard("task"),
    *_hazard("route_task"),
)
