"""The demo's data files about trade and condition: what was bought, measured, wiped, fitted, graded, sold."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

from bench.domain.starting_set import RouteTaskAtStart

_NUMBERS = frozenset({"unit", "from_unit", "to_unit", "came_with", "now_in", "gb", "ran", "due_in_days"})

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class DemoParty:
    """Someone traded with, found again by the name. Every one of them is made up."""

    name: str
    address: str
    contact: str
    identity_seen: str
    private: str


@dataclass(frozen=True, slots=True)
class DemoPurchase:
    """Where a unit comes from. A unit of a lot is paid for with its share of the lot's price."""

    unit: int
    seller: str
    lot: str
    invoice: str
    expected: str
    donor: str


@dataclass(frozen=True, slots=True)
class DemoPart:
    """A part that was fitted or taken out when a task (`at`) of the unit that tells of it was done."""

    name: str
    serial: str
    from_unit: int | None
    to_unit: int | None
    cost: str
    at: str
    supplier: str
    note: str
    drive: str


@dataclass(frozen=True, slots=True)
class DemoOrder:
    """A part or a consumable on order. Days count back from today, that on which it is due onwards.

    `task`: the unit's task that waits for it. `instead`: the order before in whose place it comes.
    """

    what: str
    maker_number: str
    unit: int | None
    consumable: str
    quantity: str
    supplier: str
    price: str
    freight: str
    state: str
    ordered_days_ago: int | None
    due_in_days: int | None
    arrived_days_ago: int | None
    found: str
    sent_days_ago: int | None
    refunded_days_ago: int | None
    refund: str
    task: str
    instead: str
    place: str
    note: str


@dataclass(frozen=True, slots=True)
class DemoDrive:
    """A drive: the unit it came with (none: bought), where it is now (none: the shelf), its wipe."""

    serial: str
    maker: str
    model: str
    media_type: str
    media_number: str
    gb: int | None
    came_with: int | None
    now_in: int | None
    way: str
    result: str
    verification: str
    note: str


@dataclass(frozen=True, slots=True)
class DemoReading:
    """A reading: `figures` as a person types them, `name=value; name=value`."""

    unit: int
    moment: str
    subject: str
    figures: str
    note: str


@dataclass(frozen=True, slots=True)
class DemoSpecification:
    """What was typed of what a unit is made of: `fields` as a person types them, `name=value; name=value`."""

    unit: int
    moment: str
    fields: str


@dataclass(frozen=True, slots=True)
class DemoGrade:
    """What is said of one part of a unit. `tested`: yes or no."""

    unit: int
    part: str
    function: str
    looks: str
    tested: str
    sentence: str


@dataclass(frozen=True, slots=True)
class DemoPhotograph:
    """A drawn picture of a unit, kept when a task (`at`) was done. `content`: the bytes of its file.

    `shows`: fault, for the unit's own; step and its place on the page of the unit's model; or nothing.
    """

    unit: int
    file: str
    at: str
    caption: str
    shown: str
    shows: str
    content: bytes


@dataclass(frozen=True, slots=True)
class DemoFault:
    """A fault. `at`: the task at which it was found, or back. `failed`: the kind of test that found it.

    `part`, `task`, `back`: what of the unit belongs to it.
    """

    unit: int
    symptom: str
    place: str
    origin: str
    at: str
    failed: str
    ran: int | None
    suspected: str
    cause: str
    state: str
    done: str
    closed_at: str
    part: str
    task: str
    back: str


@dataclass(frozen=True, slots=True)
class DemoSale:
    """A sale; fee, tax, warranty and invoice number follow."""

    unit: int
    price: str
    channel: str
    buyer: str
    shipping: str
    note: str


