"""The screens and dialogs that are opened from several places, each loaded when it is first opened."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import Any, NamedTuple

from textual.screen import Screen

from bench.dashboard.acts.act import call

BUYING = "bench.dashboard.screens.buying:BuyingScreen"
CALCULATORS = "bench.dashboard.screens.calculators:CalculatorsScreen"
CONSUMABLE = "bench.dashboard.screens.stock:ConsumableScreen"
FAULTS = "bench.dashboard.screens.faults:FaultsScreen"
EXPENSES = "bench.dashboard.screens.expenses:ExpensesScreen"
JOB = "bench.dashboard.screens.repair_job:JobScreen"
JOURNAL = "bench.dashboard.screens.journal:JournalScreen"
LOTS = "bench.dashboard.screens.lots:LotsScreen"
MODEL_PAGE = "bench.dashboard.screens.model_page:ModelPageScreen"
MONEY = "bench.dashboard.screens.money:MoneyScreen"
ORDERS = "bench.dashboard.screens.orders:OrdersScreen"
PAPERS = "bench.dashboard.screens.papers:PapersScreen"
PARTS = "bench.dashboard.screens.parts:PartsScreen"
PHOTOGRAPHS = "bench.dashboard.screens.photographs:PhotographsScreen"
PARTS_SHELF = "bench.dashboard.screens.parts_shelf:PartsShelfScreen"
REGISTER = "bench.dashboard.screens.register:RegisterScreen"
ROUTES = "bench.dashboard.screens.routes:RoutesScreen"
SETTINGS = "bench.dashboard.screens.settings:SettingsScreen"
TRADE = "bench.dashboard.screens.trade:TradeScreen"
UNIT = "bench.dashboard.screens.unit:UnitScreen"
WIPING = "bench.dashboard.screens.wiping:WipingScreen"

ADD_ENTRY = "bench.dashboard.screens.dialogs.time_forms:add_entry_form"
BEGINNING_FORM = "bench.dashboard.screens.dialogs.beginning:BeginningForm"
BUY_FORM = "bench.dashboard.screens.dialogs.buying_forms:buy_form"
CELL = "bench.dashboard.screens.dialogs.cell:CellDialog"
CHANNEL_FORM = "bench.dashboard.screens.dialogs.settings_forms:channel_form"
CHOOSE_UNDO = "bench.dashboard.screens.dialogs.pick:ChooseUndo"
CONSUMABLE_FORM = "bench.dashboard.screens.dialogs.stock_forms:consumable_form"
CORRECT_ENTRY = "bench.dashboard.screens.dialogs.time_forms:CorrectEntry"
COUNT = "bench.dashboard.screens.dialogs.stock_forms:count_form"
DONOR_FORM = "bench.dashboard.screens.dialogs.buying_forms:DonorForm"
DRIVE_FORM = "bench.dashboard.screens.dialogs.drive_forms:drive_form"
FINISH = "bench.dashboard.screens.dialogs.finish:FinishDialog"
FIND = "bench.dashboard.screens.dialogs.find:FindDialog"
INTAKE_FORM = "bench.dashboard.screens.dialogs.specification_forms:intake_form"
LEAVE_FORM = "bench.dashboard.screens.dialogs.leaving_forms:leave_form"
LISTING_FORM = "bench.dashboard.screens.dialogs.listing_forms:listing_form"
LISTING_WORDS_FORM = "bench.dashboard.screens.dialogs.listing_forms:listing_words_form"
LOT_FORM = "bench.dashboard.screens.dialogs.lot:LotForm"
MORE_MENU = "bench.dashboard.screens.dialogs.more_menu:MoreMenu"
NAME_FORM = "bench.dashboard.screens.dialogs.settings_forms:name_form"
OFFER_FORM = "bench.dashboard.screens.dialogs.offer:OfferForm"
REASON = "bench.dashboard.screens.dialogs.questions:ReasonDialog"
RESTOCK = "bench.dashboard.screens.dialogs.stock_forms:restock_form"
ROUTE_TASK_FORM = "bench.dashboard.screens.dialogs.unit_forms:route_task_form"
SAFETY_LIST = "bench.dashboard.screens.dialogs.safety_list:SafetyListDialog"
SAVE_DOCUMENT = "bench.dashboard.screens.dialogs.file_forms:save_document_form"
SELL_FORM = "bench.dashboard.screens.dialogs.selling_forms:sell_form"
SPECIFICATION_FORM = "bench.dashboard.screens.dialogs.specification_forms:specification_form"
STEP_FORM = "bench.dashboard.screens.dialogs.settings_forms:step_form"
TASK_FORM = "bench.dashboard.screens.dialogs.unit_forms:task_form"
UNIT_FORM = "bench.dashboard.screens.dialogs.unit_forms:unit_form"
WAY_FORM = "bench.dashboard.screens.dialogs.selling_forms:way_form"
USE_FORM = "bench.dashboard.screens.dialogs.stock_forms:use_form"


class Place(NamedTuple):
    """A screen by its reference, and what it is given. `at`: the table and the key its cursor begins at."""

    target: str
    given: tuple[object, ...] = ()
    also: Mapping[str, object] = {}
    at: tuple[str, Hashable] | None = None

    def made(self) -> Screen[Any]:
        """The screen, not yet open."""
        screen: Screen[Any] = call(self.target, *self.given, **self.also)
        if self.at is not None:
            screen.begin_at = self.at  # type: ignore[attr-defined]
        return screen
