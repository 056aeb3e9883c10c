"""The calculators to choose from."""

from __future__ import annotations

from bench.dashboard.presenters.pieces import Line, Part, clip
from bench.dashboard.widgets.line_list import LineList
from bench.domain.calculators.shape import Calculator


class CalculatorList(LineList[Calculator]):
    """One line a calculator; the one chosen stays marked while its figures are typed."""

    BORDER_TITLE = "Calculators"
    cursor_stays_lit = True

    def line_of(self, item: Calculator, width: int) -> Line:
        """Its title."""
        return (Part(clip(item.title, width - 2)),)
