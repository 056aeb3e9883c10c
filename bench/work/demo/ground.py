"""What the demo's rows refer to: rows of the starting set, people, lines of the journal."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlmodel import Session, col, select

from bench.domain.amounts import Instant
from bench.domain.starting_set import ROUTES_AT_START, RouteTaskAtStart
from bench.domain.weeks import local_day
from bench.store.demo_data import Demo, DemoUnit
from bench.store.revision import SHAPE
from bench.store.tables import Consumable, Person, Route, RouteTask, Stage
from bench.work.demo.terms import Terms

# What is done first where the story has several things at one instant.
_ORDER = (
    *("offer", "leave offer", "buy lot", "buy", "add unit", "purchase", "restock", "add drive", "reading"),
    "specification",
    *("grade", "tick", "wipe", "finish", "skip", "stop", "fit part", "take part", "list without wipe"),
    *("keep photographs", "verify wipe", "move", "sell", "return", "add task", "hold"),
)


@dataclass(frozen=True)
class Line:
    """A line of the journal to be."""

    at_us: Instant
    who: str
    action: str
    summary: str
    unit_id: int | None = None
    reason: str = ""
    changes: str = "[]"


@dataclass(frozen=True)
class Ground:
    """Rows and numbers by name; route tasks by route and task name. The story ends at `now_us`.

    `units` and `unit_ids` are by unit number.
    """

    demo: Demo
    now_us: Instant
    terms: Terms
    units: dict[int, DemoUnit]
    unit_ids: dict[int, int]
    stages: dict[str, Stage]
    consumables: dict[str, Consumable]
    routes: dict[str, int]
    route_tasks: dict[tuple[str, str], int]
    people: dict[str, int]

    def stage_id(self, name: str) -> int:
        """The number of a stage."""
        return numbered(self.stages[name].id)

    @property
    def today(self) -> date:
        """The day on which the story ends, in the shop's zone."""
        return local_day(self.now_us, self.demo.zone)

    def journal(self, lines: list[Line]) -> list[dict[str, object]]:
        """Values of the lines' rows, the earliest first. Moves tell the stages: the forecast reads them."""
        return [
            {
                "at_us": line.at_us,
                "person_id": self.people[line.who],
                "action": line.action,
                "summary": line.summary,
                "via": "demo",
                "unit_id": line.unit_id,
                "reason": line.reason,
                "changes": line.changes,
                "shape": SHAPE,
            }
            for line in sorted(lines, key=_turn)
        ]


def _turn(line: Line) -> tuple[int, int]:
    return line.at_us, _ORDER.index(line.action) if line.action in _ORDER else len(_ORDER)


def ground_of(session: Session, demo: Demo, now_us: int, terms: Terms) -> Ground:
    """Look up what the starting set holds, and add the people."""
    people = [Person(id=number, name=person.name) for number, person in enumerate(demo.people, start=1)]
    session.add_all(people)
    session.flush()
    routes = {numbered(route.id): route.name for route in session.exec(select(Route))}
    stages = session.exec(select(Stage).order_by(col(Stage.position)))
    return Ground(
        demo=demo,
        now_us=now_us,
        terms=terms,
        units={unit.number: unit for unit in demo.units},
        unit_ids={unit.number: number for number, unit in enumerate(demo.units, start=1)},
        stages={stage.name: stage for stage in stages},
        consumables={one.name: one for one in session.exec(select(Consumable))},
        routes={name: number for number, name in routes.items()},
        route_tasks={
            (routes[task.route_id], task.name): numbered(task.id) for task in session.exec(select(RouteTask))
        },
        people={person.name: numbered(person.id) for person in people},
    )


def route_of(unit: DemoUnit) -> tuple[RouteTaskAtStart, ...]:
    """The tasks of the unit's route."""
    return ROUTES_AT_START[unit.route]


def numbered(row_id: int | None) -> int:
    """The number of a row that has been stored."""
    assert row_id is not None
    return row_id
