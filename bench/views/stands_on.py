"""What stands on a change although no reference shows it: one text a rule, each finds a later row or line.

`:line` is the line to be undone and `:first` what it did first; `:ids`, the rows it changed in the rule's
table, and `:units`, those they belong to, are JSON lists. A rule answers `table_name` and `row_id`; of table
journal it answers a line itself.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from bench.views.binder import Query
from bench.views.stock import NOT_REVERSED
from bench.views.undo import LINE_STANDS, TOUCHED_LATER, Later

_PIECES = {
    "ids": "(SELECT value FROM json_each(:ids))",
    "units": "(SELECT value FROM json_each(:units))",
    "line stands": LINE_STANDS,
    "listed": "stage.final = 0 AND stage.position >= (SELECT MIN(position) FROM stage WHERE lists = 1 "
    "AND removed = 0)",
    "not reversed": f"movement.kind <> 'reversal' AND {NOT_REVERSED}",
}


def _text(text: str, **pieces: str) -> str:
    """A text with its pieces put in; `{later sale}`: a later line that stands touched the sale."""
    for name, piece in {**pieces, **_PIECES}.items():
        text = text.replace(f"{{{name}}}", piece)
    return re.sub(r"\{later (\w+)\}", _touched_later, text)


def _touched_later(found: re.Match[str]) -> str:
    return TOUCHED_LATER.replace("{table}", found[1]).replace("{row}", found[1])


def _line_that_set(table: str, column: str, rows: str) -> str:
    """The newest later line that stands and changed that column of one of these rows."""
    return _text(_LINE_THAT_SET, table=table, column=column, rows=rows)


_LINE_THAT_SET = """
SELECT 'journal' AS table_name, line.id AS row_id FROM journal_row AS row
JOIN journal AS line ON line.id = row.journal_id CROSS JOIN json_each(line.changes) AS change
WHERE row.table_name = '{table}' AND row.row_id IN {rows} AND row.journal_id > :line
AND json_extract(change.value, '$.table') = '{table}' AND json_extract(change.value, '$.id') = row.row_id
AND json_type(change.value, '$.before') = 'object' AND json_type(change.value, '$.after.{column}') IS NOT NULL
AND {line stands} ORDER BY line.id DESC LIMIT 1
"""

_SALE = """
SELECT 'sale' AS table_name, sale.id AS row_id FROM sale
WHERE sale.unit_id IN {units} AND sale.removed = 0 {but} AND {later sale} ORDER BY sale.id DESC LIMIT 1
"""
_SOLD_SINCE = _text(_SALE, but="")
_SOLD_AGAIN = _text(_SALE, but="AND sale.id NOT IN {ids}")

_LEFT_SINCE = _text("""
SELECT 'way_out' AS table_name, way_out.id AS row_id FROM way_out
WHERE way_out.unit_id IN {units} AND way_out.removed = 0 AND way_out.ended_us IS NULL
AND {later way_out} LIMIT 1
""")

_RETURNED = _text("""
SELECT 'comeback' AS table_name, comeback.id AS row_id
FROM comeback JOIN sale ON sale.id = comeback.sale_id
WHERE sale.unit_id IN {units} AND comeback.removed = 0 AND {later comeback} LIMIT 1
""")

# What is somebody else's is not bought, nor has it a price.
_BOUGHT_SINCE = _text("""
SELECT 'purchase' AS table_name, purchase.id AS row_id FROM purchase
WHERE purchase.unit_id IN {units} AND {later purchase} LIMIT 1
""")
_PRICED_SINCE = _line_that_set("unit", "price_minor", "{units}")

_TICKED = _text("""
SELECT 'safety_check' AS table_name, safety_check.id AS row_id FROM safety_check
WHERE safety_check.unit_id IN {units} AND {later safety_check} ORDER BY safety_check.id DESC LIMIT 1
""")

_TIMED = """
SELECT 'time_entry' AS table_name, time_entry.id AS row_id
FROM task JOIN time_entry ON time_entry.task_id = task.id
WHERE {which} AND {later time_entry} ORDER BY time_entry.id DESC LIMIT 1
"""
_TIMED_AT_ALL = _text(_TIMED, which="task.unit_id IN {units}")
_TIMED_COVER_OFF = _text(_TIMED, which="task.unit_id IN {units} AND task.lid_off = 1")
_TIMED_IN_WAITING_PERIOD = _text(
    _TIMED, which="task.unit_id IN {units} AND (SELECT hold_days FROM trade) > 0"
)
_TIMED_ON_TASK = _text(_TIMED, which="task.id IN {ids}")

_DONE_COVER_OFF = _line_that_set(
    "task", "state", "(SELECT id FROM task WHERE lid_off = 1 AND unit_id IN {units})"
)
_COVER_ON_OR_OFF = _line_that_set("unit", "lid_count", "{units}")

_MOVES = """
SELECT 'stage_move' AS table_name, stage_move.id AS row_id FROM stage_move
WHERE stage_move.unit_id IN {which} AND {later stage_move} ORDER BY stage_move.id DESC LIMIT 1
"""
_MOVED = _text(_MOVES, which="{units}")
_HELD_OR_RELEASED = _line_that_set("unit", "held_reason", "{units}")

# A unit was listed on what was said of its drives and tests, although it was taken down again. (While it is
# listed, the gates say more.)
_LISTED_SINCE = _text("""
SELECT 'stage_move' AS table_name, stage_move.id AS row_id FROM stage_move
JOIN stage ON stage.id = stage_move.to_stage_id
JOIN unit ON unit.id = stage_move.unit_id JOIN stage AS here ON here.id = unit.stage_id
WHERE stage_move.unit_id IN {units} AND stage_move.removed = 0 AND {listed}
AND here.position < (SELECT MIN(position) FROM stage WHERE lists = 1 AND removed = 0)
AND {later stage_move} ORDER BY stage_move.id DESC LIMIT 1
""")
# A unit that was listed waits for what turned out about it: for a wipe, or a test that failed.
_WAITS = _line_that_set(
    "unit",
    "held_reason",
    "(SELECT id FROM unit WHERE id IN {units} AND (held_reason = 'a drive in it has no passed wipe'"
    " OR held_reason LIKE '% failed'))",
).replace("ORDER BY line.id", "AND line.action <> 'hold' ORDER BY line.id")
# It does not wait again where its listing was undone since, nor go on where a test failed while it waited.
_LISTING_UNDONE = _text("""
SELECT 'journal' AS table_name, later.journal_id AS row_id FROM stage_move
JOIN stage ON stage.id = stage_move.to_stage_id
JOIN journal_row AS later ON later.table_name = 'stage_move' AND later.row_id = stage_move.id
WHERE stage_move.unit_id IN {units} AND stage_move.removed = 1 AND {listed} AND later.journal_id > :line
AND EXISTS (SELECT 1 FROM journal_row AS earlier WHERE earlier.table_name = 'stage_move'
            AND earlier.row_id = stage_move.id AND earlier.journal_id < :line)
