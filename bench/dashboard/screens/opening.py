"""Opening the other screens, each loaded when it is first asked for."""

from __future__ import annotations

from bench.dashboard.doing import Doing


class OpensScreens(Doing):
    """Mixed into the first screen."""

    def open_unit_sheet(self, unit_id: int) -> None:
        """One unit."""
        from bench.dashboard.screens.unit import UnitScreen

        self.app.push_screen(UnitScreen(unit_id))

    def open_consumable(self, consumable_id: int) -> None:
        """The movements behind a level."""
        from bench.dashboard.screens.consumable import ConsumableScreen

        self.app.push_screen(ConsumableScreen(consumable_id))

    def action_week(self) -> None:
        """The week."""
        from bench.dashboard.screens.week import WeekScreen

        self.app.push_screen(WeekScreen())

    def action_stock(self) -> None:
        """The stock book."""
        from bench.dashboard.screens.stock import StockScreen

        self.app.push_screen(StockScreen())

    def action_journal(self) -> None:
        """The journal."""
        from bench.dashboard.screens.journal import JournalScreen

        self.app.push_screen(JournalScreen())

    def action_routes(self) -> None:
        """The routes."""
        from bench.dashboard.screens.routes import RoutesScreen

        self.app.push_screen(RoutesScreen())

    def action_settings(self) -> None:
        """The shop, its people and stages."""
        from bench.dashboard.screens.settings import SettingsScreen

        self.app.push_screen(SettingsScreen())
