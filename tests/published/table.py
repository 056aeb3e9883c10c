"""`python -m tests.published.table` lists every calculator's published cases in README.md beside it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from tests.published import (
    test_calculator_battery,
    test_calculator_charger,
    test_calculator_drive_wear,
    test_calculator_paste,
    test_calculator_screen_area,
    test_calculator_solvent_air,
    test_calculator_stock_sums,
    test_calculator_touch,
    test_calculator_tubing,
)
from tests.published.cases import Case

README = Path(__file__).with_name("README.md")
CASES: dict[str, tuple[Case, ...]] = {
    "tubing": test_calculator_tubing.CASES,
    "paste": test_calculator_paste.CASES,
    "solvent": test_calculator_solvent_air.CASES,
    "battery": test_calculator_battery.CASES,
    "drive": test_calculator_drive_wear.CASES,
    "charger": test_calculator_charger.CASES,
    "screen": test_calculator_screen_area.CASES,
    "stock": test_calculator_stock_sums.CASES,
    "touch": test_calculator_touch.CASES,
}
HEAD = """# Calculators against the outside

Each line is run as a test: what the calculator gives must be the value from the source, within the tolerance.
`python -m tests.published.table` makes this file from the tests; a test fails when it is out of date.
Besides these, scipy, stockpyl, numpy and pint check whole ranges, see the test files.

| calculator | source | case | expected | tolerance | why that tolerance |
| --- | --- | --- | --- | --- | --- |
"""


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
    """Write the document, and say so."""
    README.write_text(table(), encoding="utf-8")
    sys.stdout.write(f"Wrote {README}.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