AND EXISTS (SELECT 1 FROM journal AS own, json_each(own.changes) AS change WHERE own.id = :line
            AND (json_extract(change.value, '$.before.held_reason') = 'a drive in it has no passed wipe'
                 OR json_extract(change.value, '$.before.held_reason') LIKE '% failed'))
ORDER BY later.journal_id DESC LIMIT 1
""")
_FAILED_WHILE_LISTED = _text("""
SELECT 'test_run' AS table_name, test_run.id AS row_id FROM test_run
WHERE test_run.unit_id IN {units} AND test_run.outcome = 'failed' AND test_run.removed = 0
AND EXISTS (SELECT 1 FROM stage_move JOIN stage ON stage.id = stage_move.to_stage_id
            WHERE stage_move.unit_id = test_run.unit_id AND stage_move.removed = 0 AND {listed})
AND {later test_run} ORDER BY test_run.id DESC LIMIT 1
""")

# Work since a unit came back from where units leave: it would have been done on a unit that was not there. A
# move that is undone leads back to where it began.
_CAME_BACK = """EXISTS (
    SELECT 1 FROM stage_move AS own
    JOIN stage ON stage.id = CASE own.removed WHEN 0 THEN own.from_stage_id ELSE own.to_stage_id END
    JOIN journal_row AS told ON told.table_name = 'stage_move' AND told.row_id = own.id
    WHERE own.unit_id IN {units} AND told.journal_id = :line AND stage.final = 1)"""
_TIMED_SINCE_BACK = _text(_TIMED, which="task.unit_id IN {units} AND {back}", back=_CAME_BACK)
_PARTS = """
SELECT 'part' AS table_name, part.id AS row_id FROM part
WHERE (part.from_unit_id IN {units} OR part.to_unit_id IN {units}) AND part.removed = 0
AND {and} AND {later part} ORDER BY part.id DESC LIMIT 1
"""
_PARTS_AT_ALL = _text(_PARTS, **{"and": "1"})
_PARTS_SINCE_BACK = _text(_PARTS, **{"and": _CAME_BACK})
_LOOKED_OVER_SINCE_BACK = _text(
    """
