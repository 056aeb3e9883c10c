"""One table module a subject. Rows never leave this layer: use cases answer with frozen values."""

from sqlmodel import SQLModel

from bench.store.tables.journal import Journal
from bench.store.tables.routes import Route, RouteTask, RouteUse
from bench.store.tables.safety import SafetyCheck
from bench.store.tables.shop import Draft, Person, Shop
from bench.store.tables.stock import Consumable, Movement
from bench.store.tables.time import Correction, TimeEntry
from bench.store.tables.units import Stage, Task, TaskUse, Unit

metadata = SQLModel.metadata

__all__ = [
    "Consumable",
    "Correction",
    "Draft",
    "Journal",
    "Movement",
    "Person",
    "Route",
    "RouteTask",
    "RouteUse",
    "SafetyCheck",
    "Shop",
    "Stage",
    "Task",
    "TaskUse",
    "TimeEntry",
    "Unit",
    "metadata",
]