@dataclass(frozen=True, slots=True)
class DemoOffer:
    """A unit looked at before paying. One that was bought names its unit and has no `hours_ago`."""

    who: str
    seller: str
    expected: str
    state: str
    route: str
    channel: str
    asking: str
    findings: Mapping[str, str]
    hours_ago: int = 0
    unit: int = 0
    maker: str = ""
    model: str = ""
    serial: str = ""
    parts: str = "0"
    premium: str = ""
    freight: str = ""
    shipping: str = ""
    note: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class DemoTrade:
    """All of it. `ways`: how drives are wiped, by name. `extra_tasks`: beyond the route, by unit.
    `asked`: what listings ask, by unit.

    `owners`: by unit, whose it is and what the repair cost; nothing while it is here.
    """

    settings: Mapping[str, Any]
    channels: tuple[Mapping[str, str], ...]
    lots: tuple[Mapping[str, str], ...]
    offers: tuple[DemoOffer, ...]
    comebacks: Mapping[int, Mapping[str, str]]
    asked: Mapping[int, str]
    owners: Mapping[int, tuple[str, str]]
    scrapped: Mapping[int, Mapping[str, str]]
    unwiped: Mapping[int, str]
    ways: Mapping[str, Mapping[str, str]]
    extra_tasks: Mapping[int, tuple[RouteTaskAtStart, ...]]
    parties: tuple[DemoParty, ...]
    purchases: Mapping[int, DemoPurchase]
    parts: tuple[DemoPart, ...]
    orders: tuple[DemoOrder, ...]
    drives: tuple[DemoDrive, ...]
    readings: tuple[DemoReading, ...]
    grades: tuple[DemoGrade, ...]
    faults: tuple[DemoFault, ...]
    sales: Mapping[int, DemoSale]
    photographs: tuple[DemoPhotograph, ...]
    specifications: tuple[DemoSpecification, ...]


def read_trade(folder: Traversable) -> DemoTrade:
    """What trade.toml and the tables beside it say."""
    told = tomllib.loads(folder.joinpath("trade.toml").read_text(encoding="utf-8"))
    return DemoTrade(
        settings=told["settings"],
        channels=tuple(told["channels"]),
        lots=tuple(told["lots"]),
        offers=tuple(DemoOffer(**row) for row in told["offers"]),
        comebacks={row["unit"]: row for row in told["comebacks"]},
        asked={row["unit"]: row["price"] for row in told["listings"]},
        owners={
            int(unit): (row["name"], price) for row in told["owners"] for unit, price in row["prices"].items()
        },
        scrapped={row["unit"]: row for row in told["scrapped"]},
        unwiped={row["unit"]: row["reason"] for row in told["unwiped"]},
        ways=told["ways"],
        extra_tasks={
            row["unit"]: (RouteTaskAtStart(row["stage"], row["name"], row["minutes"]),)
            for row in told["extra_tasks"]
        },
        parties=_table(folder, "parties.csv", DemoParty),
        purchases={row.unit: row for row in _table(folder, "purchases.csv", DemoPurchase)},
        parts=_table(folder, "parts.csv", DemoPart),
        orders=_table(folder, "orders.csv", DemoOrder),
        drives=_table(folder, "drives.csv", DemoDrive),
        readings=_table(folder, "readings.csv", DemoReading),
        grades=_table(folder, "grades.csv", DemoGrade),
        faults=_table(folder, "faults.csv", DemoFault),
        sales={row.unit: row for row in _table(folder, "sales.csv", DemoSale)},
        specifications=_table(folder, "specifications.csv", DemoSpecification),
        photographs=_photographs(folder),
    )


def _photographs(folder: Traversable) -> tuple[DemoPhotograph, ...]:
    pictures = folder.joinpath("photographs")
    return tuple(
        DemoPhotograph(**_values(row), content=pictures.joinpath(row["file"]).read_bytes())
        for row in csv_rows(folder, "photographs.csv")
    )


def csv_rows(folder: Traversable, name: str) -> list[dict[str, str]]:
    """The lines of a table by the names in its first line."""
    return list(csv.DictReader(folder.joinpath(name).read_text(encoding="utf-8").splitlines()))


def _table(folder: Traversable, name: str, kind: type[Row]) -> tuple[Row, ...]:
    return tuple(kind(**_values(row)) for row in csv_rows(folder, name))


def _values(row: Mapping[str, str]) -> dict[str, Any]:
    return {name: _whole(text) if _is_number(name) else text for name, text in row.items()}


def _is_number(name: str) -> bool:
    return name in _NUMBERS or name.endswith("_days_ago")


def _whole(text: str) -> int | None:
    return int(text) if text else None
