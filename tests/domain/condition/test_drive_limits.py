"""At which figure a drive's wear is stated, and at which it is acted on."""

from __future__ import annotations

import pytest

from bench.domain.calculators.drive_wear import percent_left
from bench.domain.condition.drive_verdicts import drive_findings
from bench.domain.condition.figures import shown
from bench.domain.condition.found import ACT, FINE, STATE
from bench.errors import BadInput


@pytest.mark.parametrize(("used", "standing"), [(79, FINE), (80, STATE), (99, STATE), (100, ACT), (255, ACT)])
def test_wear_is_stated_from_80_percent_used_and_acted_on_from_100(used: int, standing: str) -> None:
    (found,) = drive_findings({"used_percent": used})
    assert (found.name, found.standing) == ("used", standing)


def test_what_one_byte_cannot_say_is_refused() -> None:
    # NVM Express base specification: percentage used is one byte; 100 is the estimated endurance consumed.
    assert (percent_left(0), percent_left(99), percent_left(100), percent_left(255)) == (100, 1, 0, 0)
    for wrong in (-1, 256):
        with pytest.raises(BadInput, match="The log gives 0 to 255"):
            percent_left(wrong)


def test_written_units_are_thousands_of_512_bytes() -> None:
    assert shown("data_units_written", 62_786_553) == "32.15 TB"
