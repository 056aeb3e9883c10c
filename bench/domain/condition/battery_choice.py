"""Keep the pack, sell it as it is with the figure stated, or replace it: by cost and by how it is fitted.

The lines drawn here are the shop's to see and to overrule: every one is `common practice, no source`.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Minor
from bench.domain.condition.fields import CLIPPED, FITTED, GLUED, SCREWED
from bench.domain.condition.verdicts import KEEP_FROM_PERCENT, health_shown
from bench.domain.limits.packs import LIMITS
from bench.domain.limits.record import COMMON_PRACTICE
from bench.domain.safety import AFTER_A_BAD_CELL, CAUTION_BATTERY_FIRST, CAUTION_GLUED
from bench.domain.text import quoted
from bench.errors import BadInput

KEEP = "keep"
SELL_AS_IS = "sell as is, figure stated"
REPLACE = "replace"
AS_WITHOUT = "sell as without a battery"
STOP = "stop"
UNKNOWN = "not enough to say"

POOR_BELOW_PERCENT = LIMITS["pack.poor_percent"].whole
SPENT_BELOW_PERCENT = LIMITS["pack.spent_percent"].whole
MINUTES: dict[str, int] = {
    CLIPPED: LIMITS["pack.clipped_minutes"].whole,
    SCREWED: LIMITS["pack.screwed_minutes"].whole,
    GLUED: LIMITS["pack.glued_minutes"].whole,
}
PER = 10_000
GLUED_RISK_PER_10000 = LIMITS["pack.glued_risk_percent"].whole * PER // 100
MINUTES_AN_HOUR = 60


@dataclass(frozen=True, slots=True)
class Rule:
    """One of the shop's visible rules, and where it comes from."""

    words: str
    source: str = COMMON_PRACTICE


RULES: tuple[Rule, ...] = (
    Rule(f"A pack at {KEEP_FROM_PERCENT} % of design or more is kept."),
    Rule("Below that it is replaced where the sale gains more than pack, time and risk cost."),
    Rule(
        f"While that is not known: below {POOR_BELOW_PERCENT} % replaced if it is not glued, else sold as is."
    ),
    Rule(f"Below {SPENT_BELOW_PERCENT} % the pack is spent: never sold as it is, whatever replacing costs."),
    Rule(", ".join(f"{fitted}: {minutes} min" for fitted, minutes in MINUTES.items()) + " to replace."),
    Rule(f"A glued pack adds a risk of {GLUED_RISK_PER_10000 * 100 // PER} % of pack and time."),
    Rule(
        "A swollen pack is never a choice: work stops.",
        "49 CFR 173.185(f), ADR special provision 376: damaged",
    ),
)


@dataclass(frozen=True, slots=True)
class Cost:
    """One line of what replacing costs, in minor units."""

    words: str
    amount_minor: Minor


@dataclass(frozen=True, slots=True)
class Weighed:
    """What was put on the scales: money in minor units, None where it is not known."""

    pack_minor: Minor | None = None
    gain_minor: Minor | None = None
    rate_minor_per_hour: int = 0


@dataclass(frozen=True, slots=True)
class BatteryChoice:
    """What to do with the pack and why. `costs`: of replacing, as far as known; `gain_minor`: of the sale."""

    choice: str
    why: str
    health_percent: float | None
    fitted: str
    costs: tuple[Cost, ...]
    gain_minor: Minor | None
    cautions: tuple[str, ...]
    rules: tuple[Rule, ...] = RULES

    @property
    def cost_minor(self) -> Minor:
        """What replacing costs, as far as known."""
        return sum(cost.amount_minor for cost in self.costs)


def choose(
    health_percent: float | None, fitted: str, *, swollen: bool = False, weighed: Weighed | None = None
) -> BatteryChoice:
    """The choice for a pack of that health, fitted in one of three ways (empty: not noted).

    BadInput for any other way of being fitted.
    """
    if fitted and fitted not in FITTED:
        raise BadInput(
            f"{quoted(fitted)} is not a way a pack is fitted.", f"Choose one of: {', '.join(FITTED)}."
        )
    scales = weighed or Weighed()
    costs = _costs(fitted, scales)
    choice, why = _choice(health_percent, fitted, swollen, scales, sum(cost.amount_minor for cost in costs))
    return BatteryChoice(
        choice, why, health_percent, fitted, costs, scales.gain_minor, _cautions(choice, fitted)
    )


def _costs(fitted: str, scales: Weighed) -> tuple[Cost, ...]:
    if scales.pack_minor is None:
        return ()
    costs = [Cost("pack", scales.pack_minor)]
    minutes = MINUTES.get(fitted, MINUTES[SCREWED])
    labour = (2 * minutes * scales.rate_minor_per_hour + MINUTES_AN_HOUR) // (2 * MINUTES_AN_HOUR)
    costs.append(Cost(f"{minutes} min at the bench", labour))
    if fitted == GLUED:
        risk = ((scales.pack_minor + labour) * GLUED_RISK_PER_10000 * 2 + PER) // (2 * PER)
        costs.append(Cost("risk of a glued pack", risk))
    return tuple(costs)


def _choice(
    health: float | None, fitted: str, swollen: bool, scales: Weighed, cost_minor: int
) -> tuple[str, str]:
    if swollen:
        return STOP, AFTER_A_BAD_CELL[0]
    if health is None:
        return UNKNOWN, "Design and full charge are needed first."
    if health >= KEEP_FROM_PERCENT:
        return KEEP, f"{health_shown(health)} of design, limit {KEEP_FROM_PERCENT} %."
    if scales.pack_minor is not None and scales.gain_minor is not None:
        if scales.gain_minor > cost_minor:
            return REPLACE, "The sale gains more than replacing costs."
        if health < SPENT_BELOW_PERCENT:
            return (
                AS_WITHOUT,
                f"{health_shown(health)} of design: spent; replacing costs what it gains, or more.",
            )
        return SELL_AS_IS, "Replacing costs as much as the sale gains, or more."
    ask = "Give the price of a pack, what it adds to the sale and how it is fitted, to weigh it."
    if health < SPENT_BELOW_PERCENT:
        return REPLACE, f"{health_shown(health)} of design: spent. {ask}"
    if health < POOR_BELOW_PERCENT and fitted not in (GLUED, ""):
        return REPLACE, f"{health_shown(health)} of design, below {POOR_BELOW_PERCENT} %. {ask}"
    return SELL_AS_IS, f"{health_shown(health)} of design. {ask}"


def _cautions(choice: str, fitted: str) -> tuple[str, ...]:
    if choice == STOP:
        return AFTER_A_BAD_CELL
    if choice != REPLACE:
        return ()
    return (CAUTION_BATTERY_FIRST, CAUTION_GLUED) if fitted == GLUED else (CAUTION_BATTERY_FIRST,)
