"""What the calculators conclude: which answer is past a limit, and that it says so."""

from __future__ import annotations

import math
from decimal import Decimal, localcontext

import pytest

from bench.domain.calculators.registry import CALCULATORS
from bench.domain.calculators.shape import Answer
from bench.domain.calculators.solvent_air import Use, airing_minutes, effective_changes
from bench.domain.calculators.worked import work
from bench.errors import BadInput
from tests.domain.calculators.examples import EXAMPLES

BY_NAME = {calculator.name: calculator for calculator in CALCULATORS}


def answers(name: str, **typed: str) -> dict[str, Answer]:
    sheet = work(BY_NAME[name], {**EXAMPLES[name], **typed})
    assert not sheet.wrong
    return {answer.name: answer for answer in sheet.answers}


def number(answer: Answer) -> float:
    assert isinstance(answer.value, float)
    return answer.value


def test_no_size_fits_says_what_else_to_do() -> None:
    found = answers("tubing", over="30")
    assert found["take"].alert
    assert found["take"].shown() == "no size listed fits"
    assert number(found["ratio"]) == pytest.approx(36 / 3.5)
    assert number(found["build_up"]) == 13
    assert found["replace"].value == "replace the lead"
    assert answers("tubing", over="60")["build_up"].shown() == "no listed size passes over it"


def test_the_lowest_ratio_that_fits_is_taken_its_smallest_size_first() -> None:
    assert answers("tubing", over="5", cable="4")["take"].value == "6.4/3.2 mm, 2:1"
    assert answers("tubing", over="5", cable="2.5")["take"].value == "6/2 mm, 3:1"
    assert answers("tubing", over="6.5", cable="2.5")["take"].value == "8/2 mm, 4:1"


def test_a_size_that_grips_goes_before_a_lower_ratio_that_hardly_does() -> None:
    # 9.5/4.8 of 2:1 would shrink just 4 % below a cable of 5 mm, 9/3 of 3:1 40 %.
    found = answers("tubing", over="7.5", cable="5")
    assert found["take"].value == "9/3 mm, 3:1"
    assert number(found["margin"]) == pytest.approx(40)
    # A hold of a tenth is enough for the lower ratio: 4.8 on 5.4 holds 11 %, on 5.3 only 9.
    assert answers("tubing", over="7.5", cable="5.4")["take"].value == "9.5/4.8 mm, 2:1"
    assert answers("tubing", over="7.5", cable="5.3")["take"].value == "9/3 mm, 3:1"
    # Where nothing holds well the best is taken, and said to hold slightly.
    slight = answers("tubing", over="40", cable="25.6")
    assert slight["take"].value == "50.8/25.4 mm, 2:1"
    assert slight["margin"].alert
    assert "HOLDS SLIGHTLY" in slight["margin"].based_on


@pytest.mark.parametrize(
    ("after", "verdict", "alert"),
    [
        ("71", "cooler per watt", False),
        ("91", "no change beyond the readings", False),
        ("93", "no change beyond the readings", False),
        ("99", "HOTTER per watt: look at it again", True),
    ],
)
def test_a_repaste_is_judged_by_more_than_noise(after: str, verdict: str, alert: bool) -> None:
    found = answers("paste", room_after="24", hot_after=after)["verdict"]
    assert (found.value, found.alert) == (verdict, alert)


def test_a_cooler_chip_at_less_power_is_not_a_better_paste() -> None:
    found = answers("paste", hot_after="71", room_after="22", power_after="25")
    assert number(found["after"]) > number(found["before"])
    assert found["verdict"].alert


@pytest.mark.parametrize("name", ["peak_share", "mean_share", "flammable_share"])
def test_air_past_a_limit_is_an_alert_from_the_limit_on(name: str) -> None:
    # In a sealed room every share is in proportion to the grams: take just under and just over 100 %.
    at_ten = number(answers("solvent", changes="0")[name])
    under = answers("solvent", changes="0", used=f"{10 * 99.9 / at_ten:.4f}")[name]
    over = answers("solvent", changes="0", used=f"{10 * 100.1 / at_ten:.4f}")[name]
    assert (under.alert, over.alert) == (False, True)
    assert "OVER" not in under.based_on
    assert over.based_on.startswith("OVER")


