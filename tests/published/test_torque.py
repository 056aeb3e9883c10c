"""Torques as typed, against pint's own table of units.

Source: SI brochure (BIPM, 9th edition, 2019) for the newton metre and its prefixes, as pint has them.
"""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bench.domain.model_page import MOST_TORQUE_MNM, read_torque, show_torque
from bench.errors import BadInput

UNITS = pint.UnitRegistry()
PINTS = {"Nm": "newton * meter", "Ncm": "newton * centimeter", "mNm": "millinewton * meter"}


@pytest.mark.parametrize(
    ("number", "unit"), [("0.2", "Nm"), ("20", "Ncm"), ("200", "mNm"), ("0.065", "Nm"), ("6,5", "Ncm")]
)
def test_a_torque_is_as_pint_has_it(number: str, unit: str) -> None:
    meant = UNITS.Quantity(float(number.replace(",", ".")), PINTS[unit]).to("millinewton * meter")
    assert read_torque(f"{number} {unit}") == pytest.approx(meant.magnitude, rel=1e-12)


@given(st.integers(1, MOST_TORQUE_MNM))
def test_what_is_shown_is_read_again(mnm: int) -> None:
    assert read_torque(show_torque(mnm)) == mnm


@pytest.mark.parametrize("typed", ["", "0.2", "0 Nm", "0.00001 Nm", "6 Nm", "-1 Nm", "tight", "1 lbf"])
def test_what_is_no_torque_of_a_laptops_screw_is_refused(typed: str) -> None:
    with pytest.raises(BadInput):
        read_torque(typed)
