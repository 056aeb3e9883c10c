"""The texts behind finding: the names of each kind of thing, and what is told of one that was found."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from bench.views.binder import Query
from bench.views.orders import UNDER_WAY
from bench.views.parts import IS_LAST
from bench.views.standing import IN_QUEUE

UNIT, PART, DRIVE, CONSUMABLE, OFFER = "unit", "part", "drive", "consumable", "offer"
PERSON = "person"
PARTY, FAULT, MODEL, ORDER, JOB, LOT = "party", "fault", "model", "order", "repair", "lot"
PAST = "past"
SETTLED = ("arrived", "refunded", "cancelled")  # an order of which nothing is to come
NOTE = 200  # characters of a note that are looked through
ON_SHELF = "on the shelf"
UNITS_OF_ONE = 10  # units told beneath a person, the newest


@dataclass(frozen=True, slots=True)
class FoundLine:
    """Something found. `kind`: in a word; `number`: of that kind; `unit_id`, `tag`: the unit it belongs to.

    `place`: where it is or how it stands. `maker`, `model`: of a model.
    """

    kind: str
    number: int
    unit_id: int | None = None
    tag: str = ""
    name: str = ""
    place: str = ""
    maker: str = ""
    model: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """Names of a kind. `tables`: what is written there may change them. `text`: all in one row."""

    name: str
    text: str
    tables: frozenset[str]

    @property
    def present(self) -> bool:
        """Whether they are of the present, and not of what has left or is done with."""
        return not self.name.endswith(PAST)


# The names as lines of one text, and the numbers behind them: made in one step, in which other threads run.
_AS_ONE = """
SELECT group_concat(replace(replace(words, char(10), ' '), char(13), ' '), char(10)) AS words,
       group_concat(number, ' ') AS numbers
