"""Heat at the surface: how hot a part may be to the touch, and the air it takes to carry watts away."""

from __future__ import annotations

from bench.domain.calculators.shape import FROM_MEMORY, Answer, Calculator, Figures, Given, Sum
from bench.domain.calculators.units import positive
from bench.errors import BadInput

AIR_KG_M3 = 1.2  # 20 °C, sea level
AIR_J_KGK = 1005.0
SECONDS_AN_HOUR = 3600
CUBIC_FOOT_M3 = 0.3048**3
MINUTES_AN_HOUR = 60

METAL, GLASS, PLASTIC = "metal", "glass", "plastic"
HELD, HELD_SHORTLY, TOUCHED, NOT_TOUCHED = "over 1 min", "10 s to 1 min", "1 s to 10 s", "under 1 s"

# IEC 62368-1 table 38, TS1, degrees Celsius at 25 °C ambient. Plastic 77 and the span 48 to 94 were read in
# public letters of its committee; the other figures are from memory.
LIMITS_C: dict[str, dict[str, int]] = {
    METAL: {HELD: 48, HELD_SHORTLY: 51, TOUCHED: 60, NOT_TOUCHED: 70},
    GLASS: {HELD: 48, HELD_SHORTLY: 56, TOUCHED: 71, NOT_TOUCHED: 85},
    PLASTIC: {HELD: 48, HELD_SHORTLY: 60, TOUCHED: 77, NOT_TOUCHED: 94},
}
_READ = frozenset([(PLASTIC, HELD), (PLASTIC, TOUCHED), (PLASTIC, NOT_TOUCHED)])

CAUTION_HOT = (
    "A cooler stays hot after a load test: let it cool before you touch it. No limit here makes a hot part "
    "safe for everyone: children, old people and longer contact burn sooner."
)


def touch_limit_c(material: str, contact: str) -> int:
    """The limit for a material and a length of contact, in degrees Celsius, judged at 25 °C ambient."""
    limit = LIMITS_C.get(material, {}).get(contact)
    if limit is None:
        raise BadInput(
            f"There is no limit for {material} touched {contact}.",
            f"Choose {', '.join(LIMITS_C)}, and {', '.join(LIMITS_C[METAL])}.",
        )
    return limit


def air_needed_m3_h(power_w: float, rise_k: float) -> float:
    """Air that carries the watts away at that rise, in m³/h: P / (rho c dT).

    Air of 1.2 kg/m³ and 1005 J/kgK, that is 20 °C at sea level: thinner air up high takes more of it.
    """
    heat_j_m3 = AIR_KG_M3 * AIR_J_KGK * positive(rise_k, "The rise")
    return positive(power_w, "The power") / heat_j_m3 * SECONDS_AN_HOUR


def air_rise_k(power_w: float, air_m3_h: float) -> float:
    """How much warmer the air leaves: the inverse of `air_needed_m3_h`."""
    heat_j_k = AIR_KG_M3 * AIR_J_KGK * positive(air_m3_h, "The air") / SECONDS_AN_HOUR
    return positive(power_w, "The power") / heat_j_k


def cubic_feet_a_minute(air_m3_h: float) -> float:
    """The same air in cubic feet a minute, as fans are rated."""
    return positive(air_m3_h, "The air") / CUBIC_FOOT_M3 / MINUTES_AN_HOUR


def _surface(figures: Figures) -> tuple[Answer, ...]:
    material, contact = figures.choice("material"), figures.choice("contact")
    limit = touch_limit_c(material, contact)
    spare = limit - figures["surface"]
    over = spare < 0
    verdict = "OVER the limit" if over else "not over the limit"
    source = "table 38 as quoted in public" if (material, contact) in _READ else FROM_MEMORY
    return (
        Answer("limit", f"Limit for {material}, {contact}", float(limit), "°C", 0, source),
        Answer("spare", "Below it by", spare, "K", 1, "judged in a room of 25 °C, steady"),
        Answer("verdict", "So", verdict, sure="this one surface only", alert=over, noted=True),
    )


def _air(figures: Figures) -> tuple[Answer, ...]:
    air = air_needed_m3_h(figures["power"], figures["rise"])
    sure = "air at 20 °C, sea level; all the heat goes with it"
    return (
        Answer("air", "Air needed", air, "m³/h", 2, sure, noted=True),
        Answer("air_cfm", "which is", cubic_feet_a_minute(air), "cfm", 2, "a fan moves less than rated"),
    )


def _rise(figures: Figures) -> tuple[Answer, ...]:
    rise = air_rise_k(figures["power"], figures["air"])
    return (Answer("air_rise", "The air leaves warmer by", rise, "K", 1, "mean over the outlet"),)


TOUCH = Calculator(
    name="touch",
    title="Heat, touch",
    line="How hot a surface may be to the touch; air for watts and rise",
    givens=(
        Given("surface", "Surface, as measured", "°C", -20, 200),
        Given("material", "It is", default=PLASTIC, choices=tuple(LIMITS_C)),
        Given("contact", "Touched for", default=HELD, choices=tuple(LIMITS_C[METAL])),
        Given("power", "Power to carry away", "W", 0.1, 2000),
        Given("rise", "Rise of the air", "K", 0.5, 100),
        Given("air", "Or air that flows", "m³/h", 0.1, 10_000),
    ),
    sums=(
        Sum("Surface", ("surface", "material", "contact"), _surface),
        Sum("Air needed", ("power", "rise"), _air),
        Sum("Rise from the air", ("power", "air"), _rise),
    ),
    formulas=(
        "air = watts ÷ (1.2 kg/m³ × 1005 J/kgK × rise)",
        "surface: measured at 25 °C ambient against the limit for material and contact",
    ),
    sources=(
        f"Limits: IEC 62368-1 table 38 (TS1): plastic as quoted in public, the rest {FROM_MEMORY}",
        "Air: heat balance; as 1.757 cfm a watt and kelvin (EDN, 12 May 2005)",
    ),
    cautions=(CAUTION_HOT,),
)
