"""`python -m tests.published.table` lists every published case in README.md and every limit in LIMITS.md."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from bench.domain.limits.record import UNVERIFIED, Limit
from bench.domain.limits.table import whole_table
from tests.published import (
    test_calculator_battery,
    test_calculator_charger,
    test_calculator_drive_wear,
    test_calculator_paste,
    test_calculator_screen_area,
    test_calculator_solvent_air,
    test_calculator_stock_figures,
    test_calculator_touch,
    test_calculator_tubing,
)
from tests.published.cases import Case

README = Path(__file__).with_name("README.md")
LIMITS = Path(__file__).with_name("LIMITS.md")
CASES: dict[str, tuple[Case, ...]] = {
    "tubing": test_calculator_tubing.CASES,
    "paste": test_calculator_paste.CASES,
    "solvent": test_calculator_solvent_air.CASES,
    "battery": test_calculator_battery.CASES,
    "drive": test_calculator_drive_wear.CASES,
    "charger": test_calculator_charger.CASES,
    "screen": test_calculator_screen_area.CASES,
    "stock": test_calculator_stock_figures.CASES,
    "touch": test_calculator_touch.CASES,
}
HEAD = """# Calculators against the outside

Each line is run as a test: what the calculator gives must be the value from the source, within the tolerance.
`python -m tests.published.table` makes this file from the tests; a test fails when it is out of date.
Besides these, scipy, stockpyl, numpy and pint check whole ranges, see the test files.

| calculator | source | case | expected | tolerance | why that tolerance |
| --- | --- | --- | --- | --- | --- |
"""
LIMITS_HEAD = """# Limits and constants

What the calculators and verdicts go by: `bench/domain/limits/` as `python -m tests.published.table` lists it.
"Common practice, no source" is a rule of thumb, the shop's to overrule; "unverified": not read in its source.
Each row is held to a printed figure; `python -m tests.published.mutate` changes each and a test must fail.

| limit | value | unit | source | edition | checked |
| --- | --- | --- | --- | --- | --- |
"""


def limits_table() -> str:
    """The whole list of limits, as it should stand in LIMITS.md."""
    return LIMITS_HEAD + "".join(_limit_row(limit) for limit in whole_table().values())


def _limit_row(limit: Limit) -> str:
    source = f"{limit.source}, **{UNVERIFIED}**" if limit.unverified else limit.source
    cells = (limit.id, limit.typed, limit.unit, source, limit.edition, limit.checked)
    return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |\n"


def table() -> str:
    """The whole document, as it should stand in README.md."""
    return HEAD + "".join(_rows())


def _rows() -> Iterator[str]:
    for calculator, cases in CASES.items():
        for case in cases:
            cells = (
                calculator,
                case.source,
                case.case,
                _expected(case.expected),
                f"± {case.tolerance:.2g}" if case.tolerance else "exact",
                case.why,
            )
            yield f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |\n"


def _expected(value: object) -> str:
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def main() -> int:
    """Write the two documents, and say so."""
    README.write_text(table(), encoding="utf-8")
    LIMITS.write_text(limits_table(), encoding="utf-8")
    sys.stdout.write(f"Wrote {README} and {LIMITS}.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