def test_airing_goes_by_the_open_window_that_is_asked_for() -> None:
    sheet = work(BY_NAME["solvent"], {"used": "10", "room": "30"})
    assert sheet.parts[1].lacks == ("Air changes, window open",)
    # By hand: ln(peak/20) over the changes through the window by the mixing factor, in minutes.
    peak = number(answers("solvent")["peak"])
    for window in (2, 10):
        minutes = math.log(peak / 20) / (window / 3) * 60
        assert number(answers("solvent", window=str(window))["airing"]) == pytest.approx(minutes)


def test_jobs_of_one_day_add_up() -> None:
    once, four = answers("solvent"), answers("solvent", jobs="4")
    assert number(four["mean"]) == pytest.approx(4 * number(once["mean"]))
    assert number(four["sealed"]) == pytest.approx(4 * number(once["sealed"]))
    # What one job leaves is there when the next begins, and nothing passes all of it at once.
    assert number(once["peak"]) < number(four["peak"]) < number(four["sealed"])
    many = answers("solvent", used="5", jobs="30")
    assert not answers("solvent", used="5")["mean_share"].alert
    assert many["mean_share"].alert
    assert "more than a day" in work(BY_NAME["solvent"], {**EXAMPLES["solvent"], "jobs": "33"}).parts[0].wrong
    assert work(BY_NAME["solvent"], {**EXAMPLES["solvent"], "jobs": "32"}).parts[0].answers


def test_poor_mixing_counts_as_fewer_air_changes() -> None:
    assert effective_changes(6, 3) == pytest.approx(2)
    # MMWR 43 (RR-13) 1994: the time from the table times the mixing factor.
    assert airing_minutes(1000, 10, effective_changes(6, 3)) == pytest.approx(3 * 46, abs=1)
    for wrong in (0.99, 10.01):
        with pytest.raises(BadInput, match="Give 1 \\(perfect\\) to 10 \\(poor\\)"):
            effective_changes(6, wrong)
    assert (effective_changes(6, 1), effective_changes(6, 10)) == (6, 0.6)
    once, thrice = answers("solvent", mixing="1"), answers("solvent", mixing="3")
    assert number(thrice["peak"]) > number(once["peak"])
    assert number(thrice["air"]) == pytest.approx(3 * number(once["air"]))


@pytest.mark.parametrize("changes", [1e-7, 1e-6, 1.24e-5, 1.26e-5, 1e-4, 1e-3])
def test_hardly_any_air_change_is_reckoned_to_the_last_digits(changes: float) -> None:
    # The exact mean by 50 digits; where a plain formula would lose digits the program takes a series.
    with localcontext() as context:
        context.prec = 50
        rate, hours = Decimal(changes), Decimal(8)
        exact = (hours - (1 - (-rate * hours).exp()) / rate) / rate / hours * 1000 / 8
    assert Use(8.0, 8.0, 8.0, changes).mean_mg_m3(8) == pytest.approx(float(exact), rel=1e-9)


def test_a_battery_over_a_line_says_full_rules() -> None:
    assert not answers("battery", design="60")["small"].alert
    assert answers("battery", design="60.1", cells="3")["small"].alert
    assert answers("battery", design="101", cells="8")["small"].alert


def test_a_gauge_above_design_is_doubted() -> None:
    assert answers("battery", full="52", design="48.8")["health"].based_on.startswith("above design")
    assert answers("battery", full="48", design="48.8")["health"].based_on.startswith("the gauge's own")


def test_cycles_of_a_pack_that_tells_none() -> None:
    assert answers("battery", cycles="0")["cycles_own"].value is None
    assert answers("battery", cycles="")["cycles_own"].value is None
    assert number(answers("battery", cycles="212")["cycles_own"]) > 0


