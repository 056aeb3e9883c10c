"""Every form of the dashboard, each opened on the demo workshop."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from inspect import isabstract
from typing import Any

from bench.dashboard.screens import dialogs
from bench.dashboard.screens.dialogs.add_entry import AddEntry
from bench.dashboard.screens.dialogs.ask_twice import AsksTwice
from bench.dashboard.screens.dialogs.before_listing import BeforeListing
from bench.dashboard.screens.dialogs.buy_form import BuyForm
from bench.dashboard.screens.dialogs.cell import CellDialog
from bench.dashboard.screens.dialogs.channel_form import ChannelForm
from bench.dashboard.screens.dialogs.consumable_form import ConsumableForm
from bench.dashboard.screens.dialogs.correct_entry import CorrectEntry
from bench.dashboard.screens.dialogs.count import CountDialog
from bench.dashboard.screens.dialogs.donor_form import DonorForm
from bench.dashboard.screens.dialogs.drive_form import DriveForm
from bench.dashboard.screens.dialogs.file_lost import FileLostDialog
from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.forgotten import ForgottenDialog
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.grade_form import GradeForm
from bench.dashboard.screens.dialogs.hold import HoldDialog
from bench.dashboard.screens.dialogs.leave_form import LeaveForm
from bench.dashboard.screens.dialogs.lot_form import LotForm
from bench.dashboard.screens.dialogs.move_drive import MoveDrive
from bench.dashboard.screens.dialogs.name_form import NameForm
from bench.dashboard.screens.dialogs.offer_form import OfferForm
from bench.dashboard.screens.dialogs.part_form import EditPart, FitPart
from bench.dashboard.screens.dialogs.purchase import PurchaseForm
from bench.dashboard.screens.dialogs.reading_file import ReadingFile
from bench.dashboard.screens.dialogs.reading_form import ReadingForm
from bench.dashboard.screens.dialogs.reason import ReasonDialog
from bench.dashboard.screens.dialogs.restock import RestockDialog
from bench.dashboard.screens.dialogs.route_task_form import RouteTaskForm
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.dashboard.screens.dialogs.save_document import SaveDocument
from bench.dashboard.screens.dialogs.sell import SellForm
from bench.dashboard.screens.dialogs.share_form import ShareForm
from bench.dashboard.screens.dialogs.shop_form import ShopForm
from bench.dashboard.screens.dialogs.step_form import StepForm
from bench.dashboard.screens.dialogs.stock_form import StockForm
from bench.dashboard.screens.dialogs.swap_parts import SwapParts
from bench.dashboard.screens.dialogs.take_part import TakePart
from bench.dashboard.screens.dialogs.take_return import ReturnForm
from bench.dashboard.screens.dialogs.task_form import TaskForm
from bench.dashboard.screens.dialogs.trade_form import TradeForm
from bench.dashboard.screens.dialogs.unit_form import UnitForm
from bench.dashboard.screens.dialogs.use_form import UseForm
from bench.dashboard.screens.dialogs.verify_form import VerifyForm
from bench.dashboard.screens.dialogs.weigh_battery import WeighBattery
from bench.dashboard.screens.dialogs.wipe_form import WipeForm
from bench.desk import Desk
from bench.domain.safety import OPENING
from bench.errors import FileLost, ListingFirst
from bench.views.drives import DriveLine, read_drives
from bench.views.grades import read_grades
from bench.views.parts import read_parts
from bench.views.stock import read_stock
from tests.clocks import HandSetClock

Opening = Callable[[Desk], Form[Any]]


def forms_there_are() -> set[type[Form[Any]]]:
    """Every class of form that the dialogs hold, but those that others are made from."""
    for module in pkgutil.iter_modules(dialogs.__path__, f"{dialogs.__name__}."):
        importlib.import_module(module.name)
    found, waiting = set(), [Form]
    while waiting:
        below = waiting.pop().__subclasses__()
        waiting += below
        found.update(below)
    ours = {one for one in found if one.__module__.startswith(dialogs.__name__)}
    return {one for one in ours if not isabstract(one)} - {AsksTwice, StockForm}


def an_id(desk: Desk, question: str) -> int:
    """The number that a question to the file answers."""
    with desk.store.read() as connection:
        return int(connection.execute(question).fetchone()[0])


def here(desk: Desk) -> int:
    """A unit that is in the shop, with a drive whose wipe is recorded."""
    return an_id(
        desk,
        "SELECT d.unit_id FROM drive d JOIN wipe w ON w.drive_id = d.id JOIN unit u ON u.id = d.unit_id"
        " WHERE d.removed = 0 AND w.removed = 0 AND u.cell_finding IS NULL AND u.id NOT IN"
        " (SELECT unit_id FROM sale)",
    )


def open_lot(desk: Desk) -> int:
    """A lot with a unit that is not sold."""
    return an_id(
        desk,
        "SELECT lot_id FROM purchase WHERE lot_id IS NOT NULL AND unit_id NOT IN (SELECT unit_id FROM sale)",
    )


def todo(desk: Desk) -> int:
    """A task that is still to do."""
    return an_id(desk, "SELECT id FROM task WHERE state = 'todo'")


def a_drive(desk: Desk) -> DriveLine:
    """A drive with a wipe."""
    return next(one for one in read_drives(desk, here(desk)).drives if one.wipes)


def grade_form(desk: Desk) -> GradeForm:
    """The form of one line of a unit's grades."""
    sheet = read_grades(desk, here(desk))
    return GradeForm(here(desk), sheet.line("ports"), sheet.scale)