SELECT 'journal' AS table_name, line.id AS row_id FROM journal AS line, json_each(line.changes) AS change
WHERE line.unit_id IN {units} AND line.id > :line AND {back} AND (json_extract(change.value, '$.table')
    IN ('reading', 'grade', 'specification', 'safety_check', 'drive', 'wipe', 'unwiped', 'test_run')
    OR (json_extract(change.value, '$.table') IN ('parts_order', 'repair_job')
        AND json_extract(change.value, '$.before') IS NULL))
AND {line stands} ORDER BY line.id DESC LIMIT 1
""",
    back=_CAME_BACK,
)
_WIPED_AT_ALL = _text("""
SELECT 'wipe' AS table_name, wipe.id AS row_id FROM wipe JOIN drive ON drive.id = wipe.drive_id
WHERE drive.unit_id IN {units} AND {later wipe} ORDER BY wipe.id DESC LIMIT 1
""")
_TESTED_AT_ALL = _text("""
SELECT 'test_run' AS table_name, test_run.id AS row_id FROM test_run
WHERE test_run.unit_id IN {units} AND {later test_run} ORDER BY test_run.id DESC LIMIT 1
""")
_DONE_AT_ALL = _line_that_set("task", "state", "(SELECT id FROM task WHERE unit_id IN {units})")

# Work on a task that waited for an order began once that was here.
_WAITED = "(SELECT task_id FROM task_wait WHERE order_id IN {ids} AND removed = 0 AND waived = '')"
_TIMED_ONCE_HERE = _text(_TIMED, which=f"task.id IN {_WAITED}")
_DONE_ONCE_HERE = _line_that_set("task", "state", _WAITED)

# A task is open again, but its unit was moved past the task's stage since.
_MOVED_PAST = _text(
    _MOVES,
    which="""(SELECT unit.id FROM task JOIN unit ON unit.id = task.unit_id
    JOIN stage AS own ON own.id = task.stage_id JOIN stage AS here ON here.id = unit.stage_id
    WHERE task.id IN {ids} AND here.position > own.position)""",
)

_STAGE_GONE = _text("""
SELECT 'stage' AS table_name, stage.id AS row_id FROM task JOIN stage ON stage.id = task.stage_id
WHERE task.id IN {ids} AND stage.removed = 1 LIMIT 1
""")

_ISSUED_FOR_TASK = _text("""
SELECT 'movement' AS table_name, movement.id AS row_id FROM movement
WHERE movement.task_id IN {ids} AND {not reversed} AND {later movement} LIMIT 1
""")

_PART_WENT_ON = _text("""
SELECT 'part' AS table_name, part.id AS row_id FROM part AS own
JOIN part ON part.from_unit_id = own.to_unit_id AND part.id <> own.id
WHERE own.id IN {ids} AND part.removed = 0 AND {later part}
AND (part.name = own.name COLLATE NOCASE OR (own.serial <> '' AND part.serial = own.serial)
     OR part.drive_id = own.drive_id) LIMIT 1
