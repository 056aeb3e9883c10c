"""Verdicts on a reading: what it says by a published definition, and what follows for selling the unit."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from bench.domain.calculators.battery import health_percent
from bench.domain.calculators.paste import LoadTest, compare
from bench.domain.condition.definitions import DEFINITIONS
from bench.domain.condition.drive_verdicts import drive_findings
from bench.domain.condition.figures import Figures, number, words
from bench.domain.condition.found import ACT, FINE, OPEN, STATE, Finding
from bench.domain.limits import heat, packs
from bench.domain.safety import AFTER_A_BAD_CELL
from bench.errors import BadInput

KEEP_FROM_PERCENT = packs.LIMITS["pack.keep_percent"].whole
NEW_PERCENT = 100
TIRED_FROM_CYCLES = packs.LIMITS["pack.tired_cycles"].whole
READING_ERROR_K = heat.LIMITS["load.reading_error_k"].value
POWER_ERROR_PERCENT = heat.LIMITS["load.power_error_percent"].value

HEALTH_LIMITS = (
    NEW_PERCENT,
    KEEP_FROM_PERCENT,
    packs.LIMITS["pack.poor_percent"].value,
    packs.LIMITS["pack.spent_percent"].value,
)

_ORDER = (ACT, STATE, OPEN, FINE)


@dataclass(frozen=True, slots=True)
class Verdict:
    """One verdict. `standing`: OK, state it, act on it, or not enough to say."""

    name: str
    standing: str
    words: str
    definition: str
    source: str


def verdicts(subject: str, figures: Figures) -> tuple[Verdict, ...]:
    """Every verdict on a reading's figures, each with its definition and source; at least one."""
    found = tuple(_verdict(finding) for finding in _FINDINGS[subject](figures))
    return found or (_verdict(Finding("unjudged", OPEN, "No definition to judge these by")),)


def worst(given: tuple[Verdict, ...]) -> str:
    """The gravest standing among some verdicts; not enough to say where there are none."""
    return min((one.standing for one in given), key=_ORDER.index, default=OPEN)


def health_of(figures: Figures) -> float | None:
    """Battery health in percent, unrounded; energy goes before charge. None where a figure is missing."""
    for unit in ("uwh", "uah"):
        full, design = number(figures, f"full_{unit}"), number(figures, f"design_{unit}")
        if full and design:
            return health_percent(full, design)
    return None


def health_shown(health: float) -> str:
    """The health to a tenth, or to as many more places as it takes not to show a limit it does not reach."""
    for decimals in range(1, 9):
        shown = f"{health:.{decimals}f}"
        if all((float(shown) >= limit) == (health >= limit) for limit in HEALTH_LIMITS):
            break
    return f"{shown} %"


def compared(subject: str, before: Figures, after: Figures) -> tuple[Verdict, ...]:
    """What two readings of one subject, before and after, say of the work between them."""
    if subject != "heat":
        return ()
    tests = [_load_test(figures) for figures in (before, after)]
    if tests[0] is None or tests[1] is None:
        return ()
    try:
        found = compare(tests[0], tests[1], READING_ERROR_K, POWER_ERROR_PERCENT)
    except BadInput as error:
        return (_verdict(Finding("heat", OPEN, error.what)),)
    span = f"{found.before:.2f} → {found.after:.2f} K/W, readings explain ±{found.uncertainty:.2f}"
    if not found.real:
        return (_verdict(Finding("heat", OPEN, f"No change beyond the readings: {span}")),)
    if found.change < 0:
        return (_verdict(Finding("heat", FINE, f"Cooler per watt: {span}")),)
    return (_verdict(Finding("heat", ACT, f"HOTTER per watt, look at it again: {span}")),)


def _verdict(finding: Finding) -> Verdict:
    definition = DEFINITIONS[finding.name]
    return Verdict(finding.name, finding.standing, finding.words, definition.text, definition.source)


