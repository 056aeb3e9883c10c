"""Sending a laptop with its lithium battery: the watt-hours read, the lines of the rules, no clearance.

The limits stand in `bench.domain.limits.packs`, each with its source: 49 CFR 173.185(c)(1)(i) and ADR special
provision 188 for the relaxed rules, (c)(3) for the mark; 173.185(f) and ADR special provision 376 for damaged
ones. Watt-hours from capacity and nominal voltage are an estimate (Linux power_supply documentation).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bench.domain.condition.figures import Figures, number, shown
from bench.domain.limits.packs import LIMITS
from bench.domain.safety import FINDINGS

CELL_LIMIT_WH = LIMITS["pack.cell_wh"].whole
BATTERY_LIMIT_WH = LIMITS["pack.battery_wh"].whole
CELL_LIMIT_UWH = CELL_LIMIT_WH * 1_000_000
BATTERY_LIMIT_UWH = BATTERY_LIMIT_WH * 1_000_000

CHECK = "Before sending, check the carrier's and local rules: they come first and change often."
NO_CLEARANCE = "These are readings and lines of the rules. They are no clearance to send anything."

_KNOWN, _ESTIMATE, _UNKNOWN = "design energy by its gauge", "estimate, design capacity × nominal voltage", ""
_LINES = "(49 CFR 173.185(c)(1)(i), ADR special provision 188)"
_PACKED = (
    "In the equipment: shut down, not asleep, and packed so that nothing presses on it or switches it on "
    "(common practice)."
)
_CHARGE = LIMITS["pack.air_charge_percent"].typed
_SHOWN = {name.removeprefix("pack."): limit.typed for name, limit in LIMITS.items()}
_BY_AIR = (
    "By air: for batteries contained in equipment a charge of at most {air_charge_percent} % is recommended; "
    "for cells and batteries over {air_from_wh} Wh packed with equipment it is asked since 1 January "
    "{air_from_year} (packing instructions 967 and 966)."
).format_map(_SHOWN)
_MARK = (
    "United States: no lithium mark is asked on at most {mark_packages} packages, each with at most "
    "{mark_batteries} batteries or {mark_cells} cells contained in equipment (49 CFR 173.185(c)(3))."
).format_map(_SHOWN)
_DAMAGED = (
    "A swollen, damaged or wet battery does not go this way: forbidden by air, by road under rules of its "
    "own (49 CFR 173.185(f), ADR special provision 376)."
)
_RULES = (_PACKED, _BY_AIR, _MARK, _DAMAGED)


@dataclass(frozen=True, slots=True)
class PackEnergy:
    """What a battery holds by design, in microwatt-hours; None: not known. `basis`: how that is known."""

    name: str
    uwh: int | None
    basis: str
    before_work: bool = False

    @property
    def shown(self) -> str:
        """Such as 57.02 Wh, or that it is not known."""
        return "not known" if self.uwh is None else shown("design_uwh", self.uwh)


def pack_energy(name: str, figures: Figures, *, before_work: bool = False) -> PackEnergy:
    """The design energy of a pack from its figures, halves up; the charge it holds now does not count."""
    energy = number(figures, "design_uwh")
    if energy is not None:
        return PackEnergy(name, energy, _KNOWN, before_work)
    charge, volts = number(figures, "design_uah"), number(figures, "voltage_min_design_uv")
    if charge is None or volts is None:
        return PackEnergy(name, None, _UNKNOWN, before_work)
    return PackEnergy(name, (charge * volts + 500_000) // 1_000_000, _ESTIMATE, before_work)


def shipping_lines(packs: Sequence[PackEnergy], cell_finding: str | None = None) -> tuple[str, ...]:
    """What to know before the unit is sent, a sentence a line; the last says whose rules come first."""
    if cell_finding is not None:
        bad = f"STOP: {FINDINGS[cell_finding]} is on record. It is not sent; a licensed carrier is asked."
        return (bad, NO_CLEARANCE, CHECK)
    if not packs:
        return (_unknown("Battery"), *_RULES, NO_CLEARANCE, CHECK)
    lines = [line for pack in packs for line in _pack_lines(pack)]
    return (*lines, *_RULES, NO_CLEARANCE, CHECK)


def _pack_lines(pack: PackEnergy) -> tuple[str, ...]:
    name = f"Battery {pack.name}".rstrip()
    if pack.uwh is None:
        return (_unknown(name),)
    when = ", read before the work" if pack.before_work else ""
    told = f"{name}: {pack.shown} ({pack.basis}{when})."
    if pack.uwh > BATTERY_LIMIT_UWH:
        over = f"{told} OVER {BATTERY_LIMIT_WH} Wh"
        relaxed = f"the relaxed rules for small lithium batteries do not apply {_LINES}"
        return (f"{over}: {relaxed}. Ask the carrier first.",)
    line = f"{told} At or under the {BATTERY_LIMIT_WH} Wh line {_LINES}."
    if pack.uwh <= CELL_LIMIT_UWH:
        return (line, f"{name}: as a whole not over {CELL_LIMIT_WH} Wh, so neither is a cell in it.")
    either = f"{name}: a cell must not be over {CELL_LIMIT_WH} Wh either"
    return (line, f"{either}; the readings do not tell, see its label.")


def _unknown(name: str) -> str:
    return (
        f"{name}: watt-hours not known. Read them off its label: the lines are {BATTERY_LIMIT_WH} Wh a "
        f"battery and {CELL_LIMIT_WH} Wh a cell {_LINES}."
    )
