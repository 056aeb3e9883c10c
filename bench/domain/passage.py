"""How units passed the stages: stays at each, spells in the queue, and Little's law over them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from bench.domain.amounts import Instant
from bench.domain.forecast import DAY_US, Little, Passage, little

LOOKS_A_DAY = 4


@dataclass(frozen=True, slots=True)
class Move:
    """A unit's move to another stage, with the instants since when it stood at either."""

    unit_id: int
    from_stage_id: int
    from_since_us: Instant
    to_stage_id: int
    to_since_us: Instant


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a unit stands now, since when, and when it first came in."""

    unit_id: int
    stage_id: int
    since_us: Instant
    added_us: Instant


class Spell(NamedTuple):
    """One time in the queue. `left_us`: None while it lasts."""

    came_us: int
    left_us: int | None


def spells(units: Iterable[Standing], moves: Iterable[Move], final: Collection[int]) -> tuple[Spell, ...]:
    """Every unit's times in the queue: from its coming to a final stage, and again after each return.

    A unit that stands at a final stage without a move that tells when it went there left when it came there.
    """
    by_unit: dict[int, list[Move]] = {}
    for move in moves:
        by_unit.setdefault(move.unit_id, []).append(move)
    found: list[Spell] = []
    for unit in units:
        came_us: int | None = unit.added_us
        for move in by_unit.get(unit.unit_id, ()):
            leaves, left_before = move.to_stage_id in final, move.from_stage_id in final
            if leaves and came_us is not None:
                found.append(Spell(came_us, move.to_since_us))
                came_us = None
            elif left_before and not leaves:
                if came_us is not None:
                    found.append(Spell(came_us, move.from_since_us))
                came_us = move.to_since_us
        if came_us is not None:
            found.append(Spell(came_us, unit.since_us if unit.stage_id in final else None))
    return tuple(found)


def passages(units: Iterable[Standing], moves: Iterable[Move], final: Collection[int]) -> tuple[Passage, ...]:
    """Every whole way through the queue that has ended, for units whose first move is among `moves`.

    A unit that came back after it had left begins another one.
    """
    came_us = {unit.unit_id: unit.added_us for unit in units}
    by_unit: dict[int, list[Move]] = {}
    for move in moves:
        if move.unit_id in came_us:
            by_unit.setdefault(move.unit_id, []).append(move)
    found: list[Passage] = []
    for unit_id, way in by_unit.items():
        if way[0].from_since_us > came_us[unit_id]:
            continue  # how it came here lies further back than was read
        found.extend(_ended(way, final))
    return tuple(sorted(found, key=lambda one: one.left_us))


def _ended(way: Sequence[Move], final: Collection[int]) -> list[Passage]:
    found: list[Passage] = []
    stays: dict[int, int] = {}
    began_us = way[0].from_since_us
    for move in way:
        if move.from_stage_id in final:
            stays, began_us = {}, move.to_since_us
            continue
        length_us = max(0, move.to_since_us - move.from_since_us)
        stays[move.from_stage_id] = stays.get(move.from_stage_id, 0) + length_us
        if move.to_stage_id in final:
            found.append(Passage(began_us, move.to_since_us, stays, again=bool(found)))
            stays = {}
    return found


def law_over(times: Sequence[Spell], since_us: int, now_us: int) -> Little | None:
    """Both sides of Little's law between two instants; None while nothing has left or less than a day passed.

    Units in the queue are counted four times a day.
    """
    came = sorted(one.came_us for one in times)
    left = sorted(one.left_us for one in times if one.left_us is not None)
    in_queue = {
        at_us: bisect_right(came, at_us) - bisect_right(left, at_us)
        for at_us in range(since_us, now_us + 1, DAY_US // LOOKS_A_DAY)
    }
    stays = [
        one.left_us - one.came_us
        for one in times
        if one.left_us is not None and since_us < one.left_us <= now_us
    ]
    arrivals = bisect_left(came, now_us) - bisect_left(came, since_us)
    days = (now_us - since_us) / DAY_US
    return little(in_queue, arrivals, days, stays) if days >= 1 else None