FROM ({names})
"""
_UNIT_WORDS = f"""unit.id AS number, unit.tag || ' ' || unit.maker || ' ' || unit.model || ' ' || unit.serial
       || ' ' || COALESCE(unit.held_reason, '') || ' ' || substr(unit.note, 1, {NOTE}) AS words"""
_LEFT = """stage AS standing
CROSS JOIN unit ON standing.final = 1 AND unit.stage_id = standing.id AND unit.removed = 0"""
_DRIVE_WORDS = "drive.id AS number, drive.maker || ' ' || drive.model || ' ' || drive.serial AS words"
_PART_WORDS = """part.id AS number, part.name || ' ' || component.maker_number || ' ' || part.serial || ' '
       || component.place || ' ' || part.note AS words"""
_FAULT_WORDS = """fault.id AS number, 'f' || fault.id || ' ' || fault.symptom || ' ' || fault.place || ' '
       || fault.suspected || ' ' || fault.cause || ' ' || fault.done AS words"""
_ORDER_WORDS = """id AS number, what || ' ' || maker_number || ' ' || supplier || ' '
       || substr(note, 1, {note}) AS words""".replace("{note}", str(NOTE))
_OFFER_WORDS = """id AS number, maker || ' ' || model || ' ' || serial || ' '
       || substr(note, 1, {note}) AS words""".replace("{note}", str(NOTE))
_JOB_WORDS = "id AS number, complaint || ' ' || diagnosis AS words"
_OF_PARTS = "part CROSS JOIN component ON component.id = part.component_id"
_NAME = "TRIM(unit.maker || ' ' || unit.model) AS name"
_TAG = "COALESCE(unit.tag, '') AS tag"
_NO_UNIT = "NULL AS unit_id, '' AS tag"
_NO_MODEL = "'' AS maker, '' AS model"
_PIECES = {
    "unit_words": _UNIT_WORDS,
    "left": _LEFT,
    "drive_words": _DRIVE_WORDS,
    "part_words": _PART_WORDS,
    "fault_words": _FAULT_WORDS,
    "order_words": _ORDER_WORDS,
    "offer_words": _OFFER_WORDS,
    "job_words": _JOB_WORDS,
    "of_parts": _OF_PARTS,
    "in_queue": IN_QUEUE,
    "is_last": IS_LAST,
    "under_way": UNDER_WAY,
    "name": _NAME,
    "tag": _TAG,
    "no_unit": _NO_UNIT,
    "no_model": _NO_MODEL,
    "on_shelf": ON_SHELF,
    "units_of_one": str(UNITS_OF_ONE),
    "numbers": "SELECT value FROM json_each(:numbers)",
}


def _filled(text: str) -> str:
    """The text with our own pieces of it put in."""
    for name, words in _PIECES.items():
        text = text.replace(f"{{{name}}}", words)
    return text


def _source(name: str, names: str, *tables: str) -> Source:
    return Source(name, _AS_ONE.replace("{names}", _filled(names)), frozenset(tables))


# Those of the present first: they are read first, and stand before what is over.
SOURCES = (
    _source(UNIT, "SELECT {unit_words} FROM {in_queue} ORDER BY unit.stage_since_us DESC", "unit", "stage"),
    _source(
        CONSUMABLE,
        "SELECT id AS number, name || ' ' || code AS words FROM consumable WHERE removed = 0 ORDER BY name",
        "consumable",
    ),
    _source(
        OFFER,
        "SELECT {offer_words} FROM offer WHERE state = 'open' AND removed = 0 ORDER BY id DESC",
        "offer",
    ),
    _source(
        FAULT,
        """SELECT {fault_words} FROM fault WHERE state = 'open' AND removed = 0
        ORDER BY found_us DESC""",
        "fault",
    ),
    _source(
        ORDER,
        "SELECT {order_words} FROM parts_order WHERE {under_way} AND removed = 0 ORDER BY wanted_us DESC",
        "parts_order",
    ),
    _source(
        JOB,
        """SELECT {job_words} FROM repair_job WHERE removed = 0 AND collected_on IS NULL
        ORDER BY at_us DESC""",
        "repair_job",
    ),
    _source(
        LOT,
        "SELECT id AS number, name || ' ' || substr(note, 1, 200) AS words FROM lot WHERE removed = 0"
        " ORDER BY id DESC",
        "lot",
    ),
    _source(
        DRIVE,
        """SELECT {drive_words} FROM {in_queue} CROSS JOIN drive ON drive.unit_id = unit.id
        WHERE drive.removed = 0
        UNION ALL SELECT {drive_words} FROM drive WHERE drive.unit_id IS NULL AND drive.removed = 0""",
        *("drive", "unit", "stage"),
    ),
    _source(
        PART,
        """SELECT {part_words} FROM {in_queue} CROSS JOIN part ON part.to_unit_id = unit.id
        CROSS JOIN component ON component.id = part.component_id
        WHERE part.removed = 0 AND {is_last}
        UNION ALL SELECT {part_words} FROM {of_parts}
        WHERE part.to_unit_id IS NULL AND part.removed = 0 AND component.gone = '' AND {is_last}""",
        *("part", "component", "unit", "stage"),
    ),
    _source(
        MODEL,
        """SELECT MAX(id) AS number, maker || ' ' || model AS words FROM unit WHERE removed = 0
        GROUP BY model COLLATE NOCASE, maker COLLATE NOCASE
        UNION ALL SELECT -id, maker || ' ' || model FROM model_page AS page WHERE removed = 0
        AND NOT EXISTS (SELECT 1 FROM unit WHERE unit.model = page.model COLLATE NOCASE
                        AND unit.maker = page.maker COLLATE NOCASE AND unit.removed = 0)""",
        *("unit", "model_page"),
    ),
    _source(PERSON, "SELECT id AS number, name AS words FROM person WHERE removed = 0 ORDER BY id", "person"),
    _source(
        PARTY,
        """SELECT id AS number, name || ' ' || contact || ' ' || address AS words FROM party
        WHERE removed = 0 AND erased_us IS NULL ORDER BY id DESC""",
        "party",
    ),
    _source(
        f"{UNIT} {PAST}",
        "SELECT {unit_words} FROM {left} ORDER BY unit.stage_since_us DESC",
        *("unit", "stage"),
    ),
    _source(
        f"{OFFER} {PAST}",
        "SELECT {offer_words} FROM offer WHERE state <> 'open' AND removed = 0 ORDER BY id DESC",
        "offer",
    ),
    _source(
        f"{ORDER} {PAST}",
        """SELECT {order_words} FROM parts_order WHERE NOT {under_way} AND removed = 0
        ORDER BY wanted_us DESC""",
        "parts_order",
    ),
    _source(
        f"{JOB} {PAST}",
        """SELECT {job_words} FROM repair_job WHERE removed = 0 AND collected_on IS NOT NULL
        ORDER BY at_us DESC""",
        "repair_job",
    ),
    _source(
        f"{DRIVE} {PAST}",
        """SELECT {drive_words} FROM {left} CROSS JOIN drive ON drive.unit_id = unit.id
        WHERE drive.removed = 0
        UNION ALL SELECT {drive_words} FROM {of_parts} CROSS JOIN drive ON drive.id = part.drive_id
        WHERE part.to_unit_id IS NULL AND part.removed = 0 AND component.gone <> '' AND {is_last}
        ORDER BY number DESC""",
        *("drive", "part", "component", "unit", "stage"),
    ),
    _source(
        f"{FAULT} {PAST}",
        """SELECT {fault_words} FROM fault WHERE state <> 'open' AND removed = 0
        ORDER BY found_us DESC""",
        "fault",
    ),
    _source(
        f"{PART} {PAST}",
        """SELECT {part_words} FROM {left} CROSS JOIN part ON part.to_unit_id = unit.id
        CROSS JOIN component ON component.id = part.component_id
        WHERE part.removed = 0 AND {is_last}
        UNION ALL SELECT {part_words} FROM {of_parts}
        WHERE part.to_unit_id IS NULL AND part.removed = 0 AND component.gone <> '' AND {is_last}
        ORDER BY number DESC""",
        *("part", "component", "unit", "stage"),
    ),
)


def _line(kind: str, text: str) -> Query[FoundLine]:
    return Query(FoundLine, _filled("SELECT '{kind}' AS kind, " + text).replace("{kind}", kind))


# What is told of one found, by its kind.
LINES = {
    UNIT: _line(
        UNIT,
        """unit.id AS number, unit.id AS unit_id, unit.tag, {name}, stage.name AS place, {no_model}
