"""The screens around the bench, each opened by its name and loaded when it is first asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from textual.screen import Screen

from bench.dashboard.doing import Doing


@dataclass(frozen=True, slots=True)
class UnitMeant:
    """The unit that a sheet is opened for."""

    unit_id: int
    tag: str


class OpensMore(Doing):
    """Mixed into the first screen and the unit's, which say which unit is meant."""

    def unit_meant(self) -> UnitMeant | None:
        """The unit under the cursor, or the one that is shown."""
        raise NotImplementedError

    def action_more(self) -> None:
        """Everything else there is to open, each by one letter."""
        from bench.dashboard.screens.dialogs.more_menu import MoreMenu

        self.app.push_screen(MoreMenu(self.unit_meant()), self._open_chosen)

    def action_next_up(self) -> None:
        """What next."""
        self.app.push_screen(_next_up())

    def action_buying(self) -> None:
        """Buying."""
        self.app.push_screen(_buying())

    def action_lots(self) -> None:
        """Lots."""
        self.app.push_screen(_lots())

    def action_register(self) -> None:
        """The register."""
        self.app.push_screen(_register())

    def action_months(self) -> None:
        """Month and year."""
        self.app.push_screen(_months())

    def _open_chosen(self, name: str | None) -> None:
        unit = self.unit_meant()
        if name in OF_THE_SHOP:
            self.app.push_screen(OF_THE_SHOP[name]())
        elif name in OF_A_UNIT and unit is not None:
            self.app.push_screen(OF_A_UNIT[name](unit))


def _next_up() -> Screen[Any]:
    from bench.dashboard.screens.next_up import NextUpScreen

    return NextUpScreen()


def _buying() -> Screen[Any]:
    from bench.dashboard.screens.buying import BuyingScreen

    return BuyingScreen()


def _lots() -> Screen[Any]:
    from bench.dashboard.screens.lots import LotsScreen

    return LotsScreen()


def _register() -> Screen[Any]:
    from bench.dashboard.screens.register import RegisterScreen

    return RegisterScreen()


def _months() -> Screen[Any]:
    from bench.dashboard.screens.months import MonthsScreen

    return MonthsScreen()


def _trade() -> Screen[Any]:
    from bench.dashboard.screens.trade import TradeScreen

    return TradeScreen()


def _condition(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.condition import ConditionScreen

    return ConditionScreen(unit.unit_id)


def _wiping(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.wiping import WipingScreen

    return WipingScreen(unit.unit_id)


def _parts(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.parts import PartsScreen

    return PartsScreen(unit.unit_id)


def _grading(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.grading import GradingScreen

    return GradingScreen(unit.unit_id)


def _money(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.money import MoneyScreen

    return MoneyScreen(unit.unit_id)


def _sell(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.dialogs.selling_forms import sell_form

    return sell_form(unit.unit_id, unit.tag)


def _take_return(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.dialogs.selling_forms import return_form

    return return_form(unit.unit_id, unit.tag)


def _leave(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.dialogs.selling_forms import leave_form

    return leave_form(unit.unit_id, unit.tag)


def _papers(unit: UnitMeant) -> Screen[Any]:
    from bench.dashboard.screens.papers import PapersScreen

    return PapersScreen(unit.unit_id)


OF_THE_SHOP: dict[str, Callable[[], Screen[Any]]] = {
    "next_up": _next_up,
    "buying": _buying,
    "lots": _lots,
    "register": _register,
    "months": _months,
    "trade": _trade,
}
OF_A_UNIT: dict[str, Callable[[UnitMeant], Screen[Any]]] = {
    "condition": _condition,
    "wiping": _wiping,
    "parts": _parts,
    "grading": _grading,
    "money": _money,
    "sell": _sell,
    "take_return": _take_return,
    "leave": _leave,
    "papers": _papers,
}
