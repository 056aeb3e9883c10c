"""Drive wear against published health logs and makers' endurance arithmetic."""

import pytest

from bench.domain.calculators.drive_wear import (
    bytes_written,
    drive_writes_a_day,
    percent_left,
    terabytes_written,
    years_by_rating,
    years_by_wear,
)
from tests.published.cases import Case

LOG = "published health logs: data units and the terabytes shown beside them"
PRINTED = "half of the last digit printed"

CASES = (
    *(
        Case(
            f"{units:,} data units, TB",
            LOG,
            lambda units=units: terabytes_written(units),
            tb,
            within,
            PRINTED,
        )
        for units, tb, within in (
            (62_786_553, 32.1, 0.05),
            (107_103_479, 54.8, 0.05),
            (1_665_680, 0.85, 0.005),
            (1_000_000, 0.512, 0.0005),
        )
    ),
    Case(
        "one data unit, bytes",
        "NVMe base specification: 1000 units of 512 bytes",
        lambda: bytes_written(1),
        512_000,
        0,
        "a definition",
    ),
    Case(
        "3.84 TB, 7,008 TBW, 5 years: writes a day",
        "servnetuk.com: one, of about 7,008 TBW",
        lambda: drive_writes_a_day(7008, 3.84, 5),
        1.0,
        0.0005,
        PRINTED,
    ),
    Case(
        "1 TB, 365 TBW, 4 years: writes a day",
        "logwash.mystrikingly.com: 0.25",
        lambda: drive_writes_a_day(365, 1, 4),
        0.25,
        0.0005,
        PRINTED,
    ),
    Case(
        "1.92 TB, 3504 TBW, 5 years: writes a day",
        "herosys.com.tw (3504 TBW), one write a day by makers' definition",
        lambda: drive_writes_a_day(3504, 1.92, 5),
        1.0,
        0.0005,
        "exact but for the float",
    ),
    Case(
        "600 TBW at 30 GB a day, years",
        "strategia-x.com: 54",
        lambda: years_by_rating(600, 0, 30),
        54.0,
        1.0,
        "the page cuts the decimals",
    ),
    Case(
        "600 TBW at 10 GB a day, years",
        "strategia-x.com: 164",
        lambda: years_by_rating(600, 0, 10),
        164.0,
        1.0,
        "the page cuts the decimals",
    ),
    Case(
        "600 TBW at 200 GB a day, years",
        "strategia-x.com: 8",
        lambda: years_by_rating(600, 0, 200),
        8.0,
        0.5,
        "printed to whole years",
    ),
    Case("255 % used: left", "NVMe base specification", lambda: percent_left(255), 0, 0, "a line"),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.case)
def test_published(case):
    assert case.holds(), f"{case.got()} instead of {case.expected}"


def test_the_span_of_the_whole_percent_holds_the_true_figure():
    # A drive whose true wear is between 2 and 4 percent shows 3: whatever it is, its years lie in the span.
    years = years_by_wear(30.0, 3, 20.0)
    assert years is not None
    assert years.high is not None
    for true_used in (2.01, 2.5, 3.0, 3.5, 3.99):
        exact = (100 - true_used) * 30.0 / true_used / (20 / 1000 * 365)
        assert years.low < exact < years.high