def test_milliampere_hours_count_with_the_voltage() -> None:
    found = answers("battery", full="4000 mAh", design="4400 mAh", volts="10")
    assert number(found["health"]) == pytest.approx(4000 / 44)
    assert number(found["runtime"]) == pytest.approx(40 / 8.5)
    sheet = work(BY_NAME["battery"], {"full": "4000 mAh", "design": "44", "volts": ""})
    assert "needs the nominal voltage" in sheet.parts[0].wrong


def test_a_worn_out_drive_is_an_alert() -> None:
    assert not answers("drive", used="99")["left"].alert
    assert answers("drive", used="100")["left"].alert
    assert answers("drive", used="0")["years_low"].value is None
    assert answers("drive", used="1")["years_high"].value is None


def test_years_past_twenty_are_not_told() -> None:
    # 32.15 TB written; 900 TB rated at 117 GB a day: 868 TB / 42.7 TB a year = 20.3 years.
    assert answers("drive", rated="900", pace="117")["years_rated"].shown() == "more than 20 years"
    assert number(answers("drive", rated="900", pace="121")["years_rated"]) == pytest.approx(19.65, abs=0.01)
    assert answers("drive", pace="1")["years_low"].shown() == "more than 20 years"
    assert answers("drive", pace="1")["years_high"].shown() == "more than 20 years"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "the ratings match"),
        ({"adapter_a": "3.33"}, "NO: the current is too small"),
        ({"adapter_a": "9"}, "the ratings match"),
        ({"adapter_v": "20"}, "the ratings match"),
        ({"adapter_v": "20.4"}, "the ratings match"),  # 4.6 % above
        ({"adapter_v": "20.5"}, "NO: the voltage differs"),
        ({"adapter_v": "18.5"}, "NO: the voltage differs"),
        ({"polarity": "opposite"}, "NO: the polarity is opposite"),
        ({"polarity": "same"}, "the ratings match"),
        ({"adapter_v": "12", "adapter_a": "2"}, "NO: the voltage differs, the current is too small"),
    ],
)
def test_an_adapter_serves_or_says_why_not(typed: dict[str, str], words: str) -> None:
    found = answers("charger", **typed)["verdict"]
    assert found.value == words
    assert found.alert == words.startswith("NO")
    assert (found.based_on == "do not plug it in") == found.alert


def test_an_unchecked_polarity_is_asked_for() -> None:
    assert "polarity mark" in answers("charger")["verdict"].based_on
    assert "plug" in answers("charger", polarity="same")["verdict"].based_on


@pytest.mark.parametrize(
    ("source", "need", "volts", "cable", "serves"),
    [
        ("65", "60", "20", "3 A", True),
        ("65", "65", "20", "3 A", False),
        ("65", "65", "20", "5 A", True),
        ("45", "45", "20", "5 A", False),
        ("45", "45", "15", "3 A", True),
        ("100", "65", "12", "5 A", False),
    ],
)
def test_a_usb_source_serves_only_at_a_level_it_offers(
    source: str, need: str, volts: str, cable: str, serves: bool
) -> None:
    found = answers("charger", source=source, need=need, need_v=volts, cable=cable)["usb_verdict"]
    assert found.alert != serves
    assert str(found.value).startswith("NO") != serves


def test_a_lead_that_loses_much_is_an_alert() -> None:
    assert not answers("charger")["drop_share"].alert
    assert answers("charger", gauge="24", lead="3")["drop_share"].alert
    # 5 % of 19.5 V at 1 A over 2 × 42.05 Ω/km (AWG 21, by the formula): 11.59 m.
    by_length = {
        length: answers("charger", gauge="21", laptop_a="1", lead=length) for length in ("11.5", "11.7")
    }
    assert [found["drop_share"].alert for found in by_length.values()] == [False, True]