def edit_part(desk: Desk) -> EditPart:
    """The form of a part that a unit got."""
    unit_id = an_id(desk, "SELECT to_unit_id FROM part WHERE to_unit_id IS NOT NULL")
    return EditPart(read_parts(desk, unit_id).lines[0], "EUR")


def cell(desk: Desk) -> CellDialog:
    """The form that asks what was done about a bad cell."""
    from bench.work.safety import report_cell

    unit_id = here(desk)
    if an_id(desk, "SELECT count(*) FROM unit WHERE cell_finding IS NOT NULL") == 0:
        report_cell(desk, unit_id, "swollen")
    return CellDialog(an_id(desk, "SELECT id FROM unit WHERE cell_finding IS NOT NULL"))


def forgotten(desk: Desk) -> ForgottenDialog:
    """The form that asks about a timer that has run for a day."""
    assert isinstance(desk.clock, HandSetClock)
    desk.clock.advance(minutes=24 * 60)
    return ForgottenDialog()


def nothing(*_: object) -> None:
    """A use case that does nothing."""


FORMS: dict[type[Form[Any]], Opening] = {
    AddEntry: lambda desk: AddEntry(todo(desk), "a task"),
    BeforeListing: lambda desk: BeforeListing(ListingFirst("Not yet.", unit_id=here(desk), matters=("x",))),
    BuyForm: lambda desk: BuyForm(an_id(desk, "SELECT id FROM offer WHERE state = 'open'")),
    CellDialog: cell,
    ChannelForm: lambda _: ChannelForm("EUR"),
    ConsumableForm: lambda _: ConsumableForm(),
    CorrectEntry: lambda desk: CorrectEntry(
        an_id(desk, "SELECT id FROM time_entry WHERE stopped_us IS NOT NULL")
    ),
    CountDialog: lambda desk: CountDialog(read_stock(desk).lines[0].consumable_id),
    DonorForm: lambda desk: DonorForm(here(desk)),
    DriveForm: lambda desk: DriveForm(here(desk)),
    EditPart: edit_part,
    FileLostDialog: lambda _: FileLostDialog(FileLost("It is gone."), "/tmp/copy.bench"),
    FinishDialog: lambda desk: FinishDialog(an_id(desk, "SELECT task_id FROM task_use")),
    FitPart: lambda desk: FitPart(here(desk), "10001"),
    ForgottenDialog: forgotten,
    GradeForm: grade_form,
    HoldDialog: lambda desk: HoldDialog(here(desk), "10001"),
    LeaveForm: lambda desk: LeaveForm(here(desk), "10001"),
    LotForm: lambda _: LotForm(),
    MoveDrive: lambda desk: MoveDrive(a_drive(desk)),
    NameForm: lambda _: NameForm("New person", nothing, draft="person new"),
    OfferForm: lambda _: OfferForm(),
    PurchaseForm: lambda desk: PurchaseForm(here(desk)),
    ReadingFile: lambda desk: ReadingFile(here(desk), "10001"),
    ReadingForm: lambda desk: ReadingForm(here(desk), "battery", "10001"),
    ReasonDialog: lambda _: ReasonDialog("Skip it", "Why", draft="skip 1"),
    RestockDialog: lambda desk: RestockDialog(read_stock(desk).lines[0].consumable_id),
    ReturnForm: lambda desk: ReturnForm(an_id(desk, "SELECT unit_id FROM sale"), "10001"),
    RouteTaskForm: lambda desk: RouteTaskForm(an_id(desk, "SELECT id FROM route")),
    SafetyListDialog: lambda desk: SafetyListDialog(here(desk), OPENING),
    SaveDocument: lambda _: SaveDocument("a sheet", None, {"txt": str}, "sheet.txt"),
    SellForm: lambda desk: SellForm(here(desk), "10001"),
    ShareForm: lambda desk: ShareForm(open_lot(desk)),
    ShopForm: lambda _: ShopForm(),
    StepForm: lambda _: StepForm("appearance"),
    SwapParts: lambda desk: SwapParts(here(desk), "10001"),
    TakePart: lambda desk: TakePart(here(desk), "10001", into=True),
    TaskForm: lambda desk: TaskForm(here(desk)),
    TradeForm: lambda _: TradeForm(),
    UnitForm: lambda _: UnitForm(),
    UseForm: lambda _: UseForm("a task", nothing, {}, draft="takes 1"),
    VerifyForm: lambda desk: VerifyForm(a_drive(desk), a_drive(desk).wipes[0]),
    WeighBattery: lambda desk: WeighBattery(here(desk), "EUR"),
    WipeForm: lambda desk: WipeForm(a_drive(desk)),
}
