"""The demo workshop's data files: where they lie, in a checkout or installed, and what they say."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import time
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from bench.errors import StoreError
from bench.store.demo_trade import DemoTrade, csv_rows, read_trade

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class DemoPerson:
    """Someone at the demo's bench. `days`: 0 is Monday. `here_now`: at the bench whatever the hour."""

    name: str
    title: str
    days: frozenset[int]
    hours: tuple[tuple[time, time], ...]
    here_now: bool


@dataclass(frozen=True, slots=True)
class DemoUnit:
    """A unit as it stands at the end of the story."""

    number: int
    maker: str
    model: str
    serial: str
    route: str
    stage: str
    price: str
    due_in_days: int | None
    screws: int | None
    held: str
    cell: str
    battery_left_connected: bool
    note: str


@dataclass(frozen=True, slots=True)
class Sitting:
    """Something a person did. `then`: in, stop, done, skipped, runs, back (sold), out (scrapped) or away."""

    who: str
    idle_minutes: int
    unit: int
    task: str
    minutes: int
    then: str
    note: str


@dataclass(frozen=True, slots=True)
class DemoMovement:
    """A receipt, or the difference that a count found."""

    consumable: str
    kind: str
    days_ago: int
    quantity: str
    price: str
    expires_in_days: int | None
    supplier: str
    who: str
    reason: str


@dataclass(frozen=True, slots=True)
class DemoCorrection:
    """An entry whose stop had been too late by so many minutes."""

    unit: int
    task: str
    too_late_minutes: int
    reason: str


@dataclass(frozen=True, slots=True)
class Demo:
    """The whole workshop. `screws_back`: by unit number, how many went back, and the note."""

    name: str
    currency: str
    zone: str
    rate: str
    people: tuple[DemoPerson, ...]
    units: tuple[DemoUnit, ...]
    book: tuple[Sitting, ...]
    stock: tuple[DemoMovement, ...]
    corrections: tuple[DemoCorrection, ...]
    screws_back: dict[int, tuple[int, str]]
    trade: DemoTrade
    models: tuple[dict[str, Any], ...]


def demo_folder() -> Traversable:
    """Where the files lie: inside an installed package, or beside the package in a checkout."""
    package = files("bench")
    candidates: list[Traversable] = [package.joinpath("demo")]
    if isinstance(package, Path):
        candidates.append(package.parent / "demo")
    for folder in candidates:
        if folder.joinpath("workshop.toml").is_file():
            return folder
    raise StoreError("The demo's data files are missing.", "Install bench again.")


def read_demo(folder: Traversable) -> Demo:
    """What the files in the folder say."""
    shop = _workshop(folder)
    return Demo(
        name=shop["name"],
        currency=shop["currency"],
        zone=shop["zone"],
        rate=shop["rate"],
        people=tuple(
            DemoPerson(
                name=person["name"],
                title=person["title"],
                days=frozenset(_DAYS.index(day) for day in person["days"]),
                hours=tuple(_span(text) for text in person["hours"]),
                here_now=person.get("here_now", False),
            )
            for person in shop["people"]
        ),
        units=tuple(_unit(row) for row in csv_rows(folder, "units.csv")),
        book=tuple(_sitting(row) for row in csv_rows(folder, "bench_book.csv")),
        stock=tuple(_movement(row) for row in csv_rows(folder, "stock.csv")),
        corrections=tuple(DemoCorrection(**row) for row in shop["corrections"]),
        screws_back={row["unit"]: (row["back"], row["note"]) for row in shop["screws"]},
        trade=read_trade(folder),
        models=tuple(tomllib.loads(folder.joinpath("models.toml").read_text(encoding="utf-8"))["models"]),
    )


def first_person(folder: Traversable) -> str:
    """The name of whoever the demo is shown to: the first of its people."""
    return str(_workshop(folder)["people"][0]["name"])


def _workshop(folder: Traversable) -> dict[str, Any]:
    return tomllib.loads(folder.joinpath("workshop.toml").read_text(encoding="utf-8"))


def _span(text: str) -> tuple[time, time]:
    start, _, stop = text.partition("-")
    return time.fromisoformat(start), time.fromisoformat(stop)


def _whole(text: str) -> int | None:
    return int(text) if text else None


def _unit(row: dict[str, str]) -> DemoUnit:
    return DemoUnit(
        number=int(row["number"]),
        maker=row["maker"],
        model=row["model"],
        serial=row["serial"],
        route=row["route"],
        stage=row["stage"],
        price=row["price"],
        due_in_days=_whole(row["due_in_days"]),
        screws=_whole(row["screws"]),
        held=row["held"],
        cell=row["cell"],
        battery_left_connected=row["battery_left_connected"] == "yes",
        note=row["note"],
    )


def _sitting(row: dict[str, str]) -> Sitting:
    return Sitting(
        who=row["who"],
        idle_minutes=int(row["idle"]),
        unit=int(row["unit"] or 0),
        task=row["task"],
        minutes=int(row["minutes"]),
        then=row["then"],
        note=row["note"],
    )


def _movement(row: dict[str, str]) -> DemoMovement:
    return DemoMovement(
        consumable=row["consumable"],
        kind=row["kind"],
        days_ago=int(row["days_ago"]),
        quantity=row["quantity"],
        price=row["price"],
        expires_in_days=_whole(row["expires_in_days"]),
        supplier=row["supplier"],
        who=row["who"],
        reason=row["reason"],
    )
