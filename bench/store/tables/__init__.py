"""One table module a subject. Rows never leave this layer: use cases answer with frozen values."""

from sqlmodel import SQLModel

from bench.store.tables.buying import Lot, Offer, Part, Party, Purchase
from bench.store.tables.condition import Drive, Grade, GradeStep, Reading, Unwiped, Wipe
from bench.store.tables.estimates import WayEstimate
from bench.store.tables.expenses import Expense, TaskPower
from bench.store.tables.faults import Fault, TestRun
from bench.store.tables.journal import BookingKey, Journal, JournalRow
from bench.store.tables.models import ModelPage, ModelScrew, ModelStep
from bench.store.tables.orders import Component, PartsOrder, TaskWait
from bench.store.tables.photographs import Photograph, PhotographCaption
from bench.store.tables.repair_jobs import AccessWord, QuoteLine, RepairJob
from bench.store.tables.selling import Channel, Comeback, Sale, Trade, UnitListing, UnsettledSale, WayOut
from bench.store.tables.shop import Draft, FileIdentity, Person, Shop
from bench.store.tables.specification import Specification
from bench.store.tables.stock import Consumable, LayerBalance, Movement
from bench.store.tables.time import Correction, SafetyCheck, TimeEntry
from bench.store.tables.units import (
    Route,
    RouteTask,
    RouteUse,
    Stage,
    StageCount,
    StageMove,
    Task,
    TaskUse,
    Unit,
    WayCount,
)

metadata = SQLModel.metadata

__all__ = [
    "AccessWord",
    "BookingKey",
    "Channel",
    "Comeback",
    "Component",
    "Consumable",
    "Correction",
    "Draft",
    "Drive",
    "Expense",
    "Fault",
    "FileIdentity",
    "Grade",
    "GradeStep",
    "Journal",
    "JournalRow",
    "LayerBalance",
    "Lot",
    "ModelPage",
    "ModelScrew",
    "ModelStep",
    "Movement",
    "Offer",
    "Part",
    "PartsOrder",
    "Party",
    "Person",
    "Photograph",
    "PhotographCaption",
    "Purchase",
    "QuoteLine",
    "Reading",
    "RepairJob",
    "Route",
    "RouteTask",
    "RouteUse",
    "SafetyCheck",
    "Sale",
    "Shop",
    "Specification",
    "Stage",
    "StageCount",
    "StageMove",
    "Task",
    "TaskPower",
    "TaskUse",
    "TaskWait",
    "TestRun",
    "TimeEntry",
    "Trade",
    "Unit",
    "UnitListing",
    "UnsettledSale",
    "Unwiped",
    "WayCount",
    "WayEstimate",
    "WayOut",
    "Wipe",
    "metadata",
]
