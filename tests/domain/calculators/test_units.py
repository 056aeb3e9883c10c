"""Figures with units: read as people type them, held against pint, refused in one sentence."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.calculators.measures import UNITS, not_negative, positive, read_figure, share_below_all
from bench.errors import BadInput

REGISTRY = pint.UnitRegistry()
# How the reference library spells what people type here.
SPELLED = {
    "in": "inch",
    '"': "inch",
    "ft": "foot",
    "ft3": "foot**3",
    "µm": "micrometer",
    "um": "micrometer",
    "mm²": "mm**2",
    "mm2": "mm**2",
    "cm²": "cm**2",
    "cm2": "cm**2",
    "m³": "m**3",
    "m3": "m**3",
    "m³/h": "m**3/hour",
    "m3/h": "m**3/hour",
    "cfm": "foot**3/minute",
    "l": "liter",
    "ml": "milliliter",
    "g/cm³": "g/cm**3",
    "g/cm3": "g/cm**3",
    "g/ml": "g/milliliter",
    "kg/m3": "kg/m**3",
    "W/mK": "W/(m*K)",
    "mW/mK": "mW/(m*K)",
    "h": "hour",
    "min": "minute",
    "s": "second",
    "d": "day",
    "days": "day",
    "years": "year",
    "per h": "1/hour",
    "/h": "1/hour",
    "GB/day": "gigabyte/day",
    "TB/day": "terabyte/day",
    "MB/day": "megabyte/day",
    "TB": "terabyte",
    "GB": "gigabyte",
    "MB": "megabyte",
    "MB/s": "megabyte/second",
    "GB/s": "gigabyte/second",
    "kB/s": "kilobyte/second",
    "Mbit/s": "megabit/second",
    "Gbit/s": "gigabit/second",
    "kbit/s": "kilobit/second",
    "dBm": "decibelmilliwatt",
    "cd/m²": "cd/m**2",
    "cd/m2": "cd/m**2",
    "nits": "nit",
    "%": "percent",
}
DEGREES = {"°C": "degC", "C": "degC", "K": "kelvin", "F": "degF"}
DIFFERENCES = {"K": "delta_degC", "°C": "delta_degC", "C": "delta_degC", "F": "delta_degF"}
PAIRS = [(unit, typed) for unit, accepted in UNITS.items() for typed in accepted]


def _names(unit: str) -> dict[str, str]:
    return {"°C": DEGREES, "K": DIFFERENCES}.get(unit, SPELLED)


def _library(value: float, typed: str, unit: str) -> float:
    names = _names(unit)
    quantity = REGISTRY.Quantity(value, names.get(typed, typed))
    return float(quantity.to(names.get(unit, unit)).magnitude)


@pytest.mark.parametrize(("unit", "typed"), PAIRS)
def test_every_unit_agrees_with_pint(unit: str, typed: str) -> None:
    value, read_as = read_figure(f"36.5 {typed}", "The figure", (unit,))

    assert read_as == unit
    assert value == pytest.approx(_library(36.5, typed, unit), rel=1e-12, abs=1e-9)


@given(pair=st.sampled_from(PAIRS), thousandths=st.integers(1, 10**9))
def test_there_and_back_by_pint_is_the_same_figure(pair: tuple[str, str], thousandths: int) -> None:
    unit, typed = pair
    text = f"{thousandths / 1000:.3f}"
    value, _ = read_figure(f"{text} {typed}", "The figure", (unit,))

    assert _library(value, unit, unit) == pytest.approx(value)
    names = _names(unit)
    back = REGISTRY.Quantity(value, names.get(unit, unit)).to(names.get(typed, typed)).magnitude
    assert back == pytest.approx(float(text), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("5.5", "mm", 5.5),
        (" 5,5 ", "mm", 5.5),
        ("0.55 cm", "mm", 5.5),
        ("0.55cm", "mm", 5.5),
        ("1.234", "mm", 1.234),
        ("0,234", "mm", 0.234),
        ("1 234", "mm", 1234),
        ("1'234.5", "mm", 1234.5),
        ("62,786,553", "", 62_786_553),
        ("1.234.567", "", 1_234_567),
        ("+3", "", 3),
        ("-5 C", "°C", -5),
        ("−5", "°C", -5),
        ("68 F", "°C", 20),
        ("293.15 K", "°C", 20),
        ("18 F", "K", 10),
        ("50 μm", "µm", 50),
        ("15.6″", "in", 15.6),
    ],
)
def test_as_people_type(text: str, unit: str, value: float) -> None:
    assert read_figure(text, "The figure", (unit,))[0] == pytest.approx(value)


def test_one_group_of_a_whole_number_is_thousands() -> None:
    assert read_figure("786,553", "Data units", ("",), whole=True) == (786_553, "")
    with pytest.raises(BadInput, match=r"may mean 786553 or 786\.553"):
        read_figure("786,553", "Data units", ("",))


def test_a_figure_may_come_in_another_unit() -> None:
    assert read_figure("4400 mAh", "Design", ("Wh", "mAh")) == (4400, "mAh")
    assert read_figure("4.4 Ah", "Design", ("Wh", "mAh")) == (4400, "mAh")
    assert read_figure("48.8", "Design", ("Wh", "mAh")) == (48.8, "Wh")
    with pytest.raises(BadInput, match="Give it in Wh, mWh, kWh, mAh, Ah"):
        read_figure("48.8 V", "Design", ("Wh", "mAh"))


@pytest.mark.parametrize(
    "text",
    ["", "nan", "NaN", "inf", "-inf", "∞", "text", "½", "٣", "e3", "..", "1.2.3", "1,2,3", "--5", "5\n5"],
)
def test_what_is_no_figure(text: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_figure(text, "The die area", ("mm²",))
    assert caught.value.what.startswith("The die area")
    assert caught.value.remedy


@pytest.mark.parametrize("text", ["5 kg", "5 5", "1e3", "5 MM", "5 m m", "5 [/]"])
def test_a_unit_that_does_not_fit(text: str) -> None:
    with pytest.raises(BadInput, match="has a unit that does not fit"):
        read_figure(text, "The cable", ("mm",))


def test_a_bare_number_takes_no_unit() -> None:
    with pytest.raises(BadInput, match="Give the number alone"):
        read_figure("5 mm", "Cycles", ("",))


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused_in_one_sentence(text: str) -> None:
    sentence, value = "", 0.0
    try:
        value, _ = read_figure(text, "The figure", ("mm",))
    except BadInput as error:
        sentence = str(error)
    assert math.isfinite(value)
    assert not sentence or sentence.startswith("The figure")
    assert "\n" not in sentence


@pytest.mark.parametrize("value", [0, -1, math.nan, math.inf, -math.inf])
def test_guards(value: float) -> None:
    with pytest.raises(BadInput, match="The room cannot be"):
        positive(value, "The room")
    if value != 0:
        with pytest.raises(BadInput, match="The room cannot be"):
            not_negative(value, "The room")
        with pytest.raises(BadInput, match="The shrink cannot be"):
            share_below_all(value, "The shrink")
    assert positive(0.5, "The room") == 0.5
    assert not_negative(0, "The room") == 0
    assert share_below_all(15, "The shrink") == pytest.approx(0.15)
    with pytest.raises(BadInput, match="less than 100"):
        share_below_all(100, "The shrink")