""")

# The part moved on, or left the shop, or its refund was credited where it was.
_PART_GONE = _text("""
SELECT 'component' AS table_name, component.id AS row_id FROM part AS own
JOIN component ON component.id = own.component_id AND component.gone <> ''
WHERE own.id IN {ids} AND {later component} LIMIT 1
""")
_PART_MOVED_ON = _text("""
SELECT 'part' AS table_name, part.id AS row_id FROM part AS own
JOIN part ON part.component_id = own.component_id AND part.id > own.id
WHERE own.id IN {ids} AND part.removed = 0 AND {later part} LIMIT 1
""")
_PART_REFUNDED = _text("""
SELECT 'parts_order' AS table_name, parts_order.id AS row_id FROM part AS own
JOIN parts_order ON parts_order.component_id = own.component_id AND parts_order.state = 'refunded'
WHERE own.id IN {ids} AND {later parts_order} LIMIT 1
""")

_WIPED = _text("""
SELECT 'wipe' AS table_name, wipe.id AS row_id FROM wipe
WHERE wipe.drive_id IN {ids} AND wipe.removed = 0 AND {later wipe} ORDER BY wipe.id DESC LIMIT 1
""")

# What was said of a unit without a drive is not true again where one came into it since.
_DRIVE_CAME_SINCE = _text("""
SELECT 'journal' AS table_name, line.id AS row_id FROM journal_row AS row
JOIN journal AS line ON line.id = row.journal_id CROSS JOIN json_each(line.changes) AS change
WHERE row.table_name = 'drive' AND row.journal_id > :line AND row.row_id IN (
    SELECT id FROM drive WHERE unit_id IN {units} UNION
    SELECT drive_id FROM part WHERE to_unit_id IN {units} UNION
    SELECT drive_id FROM part WHERE from_unit_id IN {units})
