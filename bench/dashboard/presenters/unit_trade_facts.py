"""A unit's money and drives in a line each, for the panel of its figures."""

from __future__ import annotations

from bench.dashboard.presenters.drive_rows import standing_of
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.presenters.rows import Row, cell
from bench.domain.money import at_least, show_money
from bench.domain.unit_money import UnitMoney
from bench.views.drives import DriveSheet
from bench.views.looks import gain_look
from bench.views.tables.money import margin_words

MONEY = "money"
DRIVES = "drives"


def trade_fact_rows(money: UnitMoney, drives: DriveSheet) -> tuple[Row, ...]:
    """What the unit has cost and earns, and whether its drives are wiped; Enter opens each."""
    return (
        Row(
            (MONEY, 0),
            (
                cell("Landed cost", "muted"),
                cell(at_least(money.landed_minor, money.currency, known=money.landed_known)),
            ),
        ),
        Row((MONEY, 1), _earned(money)),
        Row(DRIVES, (cell("Drives", "muted"), standing_of(drives))),
    )


def _earned(money: UnitMoney) -> tuple[Part, Part]:
    if money.margin_minor is None:
        return cell("Break-even", "muted"), cell(show_money(money.break_even_minor, money.currency))
    words = margin_words(money)
    if money.per_hour_minor is not None and not money.missing:
        words += f", {show_money(money.per_hour_minor, money.currency)} an hour"
    return cell("Margin", "muted"), cell(words, gain_look(money.margin_minor))