FROM unit JOIN stage ON stage.id = unit.stage_id WHERE unit.removed = 0 AND unit.id IN ({numbers})""",
    ),
    DRIVE: _line(
        DRIVE,
        """drive.id AS number, unit.id AS unit_id, {tag},
TRIM(drive.maker || ' ' || drive.model || ' ' || drive.serial) AS name,
COALESCE(stage.name, NULLIF(component.gone, ''), '{on_shelf}') AS place, {no_model}
FROM drive LEFT JOIN unit ON unit.id = drive.unit_id LEFT JOIN stage ON stage.id = unit.stage_id
LEFT JOIN part ON part.drive_id = drive.id AND part.removed = 0 AND part.to_unit_id IS NULL AND {is_last}
LEFT JOIN component ON component.id = part.component_id
WHERE (drive.removed = 0 OR component.gone <> '') AND drive.id IN ({numbers})""",
    ),
    PART: _line(
        PART,
        """part.id AS number, unit.id AS unit_id, {tag}, TRIM(part.name || ' ' || part.serial) AS name,
COALESCE(NULLIF(component.gone, ''), stage.name, TRIM('{on_shelf} ' || component.place)) AS place,
{no_model}
FROM part JOIN component ON component.id = part.component_id
LEFT JOIN unit ON unit.id = CASE WHEN component.gone = '' THEN part.to_unit_id ELSE part.from_unit_id END
LEFT JOIN stage ON stage.id = unit.stage_id WHERE part.removed = 0 AND part.id IN ({numbers})""",
    ),
    CONSUMABLE: _line(
        CONSUMABLE,
        """id AS number, {no_unit}, name, '' AS place, {no_model}