def _battery(figures: Figures) -> Iterator[Finding]:
    if words(figures, "swelling") == "yes":
        yield Finding("swelling", ACT, f"SWOLLEN. {AFTER_A_BAD_CELL[0]}")
    health = health_of(figures)
    if health is None:
        yield Finding("health", OPEN, "Design or full charge is not told: no health")
    elif health > NEW_PERCENT:
        yield Finding(
            "health", FINE, f"{health_shown(health)} of design: as new, or the gauge has yet to learn"
        )
    elif health >= KEEP_FROM_PERCENT:
        yield Finding("health", FINE, f"{health_shown(health)} of design")
    else:
        yield Finding("health", STATE, f"{health_shown(health)} of design: worn")
    cycles = number(figures, "cycles")
    if cycles is not None:
        standing = STATE if cycles >= TIRED_FROM_CYCLES else FINE
        yield Finding("cycles", standing, f"{cycles} cycles")


def _memory(figures: Figures) -> Iterator[Finding]:
    errors, passes = number(figures, "errors"), number(figures, "passes")
    if errors:
        yield Finding("memory", ACT, f"{errors} error{'s' if errors > 1 else ''}: replace it or leave it out")
    elif passes and errors == 0:
        yield Finding("memory", FINE, f"no error found in {passes} full pass{'es' if passes > 1 else ''}")
    else:
        yield Finding("memory", OPEN, "no full pass with its errors counted")


def _heat(figures: Figures) -> Iterator[Finding]:
    test = _load_test(figures)
    if test is None:
        yield Finding("heat", OPEN, "Load, room and power are needed for degrees per watt")
        return
    try:
        yield Finding("heat", OPEN, f"{test.theta():.2f} K/W over room; compare it before and after")
    except BadInput as error:
        yield Finding("heat", OPEN, error.what)


def _screen(figures: Figures) -> Iterator[Finding]:
    brightness, pixels = number(figures, "brightness_cd_m2"), number(figures, "dead_pixels")
    if brightness is not None:
        yield Finding("brightness", STATE, f"{brightness} cd/m² at its brightest")
    if pixels is not None:
        words_for = f"{pixels} dead or stuck pixel{'s' if pixels > 1 else ''}" if pixels else "none found"
        yield Finding("pixels", STATE if pixels else FINE, words_for)


def _ports(figures: Figures) -> Iterator[Finding]:
    tested, working = number(figures, "ports_tested"), number(figures, "ports_working")
    if tested is None or working is None:
        yield Finding("ports", OPEN, "Ports tested and ports working are both needed")
    elif working < tested:
        yield Finding("ports", STATE, f"{tested - working} of {tested} ports fail")
    else:
        yield Finding("ports", FINE, f"all {tested} tested work")


def _keyboard(figures: Figures) -> Iterator[Finding]:
    tested, failing = number(figures, "keys_tested"), number(figures, "keys_failing")
    if failing:
        yield Finding("keys", STATE, f"{failing} key{'s' if failing > 1 else ''} fail")
    elif tested and failing == 0:
        yield Finding("keys", FINE, f"all {tested} tested work")
    else:
        yield Finding("keys", OPEN, "Keys tested and keys failing are both needed")


def _screws(figures: Figures) -> Iterator[Finding]:
    gone = number(figures, "screws_missing") or 0
    yield Finding("screws", STATE if gone else FINE, f"{gone} missing" if gone else "none missing")


def _load_test(figures: Figures) -> LoadTest | None:
    load, room, power = (number(figures, name) for name in ("load_tenths_c", "room_tenths_c", "power_mw"))
    if load is None or room is None or not power:
        return None
    return LoadTest(load / 10, room / 10, power / 1000)


_FINDINGS: dict[str, Callable[[Figures], Iterator[Finding]]] = {
    "battery": _battery,
    "drive": drive_findings,
    "memory": _memory,
    "heat": _heat,
    "screen": _screen,
    "ports": _ports,
    "keyboard": _keyboard,
    "screws": _screws,
}
