"""bench hazard: what can hurt in a task of a unit or a route, or with a consumable."""

from __future__ import annotations

import json
from typing import Any

from bench.domain.safety import CAUTION_HOT_AIR, CAUTION_MAINS
from tests.test_cli import Did, Refused


def added(did: Did) -> str:
    facts: Any = json.loads(did("add", "Model A", "--route", "full", "--json"))
    return str(facts["tag"])


def test_a_units_task_gets_the_caution_of_its_hazard(did: Did, refused: Refused) -> None:
    tag = added(did)
    tasks = json.loads(did("unit", tag, "--json"))["tasks"]
    task = next(one["name"] for one in tasks if not one["cover_off"])
    assert CAUTION_MAINS not in did("unit", tag)
    assert f'"{task}" on {tag}: mains adapter.' in did("hazard", task, "mains", "--unit", tag)
    assert CAUTION_MAINS.split(".")[0] in " ".join(did("start", tag, task).split())
    did("stop")
    did("hazard", task, "hot-air", "--unit", tag)
    assert CAUTION_HOT_AIR.split(".")[0] in " ".join(did("start", tag, task).split())
    did("stop")
    assert "is not a kind of hazard" in refused(2, "hazard", task, "ghosts", "--unit", tag)
    assert "There is no task" in refused(3, "hazard", "no such", "none", "--unit", tag)
    did("hazard", task, "none", "--unit", tag)
    did("undo")
    assert CAUTION_HOT_AIR.split(".")[0] in " ".join(did("start", tag, task).split())


def test_a_routes_task_gets_it_for_the_units_to_come(did: Did, refused: Refused) -> None:
    before = added(did)
    task = json.loads(did("unit", before, "--json"))["tasks"][0]["name"]
    assert "mains adapter" in did("hazard", task, "mains", "--route", "full")
    kinds = [json.loads(did("unit", tag, "--json"))["tasks"][0]["hazard"] for tag in (before, added(did))]
    assert kinds == ["", "mains"]
    assert "both given" in refused(2, "hazard", task, "mains", "--route", "full", "--unit", before)


def test_a_consumable_gets_a_caution_in_words(did: Did) -> None:
    did("hazard", "thermal", "keep off the skin")
    assert "keep off the skin" in did("stock")
    did("hazard", "thermal", "")
    assert "keep off the skin" not in did("stock")