def test_a_wire_too_thin_is_refused_in_words() -> None:
    found = answers("charger", gauge="26", laptop_a="2.3")
    assert found["wire"].shown() == "NO: 2.3 A is over the 2.2 A of AWG 26"
    assert found["wire"].alert
    assert found["wire"].noted
    assert "drop" not in found
    assert "drop_share" not in found
    assert number(answers("charger", gauge="26", laptop_a="2.2")["wire"]) == 2.2
    # An odd gauge as the next thinner; past the table nothing is claimed.
    assert number(answers("charger", gauge="25", laptop_a="1")["wire"]) == 2.2
    lead = work(BY_NAME["charger"], {**EXAMPLES["charger"], "gauge": "31"}).parts[1]
    assert "no published current limit" in lead.wrong


def test_every_note_on_a_plug_says_that_its_polarity_was_not_checked() -> None:
    whole = EXAMPLES["charger"]
    assert "Polarity not checked" in work(BY_NAME["charger"], whole).note()
    lead = {name: whole[name] for name in ("gauge", "lead", "laptop_a", "adapter_v")}
    assert "Polarity not checked" in work(BY_NAME["charger"], {**lead, "gauge": "30"}).note()
    adapter = {**whole, "adapter_v": "12"}
    assert "Polarity not checked" in work(BY_NAME["charger"], adapter).note()
    assert "Polarity same" in work(BY_NAME["charger"], {**whole, "polarity": "same"}).note()


@pytest.mark.parametrize(
    ("need", "volts", "cable", "words"),
    [
        ("60", "20", "3 A", "the ratings match"),
        ("61", "20", "3 A", "NO: above 60 W at 20 V a 5 A cable is needed"),
        ("100", "20", "5 A", "the ratings match"),
        ("101", "20", "5 A", "NO: charges slowly, drains in use, or not at all"),
        ("84", "28", "3 A", "NO: above 20 V an extended-power cable of 240 W is needed"),
        ("140", "28", "5 A", "NO: above 20 V an extended-power cable of 240 W is needed"),
        ("140", "28", "240 W", "the ratings match"),
        ("180", "36", "240 W", "the ratings match"),
        ("240", "48", "240 W", "the ratings match"),
        ("60", "12", "240 W", "NO: it offers nothing at 12 V"),
    ],
)
def test_a_usb_cable_bears_only_what_it_is_made_for(need: str, volts: str, cable: str, words: str) -> None:
    found = answers("charger", source="240", need=need, need_v=volts, cable=cable)
    assert found["usb_verdict"].value == words
    if "extended" in words:
        assert found["arrives"].shown() == "nothing to claim"


def test_the_service_level_raises_the_reorder_point() -> None:
    levels = [number(answers("stock", service=service)["point"]) for service in ("50", "90", "95", "99")]
    assert levels == sorted(set(levels))
    assert number(answers("stock", service="50")["safety"]) == pytest.approx(0, abs=1e-9)
    assert levels[0] == pytest.approx(12.5 * 5)


@pytest.mark.parametrize(("surface", "over"), [("47.9", False), ("48", False), ("48.1", True)])
def test_a_surface_is_over_its_limit_from_just_above_it(surface: str, over: bool) -> None:
    found = answers("touch", surface=surface)
    assert found["verdict"].alert == over
    assert str(found["verdict"].value).startswith("OVER") == over
    assert number(found["spare"]) == pytest.approx(48 - float(surface))


def test_a_surface_is_judged_in_the_standards_room() -> None:
    # 46 °C in a cold room of 20 is 51 in one of 25: over 48 there, though not as measured.
    cold = answers("touch", surface="46", room="20")
    assert number(cold["standard"]) == 51
    assert (cold["verdict"].value, cold["verdict"].alert) == ("OVER the limit", True)
    # 50 °C in a warm room of 30 is 45 in one of 25; the hand on it now feels 50 all the same.
    warm = answers("touch", surface="50", room="30")
    assert number(warm["standard"]) == 45
    assert "OVER it in this room as it is now" in str(warm["verdict"].value)
    assert warm["verdict"].alert
    assert "50 − 30 + 25" in warm["standard"].based_on


