"""One table module a subject. Rows never leave this layer: use cases answer with frozen values."""

from sqlmodel import SQLModel

from bench.store.tables.buying import Lot, Offer, Part, Party, Purchase
from bench.store.tables.condition import Drive, Grade, GradeStep, Reading, Unwiped, Wipe
from bench.store.tables.journal import BookingKey, Journal, JournalRow
from bench.store.tables.leaving import WayOut
from bench.store.tables.moves import StageMove
from bench.store.tables.orders import Component, PartsOrder, TaskWait
from bench.store.tables.routes import Route, RouteTask, RouteUse
from bench.store.tables.safety import SafetyCheck
from bench.store.tables.selling import Channel, Comeback, Sale, Trade
from bench.store.tables.shop import Draft, FileIdentity, Person, Shop
from bench.store.tables.stock import Consumable, LayerBalance, Movement
from bench.store.tables.time import Correction, TimeEntry
from bench.store.tables.units import Stage, Task, TaskUse, Unit

metadata = SQLModel.metadata

__all__ = [
    "BookingKey",
    "Channel",
    "Comeback",
    "Component",
    "Consumable",
    "Correction",
    "Draft",
    "Drive",
    "FileIdentity",
    "Grade",
    "GradeStep",
    "Journal",
    "JournalRow",
    "LayerBalance",
    "Lot",
    "Movement",
    "Offer",
    "Part",
    "PartsOrder",
    "Party",
    "Person",
    "Purchase",
    "Reading",
    "Route",
    "RouteTask",
    "RouteUse",
    "SafetyCheck",
    "Sale",
    "Shop",
    "Stage",
    "StageMove",
    "Task",
    "TaskUse",
    "TaskWait",
    "TimeEntry",
    "Trade",
    "Unit",
    "Unwiped",
    "WayOut",
    "Wipe",
    "metadata",
]
