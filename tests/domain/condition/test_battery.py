"""The battery's verdicts and the choice between keeping, stating and replacing it."""

from __future__ import annotations

import pytest

from bench.domain.condition.battery_choice import (
    AS_WITHOUT,
    KEEP,
    REPLACE,
    RULES,
    SELL_AS_IS,
    STOP,
    UNKNOWN,
    Weighed,
    choose,
)
from bench.domain.condition.fields import CLIPPED, GLUED, SCREWED
from bench.domain.condition.found import ACT, FINE, OPEN, STATE
from bench.domain.condition.verdicts import compared, health_of, verdicts, worst
from bench.domain.limits.record import COMMON_PRACTICE
from bench.domain.safety import AFTER_A_BAD_CELL, CAUTION_GLUED
from bench.errors import BadInput


def pack(full: int, design: int = 100_000_000, **more: object) -> dict[str, object]:
    return {"full_uwh": full, "design_uwh": design, **more}


@pytest.mark.parametrize(
    ("full", "standing", "words"),
    [
        (104_000_000, FINE, "104.0 % of design: as new"),
        (100_000_000, FINE, "100.0 % of design"),
        (80_000_000, FINE, "80.0 % of design"),
        (79_960_000, STATE, "79.96 % of design: worn"),  # never shown as the limit it does not reach
        (79_999_999, STATE, "79.999999 % of design: worn"),
        (79_900_000, STATE, "79.9 % of design: worn"),
        (3_000_000, STATE, "3.0 % of design: worn"),
    ],
)
def test_health_at_the_line(full: int, standing: str, words: str) -> None:
    (found,) = verdicts("battery", pack(full))
    assert (found.standing, found.name) == (standing, "health")
    assert words in found.words
    assert "0x10" in found.source


def test_health_needs_both_figures_in_one_unit() -> None:
    assert health_of({"full_uwh": 50_000_000, "design_uah": 4_000_000}) is None
    assert health_of({"full_uah": 3_000_000, "design_uah": 4_000_000}) == 75.0
    assert verdicts("battery", {"full_uwh": 1})[0].standing == OPEN


def test_cycles_are_stated_from_the_span_of_published_lives_on() -> None:
    def standing(cycles: int) -> str:
        found = verdicts("battery", pack(90_000_000, cycles=cycles))
        return next(one.standing for one in found if one.name == "cycles")

    assert (standing(299), standing(300)) == (FINE, STATE)


def test_swelling_is_the_gravest_and_says_what_to_do() -> None:
    found = verdicts("battery", pack(100_000_000, swelling="yes"))
    assert worst(found) == ACT
    assert AFTER_A_BAD_CELL[0] in found[0].words
    assert not any(one.name == "swelling" for one in verdicts("battery", pack(1, swelling="no")))
    choice = choose(100.0, SCREWED, swollen=True, weighed=Weighed(1, 10**6, 0))
    assert choice.choice == STOP
    assert choice.cautions == AFTER_A_BAD_CELL


def test_without_figures_there_is_no_choice() -> None:
    assert choose(None, "").choice == UNKNOWN
    assert worst(()) == OPEN


@pytest.mark.parametrize(
    ("health", "fitted", "choice"),
    [
        (80.0, GLUED, KEEP),
        (79.9, CLIPPED, SELL_AS_IS),
        (50.0, CLIPPED, SELL_AS_IS),
        (49.9, CLIPPED, REPLACE),
        (49.9, SCREWED, REPLACE),
        (49.9, GLUED, SELL_AS_IS),
        (49.9, "", SELL_AS_IS),
        (30.0, GLUED, SELL_AS_IS),
        (29.9, GLUED, REPLACE),
        (9.0, "", REPLACE),
        (79.999, CLIPPED, SELL_AS_IS),
    ],
)
def test_while_no_costs_are_known(health: float, fitted: str, choice: str) -> None:
    assert choose(health, fitted).choice == choice


def test_costs_of_replacing_by_hand() -> None:
    # pack 40.00, 30.00 an hour: clipped 5 min = 2.50; screwed 20 min = 10.00; glued 60 min = 30.00 and a
    # risk of 20 % of 70.00 = 14.00. The last line of 33 minor units: 5 min at 3.94 an hour = 0.3283 -> 33.
    weighed = Weighed(4000, 9000, 3000)
    assert choose(70.0, CLIPPED, weighed=weighed).cost_minor == 4250
    assert choose(70.0, SCREWED, weighed=weighed).cost_minor == 5000
    assert choose(70.0, "", weighed=weighed).cost_minor == 5000
    assert choose(70.0, GLUED, weighed=weighed).cost_minor == 8400
    assert choose(70.0, CLIPPED, weighed=Weighed(0, 0, 394)).cost_minor == 33


@pytest.mark.parametrize(("gain", "choice"), [(8401, REPLACE), (8400, SELL_AS_IS), (5001, SELL_AS_IS)])
def test_a_glued_pack_must_gain_more(gain: int, choice: str) -> None:
    found = choose(70.0, GLUED, weighed=Weighed(4000, gain, 3000))
    assert found.choice == choice
    assert (CAUTION_GLUED in found.cautions) == (choice == REPLACE)
    if gain > 5000:
        assert choose(70.0, SCREWED, weighed=Weighed(4000, gain, 3000)).choice == REPLACE


def test_a_spent_pack_is_never_sold_as_it_is() -> None:
    dear = Weighed(4000, 1, 3000)
    assert choose(30.0, SCREWED, weighed=dear).choice == SELL_AS_IS
    spent = choose(9.0, SCREWED, weighed=dear)
    assert spent.choice == AS_WITHOUT
    assert "9.0 % of design: spent" in spent.why
    assert choose(9.0, SCREWED, weighed=Weighed(4000, 10**6, 3000)).choice == REPLACE


def test_the_rules_are_shown_and_own_up_to_having_no_source() -> None:
    assert choose(70.0, "").rules == RULES
    assert [rule.source for rule in RULES[:-1]] == [COMMON_PRACTICE] * 6
    assert "173.185" in RULES[-1].source
    with pytest.raises(BadInput, match="glued in"):
        choose(70.0, "welded")


def heat(load: int, room: int, power: int) -> dict[str, object]:
    return {"load_tenths_c": load, "room_tenths_c": room, "power_mw": power}


@pytest.mark.parametrize(
    ("before", "after", "standing", "words"),
    [
        # reference case: 92 in 24, 45 W -> 1.511; 71 in 22 -> 1.089, readings of ±1 K, power of ±5 %, k = 2:
        # 2 × √(4/3/45² + (1.511² + 1.089²) × 0.05²/3) = 0.119
        (heat(920, 240, 45_000), heat(710, 220, 45_000), FINE, "1.51 → 1.09 K/W, readings explain ±0.12"),
        (heat(710, 220, 45_000), heat(920, 240, 45_000), ACT, "HOTTER"),
        (heat(920, 240, 45_000), heat(910, 240, 45_000), OPEN, "No change beyond the readings"),
        (heat(200, 240, 45_000), heat(910, 240, 45_000), OPEN, "cannot be"),
    ],
)
def test_heat_is_compared_over_room_per_watt(
    before: dict[str, object], after: dict[str, object], standing: str, words: str
) -> None:
    (found,) = compared("heat", before, after)
    assert found.standing == standing
    assert words in found.words


def test_nothing_else_is_compared() -> None:
    assert compared("battery", pack(1), pack(2)) == ()
    assert compared("heat", heat(920, 240, 45_000), {}) == ()
    assert compared("heat", {}, heat(920, 240, 45_000)) == ()
