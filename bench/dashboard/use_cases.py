"""The use cases by module, each imported when it is first named: `use_cases.moves.hold_unit(desk, ...)`.

They load the storage library, for which no start and no dialog waits: name them in what a thread runs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bench.work import arrivals as arrivals
    from bench.work import beginning as beginning
    from bench.work import buying as buying
    from bench.work import comebacks as comebacks
    from bench.work import components as components
    from bench.work import corrections as corrections
    from bench.work import drafts as drafts
    from bench.work import drive_moves as drive_moves
    from bench.work import drives as drives
    from bench.work import expenses as expenses
    from bench.work import faults as faults
    from bench.work import forgotten as forgotten
    from bench.work import grades as grades
    from bench.work import intake as intake
    from bench.work import leaving as leaving
    from bench.work import listing as listing
    from bench.work import lots as lots
    from bench.work import machine_power as machine_power
    from bench.work import model_pages as model_pages
    from bench.work import moves as moves
    from bench.work import orders as orders
    from bench.work import outcomes as outcomes
    from bench.work import parts as parts
    from bench.work import photograph_erasing as photograph_erasing
    from bench.work import photographs as photographs
    from bench.work import purchases as purchases
    from bench.work import quotes as quotes
    from bench.work import readings as readings
    from bench.work import repair_jobs as repair_jobs
    from bench.work import repair_terms as repair_terms
    from bench.work import route_tasks as route_tasks
    from bench.work import safety as safety
    from bench.work import selling as selling
    from bench.work import shop as shop
    from bench.work import specification as specification
    from bench.work import stock as stock
    from bench.work import tasks as tasks
    from bench.work import timers as timers
    from bench.work import trade as trade
    from bench.work import undo as undo
    from bench.work import units as units
    from bench.work import unlocking as unlocking
    from bench.work import waivers as waivers
    from bench.work import way_estimates as way_estimates
    from bench.work import wipes as wipes
else:
    from importlib import import_module

    def __getattr__(name):
        if name.startswith("_"):
            raise AttributeError(name)
        return import_module(f"bench.work.{name}")