@pytest.mark.parametrize(("room", "said"), [("14.9", True), ("15", False), ("35", False), ("35.1", True)])
def test_a_room_too_far_from_the_standards(room: str, said: bool) -> None:
    sheet = work(BY_NAME["touch"], {**EXAMPLES["touch"], "room": room})
    assert ("too far from the standard's 25 °C" in sheet.parts[0].wrong) == said


def test_without_the_room_a_surface_is_not_judged() -> None:
    sheet = work(BY_NAME["touch"], {**EXAMPLES["touch"], "room": ""})
    assert sheet.parts[0].lacks == ("Room, as measured beside it",)


# Each worked apart from the program from the examples: plain arithmetic, or the source named in
# tests/published. They prove that the right figure goes into the right sum, in the right unit.
WIRED = {
    ("tubing", "cut"): 30 / 0.9,
    ("tubing", "margin"): 0.5 / 3.5 * 100,
    ("paste", "dispense"): 0.015,
    ("paste", "resistance"): 50 / (8.5 * 150),
    ("paste", "jobs"): 106,
    ("paste", "uncertainty"): 2 * (4 / 45**2 + 0.05**2 * ((68 / 45) ** 2 + (49 / 45) ** 2)) ** 0.5 / 3**0.5,
    ("paste", "change"): ((71 - 22) / (92 - 24) - 1) * 100,
    ("solvent", "sealed"): 135.62,
    ("solvent", "take"): 707.07,
    ("solvent", "peak"): 132.83,
    ("solvent", "flammable_share"): 6.641,
    ("solvent", "peak_share"): 33.21,
    ("solvent", "air"): 40 * 3 / (200 * 60.095 / 24.45 / 1000),
    ("battery", "health"): 41.2 / 48.84 * 100,
    ("battery", "design_wh"): 48.84,
    ("battery", "cell_wh"): 48.84 / 3,
    ("battery", "runtime"): 41.2 / 8.5,
    ("battery", "cycles_rated"): (41.2 / 48.84 * 100 - 80) / (20 / 500),
    ("drive", "written"): 62_786_553 * 512_000 / 1e12,
    ("drive", "left"): 97,
    ("drive", "years_rated"): (600 - 32.1467) / (250 / 1000 * 365),
    ("drive", "dwpd"): 600 / (1 * 365 * 5),
    ("charger", "spare"): 0,
    ("charger", "arrives"): 60,
    ("charger", "drop"): 0.2520,
    ("screen", "ppi"): 141.21,
    ("screen", "coverage"): 100,
    ("screen", "ratio"): 100,
    ("screen", "area"): 0.11205,
    ("stock", "point"): 62.5 + 1.64485 * 6 * 5**0.5,
    ("stock", "cover"): 14.4,
    ("stock", "quantity"): (2 * 12.5 * 365 * 6 / 0.02) ** 0.5,
    ("touch", "limit"): 48,
    ("touch", "standard"): 46,
    ("solvent", "airing"): 34.08,
    ("touch", "air"): 45 / (1.2 * 1005 * 15) * 3600,
    ("touch", "air_rise"): 45 / (1.2 * 1005 * 20 / 3600),
}


@pytest.mark.parametrize(("name", "answer"), WIRED)
def test_the_right_figure_goes_into_the_right_sum(name: str, answer: str) -> None:
    assert number(answers(name)[answer]) == pytest.approx(WIRED[name, answer], rel=2e-3, abs=1e-9)


def test_coverage_is_told_apart_from_the_ratio() -> None:
    found = answers("screen", space="NTSC 1953")
    assert number(found["coverage"]) == pytest.approx(68.46, abs=0.005)
    assert number(found["ratio"]) == pytest.approx(70.83, abs=0.005)