FROM consumable WHERE removed = 0 AND id IN ({numbers})""",
    ),
    OFFER: _line(
        OFFER,
        """offer.id AS number, unit.id AS unit_id, {tag},
TRIM(offer.maker || ' ' || offer.model || ' ' || offer.serial) AS name,
CASE offer.state WHEN 'left' THEN 'declined' ELSE offer.state END AS place, {no_model}
FROM offer LEFT JOIN unit ON unit.id = offer.unit_id WHERE offer.removed = 0 AND offer.id IN ({numbers})""",
    ),
    PARTY: _line(
        PARTY,
        """id AS number, {no_unit}, name, CASE private WHEN 1 THEN 'private' ELSE 'business' END AS place,
{no_model} FROM party WHERE removed = 0 AND erased_us IS NULL AND id IN ({numbers})""",
    ),
    PERSON: _line(
        PERSON,
        """id AS number, {no_unit}, name, '' AS place, {no_model}
FROM person WHERE removed = 0 AND id IN ({numbers})""",
    ),
    FAULT: _line(
        FAULT,
        """fault.id AS number, unit.id AS unit_id, unit.tag, fault.symptom AS name, fault.state AS place,
{no_model} FROM fault JOIN unit ON unit.id = fault.unit_id AND unit.removed = 0
WHERE fault.removed = 0 AND fault.id IN ({numbers})""",
    ),
    MODEL: _line(
        MODEL,
        """id AS number, {no_unit}, {name}, '' AS place, maker, model
FROM unit WHERE id IN ({numbers}) UNION ALL SELECT 'model', -id, NULL, '',
TRIM(maker || ' ' || model), '', maker, model FROM model_page WHERE -id IN ({numbers})""",
    ),
    ORDER: _line(
        ORDER,
        """parts_order.id AS number, unit.id AS unit_id, {tag}, parts_order.what AS name,
parts_order.state AS place, {no_model}
FROM parts_order LEFT JOIN unit ON unit.id = parts_order.unit_id
WHERE parts_order.removed = 0 AND parts_order.id IN ({numbers})""",
    ),
    JOB: _line(
        JOB,
        """job.id AS number, unit.id AS unit_id, unit.tag, job.complaint AS name,
CASE WHEN job.collected_on IS NULL THEN stage.name ELSE 'collected' END AS place, {no_model}
FROM repair_job AS job JOIN unit ON unit.id = job.unit_id AND unit.removed = 0
JOIN stage ON stage.id = unit.stage_id WHERE job.removed = 0 AND job.id IN ({numbers})""",
    ),
    LOT: _line(
        LOT,
        """id AS number, {no_unit}, name, bought_on AS place, {no_model}
FROM lot WHERE removed = 0 AND id IN ({numbers})""",
    ),
}

# Which units someone brought, sold to the shop or bought of it, the newest first.
_UNITS_OF = _line(
    UNIT,
    """unit.id AS number, unit.id AS unit_id, unit.tag, {name}, of_one.how AS place, {no_model}
FROM (SELECT id AS unit_id, 'owner' AS how FROM unit WHERE owner_id = :party_id
      UNION ALL SELECT unit_id, 'bought from' FROM purchase WHERE party_id = :party_id
      UNION ALL SELECT unit_id, 'sold to' FROM sale WHERE party_id = :party_id AND removed = 0) AS of_one
CROSS JOIN unit ON unit.id = of_one.unit_id AND unit.removed = 0
ORDER BY unit.id DESC LIMIT {units_of_one}""",
)


def units_of(connection: sqlite3.Connection, party_id: int) -> tuple[FoundLine, ...]:
    """The newest units that someone owns, sold to the shop or bought from it."""
    return _UNITS_OF.all(connection, party_id=party_id)