AND json_extract(change.value, '$.table') = 'drive'
AND json_extract(change.value, '$.after.unit_id') IN {units}
AND {line stands} ORDER BY line.id DESC LIMIT 1
""")

# A reason was typed of the drives that were there, or someone looked and saw none; it was so also where
# another drive came since and ended what was said.
_REASONED = _text("""
SELECT 'unwiped' AS table_name, unwiped.id AS row_id FROM unwiped
WHERE unwiped.unit_id IN {units} AND {later unwiped} ORDER BY unwiped.id DESC LIMIT 1
""")

_GRADED_ANEW = _text("""
SELECT 'grade' AS table_name, grade.id AS row_id FROM grade AS own
JOIN grade ON grade.unit_id = own.unit_id AND grade.part = own.part AND grade.id <> own.id
WHERE own.id IN {ids} AND grade.removed = 0 AND {later grade} LIMIT 1
""")

_DRAWN = _text("""
SELECT 'movement' AS table_name, movement.id AS row_id FROM movement
WHERE movement.layer_id IN {ids} AND {not reversed} AND {later movement} ORDER BY movement.id DESC LIMIT 1
""")

# A later specification says for what its own source left open what this one said.
_SPECIFIED_SINCE = _text("""
SELECT 'specification' AS table_name, specification.id AS row_id FROM specification
WHERE specification.unit_id IN {units} AND specification.id NOT IN {ids} AND specification.removed = 0
AND {later specification} ORDER BY specification.id DESC LIMIT 1
""")

# A count is of what lay there then, with all that was booked before it; one that agreed made no movement.
_COUNTED = _text("""
SELECT 'movement' AS table_name, movement.id AS row_id FROM movement INDEXED BY ix_movement_count
WHERE movement.consumable_id IN (SELECT consumable_id FROM movement AS own WHERE own.id IN {ids})
AND movement.kind = 'count' AND {not reversed} AND {later movement} ORDER BY movement.id DESC LIMIT 1
""")
_COUNTED_AS_BOOKED = _text("""
SELECT 'journal' AS table_name, line.id AS row_id FROM journal_row AS row
JOIN journal AS line ON line.id = row.journal_id CROSS JOIN json_each(line.changes) AS change
WHERE row.table_name = 'consumable' AND row.journal_id > :line
AND row.row_id IN (SELECT consumable_id FROM movement AS own WHERE own.id IN {ids})
AND json_extract(change.value, '$.table') = 'consumable' AND json_extract(change.value, '$.id') = row.row_id
AND json_extract(change.value, '$.after') = '{}' AND {line stands} ORDER BY line.id DESC LIMIT 1
""")

_IN_ITS_UNIT = """
SELECT '{table}' AS table_name, {table}.id AS row_id FROM {table}
WHERE {table}.consumable_id IN {ids} {and} AND {later {table}} LIMIT 1
"""

# The lines of a quote that was answered stand, and what was added beyond it stands on the answer; one that
# was given was given with the lines that there were.
_GIVEN_SINCE = _line_that_set(
    "repair_job", "quoted_on", "(SELECT job_id FROM quote_line WHERE quote_line.id IN {ids})"
)
_ANSWERED_SINCE = _line_that_set(
    "repair_job", "answer", "(SELECT job_id FROM quote_line WHERE quote_line.id IN {ids})"
)
# It was billed by its lines and what was said to them, although the machine came in again since.
_BILLED_SINCE = _line_that_set(
    "repair_job", "collected_on", "(SELECT job_id FROM quote_line WHERE quote_line.id IN {ids})"
)
_COLLECTED_SINCE = _line_that_set("repair_job", "collected_on", "{ids}")
_ADDED_BEYOND = _text("""
SELECT 'quote_line' AS table_name, quote_line.id AS row_id FROM quote_line
WHERE quote_line.job_id IN {ids} AND quote_line.removed = 0 AND {later quote_line} LIMIT 1
""")
# Beyond a quote is what was added to one that is answered.
_ANSWER_UNDONE = _text("""
SELECT 'journal' AS table_name, line.id AS row_id FROM quote_line
JOIN repair_job ON repair_job.id = quote_line.job_id AND repair_job.answer IS NULL
JOIN journal_row AS row ON row.table_name = 'repair_job' AND row.row_id = repair_job.id
JOIN journal AS line ON line.id = row.journal_id CROSS JOIN json_each(line.changes) AS change
WHERE quote_line.id IN {ids} AND quote_line.beyond = 1 AND row.journal_id > :line
AND json_extract(change.value, '$.table') = 'repair_job'
AND json_type(change.value, '$.after.answer') = 'null'
ORDER BY line.id DESC LIMIT 1
""")
# A quote is given for its lines: with others it has to be given again.
_LINES_CHANGED = _text("""
SELECT 'quote_line' AS table_name, quote_line.id AS row_id FROM quote_line
WHERE quote_line.job_id IN {ids} AND {later quote_line} ORDER BY quote_line.id DESC LIMIT 1
""")
# One of its lines was undone since: what is undone no later line stands for.
_LINE_UNDONE = _text("""
SELECT 'quote_line' AS table_name, quote_line.id AS row_id FROM quote_line
JOIN journal_row AS row ON row.table_name = 'quote_line' AND row.row_id = quote_line.id
WHERE quote_line.job_id IN {ids} AND quote_line.removed = 1
GROUP BY quote_line.id HAVING MIN(row.journal_id) < :line AND MAX(row.journal_id) > :line LIMIT 1
""")
_IN_REPAIR = _text("""
SELECT 'repair_job' AS table_name, repair_job.id AS row_id FROM repair_job
WHERE repair_job.unit_id IN {units} AND repair_job.removed = 0 AND {later repair_job} LIMIT 1
""")

_UNIT_THERE = _text("""
SELECT 'unit' AS table_name, unit.id AS row_id FROM unit
WHERE unit.stage_id IN {ids} AND unit.removed = 0 LIMIT 1
""")


@dataclass(frozen=True, slots=True)
class Rule:
    """`columns`: the rule counts where one of them changed; None where the row changed, came or went.

    `sets`: it counts only where undo gives such a column a value again, `clears` only where it takes it away.
    """

    table: str
    columns: frozenset[str] | None
    text: str
    sets: bool = False
    clears: bool = False

    @property
    def later(self) -> Query[Later]:
        """What finds the row or line that stands on the change."""
        return Query(Later, self.text)


def _of(*columns: str) -> frozenset[str]:
    return frozenset(columns)


RULES = (
    *(
        Rule(table, columns, text)
        for text in (_SOLD_SINCE, _LEFT_SINCE)
        for table, columns in (
            *((one, None) for one in ("purchase", "part", "wipe", "reading", "grade", "specification")),
            *((one, None) for one in ("unwiped", "comeback", "fault", "test_run")),
            ("unit", _of("price_minor", "stage_id", "held_reason", "cell_finding", "lid_off", "lid_count")),
            ("drive", _of("unit_id", "removed")),
        )
    ),
    *(
        Rule("unit", _of("owner_id"), text)
        for text in (_SOLD_SINCE, _LEFT_SINCE, _BOUGHT_SINCE, _PRICED_SINCE)
    ),
    *(Rule(table, None, _LISTED_SINCE) for table in ("unwiped", "wipe", "test_run")),
    Rule("drive", _of("unit_id", "removed"), _LISTED_SINCE),
    *(Rule("parts_order", _of("state"), text) for text in (_TIMED_ONCE_HERE, _DONE_ONCE_HERE)),
    Rule("unit", _of("owner_id"), _IN_REPAIR),
    *(Rule("repair_job", _of("removed"), text) for text in (_IN_REPAIR, _LEFT_SINCE)),
    *(
        Rule("quote_line", None, text)
        for text in (_GIVEN_SINCE, _ANSWERED_SINCE, _BILLED_SINCE, _LEFT_SINCE, _ANSWER_UNDONE)
    ),
    *(
        Rule("repair_job", _of("answer", "quoted_on"), text)
        for text in (_ADDED_BEYOND, _COLLECTED_SINCE, _LEFT_SINCE)
    ),
    *(Rule("repair_job", _of("quoted_on"), text, sets=True) for text in (_LINES_CHANGED, _LINE_UNDONE)),
    Rule("sale", None, _SOLD_AGAIN),
    *(
        Rule("unit", _of("stage_id"), text)
        for text in (_RETURNED, _TIMED_SINCE_BACK, _PARTS_SINCE_BACK, _LOOKED_OVER_SINCE_BACK, _WAITS)
    ),
    *(
        Rule("safety_check", None, text)
        for text in (_TICKED, _TIMED_COVER_OFF, _DONE_COVER_OFF, _COVER_ON_OR_OFF)
    ),
    *(Rule("unit", _of("lid_off", "lid_count"), text) for text in (_TICKED, _TIMED_COVER_OFF)),
    *(Rule("unit", _of("held_reason", "cell_finding"), text, sets=True) for text in (_TIMED_AT_ALL, _MOVED)),
    Rule("unit", _of("held_reason"), _LISTING_UNDONE, sets=True),
    Rule("unit", _of("held_reason"), _FAILED_WHILE_LISTED, clears=True),
    *(
        Rule("unit", _of("cell_finding"), text, sets=True)
        for text in (_PARTS_AT_ALL, _WIPED_AT_ALL, _TESTED_AT_ALL, _DONE_AT_ALL, _HELD_OR_RELEASED)
    ),
    *(Rule("task", _of("ended_us"), text, sets=True) for text in (_TIMED_ON_TASK, _ISSUED_FOR_TASK)),
    *(Rule("task", _of("ended_us"), text, clears=True) for text in (_MOVED_PAST, _STAGE_GONE)),
    *(Rule("part", None, text) for text in (_PART_WENT_ON, _PART_MOVED_ON, _PART_GONE, _PART_REFUNDED)),
    *(
        Rule(table, _of(column), text)
        for text in (_SOLD_SINCE, _LEFT_SINCE)
        for table, column in (("parts_order", "refund_minor"), ("component", "bears_unit_id"))
    ),
    Rule("drive", _of("maker", "model", "serial", "media_type", "media_number"), _WIPED),
    Rule("drive", _of("removed", "unit_id"), _REASONED),
    Rule("unwiped", _of("removed"), _DRIVE_CAME_SINCE),
    Rule("grade", None, _GRADED_ANEW),
    Rule("specification", None, _SPECIFIED_SINCE),
    *(Rule("movement", None, text) for text in (_DRAWN, _COUNTED, _COUNTED_AS_BOOKED)),
    Rule(
        "consumable",
        _of("base_unit"),
        _text(_IN_ITS_UNIT, **{"table": "movement", "and": "AND {not reversed}"}),
    ),
    *(
        Rule("consumable", _of("base_unit"), _text(_IN_ITS_UNIT, **{"table": table, "and": ""}))
        for table in ("task_use", "route_use")
    ),
    Rule("stage", _of("lid_off", "final", "lists", "sells"), _UNIT_THERE),
    Rule("purchase", _of("bought_on"), _TIMED_IN_WAITING_PERIOD),
)
