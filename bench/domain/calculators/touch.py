"""Heat at the surface: how hot a part may be to the touch, and the air it takes to carry watts away."""

from __future__ import annotations

from bench.domain.calculators.measures import positive
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits.heat import LIMITS
from bench.domain.limits.record import COMMON_PRACTICE, Limit
from bench.errors import BadInput

AIR_KG_M3 = LIMITS["fan.air_kg_m3"].value
AIR_J_KGK = LIMITS["fan.air_j_kgk"].value
SECONDS_AN_HOUR = 3600
CUBIC_FOOT_M3 = 0.3048**3
MINUTES_AN_HOUR = 60

METAL, GLASS, PLASTIC = "metal", "glass", "plastic"
HELD, HELD_SHORTLY, TOUCHED, NOT_TOUCHED = "over 1 min", "10 s to 1 min", "1 s to 10 s", "under 1 s"

_MATERIALS = (METAL, GLASS, PLASTIC)
_CONTACTS = {HELD: "held", HELD_SHORTLY: "shortly", TOUCHED: "touched", NOT_TOUCHED: "brushed"}
_ROWS: dict[str, dict[str, Limit]] = {
    material: {contact: LIMITS[f"touch.{material}.{row}"] for contact, row in _CONTACTS.items()}
    for material in _MATERIALS
}
# TS1, degrees Celsius, judged in a room of `STANDARD_ROOM_C`.
LIMITS_C: dict[str, dict[str, int]] = {
    material: {contact: row.whole for contact, row in rows.items()} for material, rows in _ROWS.items()
}
STANDARD_ROOM_C = LIMITS["touch.room_c"].value
LEAST_ROOM_C = LIMITS["touch.least_room_c"].value
MOST_ROOM_C = LIMITS["touch.most_room_c"].value

CAUTION_HOT = (
    "A cooler stays hot after a load test: let it cool before you touch it. No limit here makes a hot part "
    "safe for everyone: children, old people and longer contact burn sooner."
)


def touch_limit_c(material: str, contact: str) -> int:
    """The limit for a material and a length of contact, in degrees Celsius, in the standard's room."""
    if contact not in LIMITS_C.get(material, {}):
        raise BadInput(
            f"There is no limit for {material} touched {contact}.",
            f"Choose {', '.join(LIMITS_C)}, and {', '.join(LIMITS_C[METAL])}.",
        )
    return LIMITS_C[material][contact]


def in_the_standard_room_c(surface_c: float, room_c: float) -> float:
    """What the surface would read in the standard's room: its rise over the room as measured, put on 25 °C.

    BadInput for a room so far off that the rise would not stay the same (`common practice, no source`).
    """
    if not LEAST_ROOM_C <= room_c <= MOST_ROOM_C:
        raise BadInput(
            f"A room at {room_c:g} °C is too far from the standard's {STANDARD_ROOM_C:g} °C.",
            f"Measure in a room of {LEAST_ROOM_C:g} to {MOST_ROOM_C:g} °C.",
        )
    return surface_c - room_c + STANDARD_ROOM_C


def air_needed_m3_h(power_w: float, rise_k: float) -> float:
    """Air that carries the watts away at that rise, in m³/h: P / (rho c dT).

    Air of 20 °C at sea level: thinner air up high takes more of it.
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
    limit, surface_c = touch_limit_c(material, contact), figures["surface"]
    standard_c = in_the_standard_room_c(surface_c, figures["room"])
    over, over_now = standard_c > limit, surface_c > limit
    verdict = "OVER the limit" if over else "not over the limit"
    if over_now and not over:
        verdict = f"not over it at {STANDARD_ROOM_C:g} °C, but OVER it in this room as it is now"
    row = _ROWS[material][contact]
    corrected = f"{surface_c:g} − {figures['room']:g} + {STANDARD_ROOM_C:g}: its rise over the room, kept"
    return (
        Answer("limit", f"Limit for {material}, {contact}", float(limit), "°C", 0, row.said),
        Answer(
            "standard", f"In a room of {STANDARD_ROOM_C:g} °C", standard_c, "°C", 1, corrected, noted=True
        ),
        Answer("spare", "Below the limit by", limit - standard_c, "K", 1, "there, steady"),
        Answer(
            "verdict", "So", verdict, based_on="this one surface only", alert=over or over_now, noted=True
        ),
    )


def _air(figures: Figures) -> tuple[Answer, ...]:
    air = air_needed_m3_h(figures["power"], figures["rise"])
    based_on = "air at 20 °C, sea level; all the heat goes with it"
    return (
        Answer("air", "Air needed", air, "m³/h", 2, based_on, noted=True),
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
        Given("room", "Room, as measured beside it", "°C", -20, 60),
        Given("material", "It is", default=PLASTIC, choices=tuple(LIMITS_C)),
        Given("contact", "Touched for", default=HELD, choices=tuple(LIMITS_C[METAL])),
        Given("power", "Power to carry away", "W", 0.1, 2000),
        Given("rise", "Rise of the air", "K", 0.5, 100),
        Given("air", "Or air that flows", "m³/h", 0.1, 10_000),
    ),
    sums=(
        Sum("Surface", ("surface", "room", "material", "contact"), _surface),
        Sum("Air needed", ("power", "rise"), _air),
        Sum("Rise from the air", ("power", "air"), _rise),
    ),
    formulas=(
        f"air = watts ÷ ({AIR_KG_M3:g} kg/m³ × {AIR_J_KGK:g} J/kgK × rise)",
        f"surface − room + {STANDARD_ROOM_C:g} °C against the limit; so is the surface as measured",
    ),
    sources=(
        *dict.fromkeys(f"Limits: {row.said}" for rows in _ROWS.values() for row in rows.values()),
        f"Rise over the room the same from {LEAST_ROOM_C:g} to {MOST_ROOM_C:g} °C: {COMMON_PRACTICE}",
        f"Air: heat balance; {LIMITS['fan.air_kg_m3'].said}",
    ),
    cautions=(CAUTION_HOT,),
)
