"""Every form of the dashboard, each opened on the demo workshop."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from inspect import isclass, isroutine
from pathlib import Path
from typing import Any, get_origin, get_type_hints

from bench.dashboard.screens import dialogs
from bench.dashboard.screens.dialogs.beginning import BeginningForm
from bench.dashboard.screens.dialogs.buying_forms import DonorForm, ShareForm, buy_form, purchase_form
from bench.dashboard.screens.dialogs.cell import CellDialog
from bench.dashboard.screens.dialogs.condition_forms import (
    ReadingForm,
    WeighBattery,
    grade_form,
    grade_rest_form,
    reading_file_form,
)
from bench.dashboard.screens.dialogs.described import FormOf
from bench.dashboard.screens.dialogs.drive_forms import WipeForm, drive_form, move_drive_form, verify_form
from bench.dashboard.screens.dialogs.expense_forms import expense_form, power_form, task_watts_form
from bench.dashboard.screens.dialogs.fault_forms import (
    belongs_form,
    fault_form,
    fault_line_form,
    outcome_form,
)
from bench.dashboard.screens.dialogs.file_forms import FileLostDialog, save_document_form
from bench.dashboard.screens.dialogs.finish import FinishDialog
from bench.dashboard.screens.dialogs.form import Form
from bench.dashboard.screens.dialogs.leaving_forms import leave_form
from bench.dashboard.screens.dialogs.listing_forms import listing_form, listing_words_form
from bench.dashboard.screens.dialogs.lot import LotForm
from bench.dashboard.screens.dialogs.model_forms import (
    model_page_form,
    model_screw_form,
    model_step_form,
    share_page_form,
    take_page_form,
)
from bench.dashboard.screens.dialogs.offer import OfferForm
from bench.dashboard.screens.dialogs.order_forms import (
    complain_form,
    edit_order_form,
    order_consumable_form,
    order_instead_form,
    order_part_form,
    place_part_form,
    refund_form,
    sell_part_form,
    take_in_form,
    wait_form,
)
from bench.dashboard.screens.dialogs.part_forms import (
    edit_part_form,
    fit_part_form,
    swap_parts_form,
    take_part_form,
)
from bench.dashboard.screens.dialogs.photograph_forms import (
    DroppedForm,
    attach_form,
    caption_form,
    shows_form,
)
from bench.dashboard.screens.dialogs.questions import BeforeListing, ReasonDialog
from bench.dashboard.screens.dialogs.repair_forms import (
    answer_form,
    give_form,
    job_form,
    line_form,
    repair_terms_form,
)
from bench.dashboard.screens.dialogs.safety_list import SafetyListDialog
from bench.dashboard.screens.dialogs.selling_forms import return_form, sell_form, way_form
from bench.dashboard.screens.dialogs.settings_forms import (
    channel_form,
    name_form,
    shop_form,
    step_form,
    trade_form,
)
from bench.dashboard.screens.dialogs.several_papers import save_papers_form
from bench.dashboard.screens.dialogs.specification_forms import intake_form, specification_form
from bench.dashboard.screens.dialogs.stock_forms import consumable_form, count_form, restock_form, use_form
from bench.dashboard.screens.dialogs.stocktake import StocktakeForm
from bench.dashboard.screens.dialogs.time_forms import CorrectEntry, ForgottenDialog, add_entry_form
from bench.dashboard.screens.dialogs.unit_forms import hold_form, route_task_form, task_form, unit_form
from bench.desk import Desk
from bench.domain.safety import OPENING
from bench.domain.three_ways import AS_IS
from bench.errors import FileLost, ListingFirst
from bench.views.drives import DriveLine, read_drives
from bench.views.faults import FaultLine, read_faults
from bench.views.grades import read_grades
from bench.views.listing import read_listing
from bench.views.machine_power import TaskWatts
from bench.views.model_page import read_model_page
from bench.views.orders import OrderLine, read_order, read_orders_of
from bench.views.parts import read_parts, read_shelf
from bench.views.photographs import PhotographLine
from bench.views.repair_jobs import Job, read_jobs
from bench.views.stock import read_stock
from bench.views.trade import read_trade
from tests.clocks import HandSetClock

Opening = Callable[[Desk], Form[Any]]


def forms_there_are() -> set[str]:
    """The name of every form that the dialogs hold: of a class of its own, or of what describes it."""
    found: set[str] = set()
    for file in pkgutil.iter_modules(dialogs.__path__, f"{dialogs.__name__}."):
        module = importlib.import_module(file.name)
        for name, one in vars(module).items():
            if one is Form or getattr(one, "__module__", "") != module.__name__:
                continue
            described = get_type_hints(one).get("return") if isroutine(one) else None
            if (isclass(one) and issubclass(one, Form)) or get_origin(described) is FormOf:
                found.add(name)
    return {name for name in found if not name.startswith("_")}


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


def a_grade(desk: Desk) -> Form[Any]:
    """The form of one line of a unit's grades."""
    sheet = read_grades(desk, here(desk))
    return grade_form(here(desk), sheet.line("ports"), sheet.scale)


def edit_part(desk: Desk) -> Form[Any]:
    """The form of a part that a unit got."""
    unit_id = an_id(desk, "SELECT to_unit_id FROM part WHERE to_unit_id IS NOT NULL")
    return edit_part_form(read_parts(desk, unit_id).lines[0], "EUR")


def an_order(desk: Desk) -> OrderLine:
    """A part on order for a unit."""
    from bench.work.orders import order_part

    for line in read_orders_of(desk, here(desk)).lines:
        return line
    return read_order(desk, order_part(desk, here(desk), what="fan", price_text="9").order_id)


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


PHOTOGRAPH = PhotographLine(
    photograph_id=1,
    folder="10001",
    name="front.jpg",
    sha256="0" * 64,
    size_bytes=1,
    kind="jpeg",
    taken_us=None,
    kept_us=0,
    person="Ada",
    caption="",
    task_id=None,
    task="",
    grade_id=None,
    grade="",
    fault_id=None,
    fault="",
    model=False,
    model_step_id=None,
    step="",
    shown=False,
    erased_us=None,
)


def a_fault(desk: Desk) -> FaultLine:
    """A fault that is open."""
    return read_faults(desk).faults[0]


def a_job(desk: Desk) -> Job:
    """A repair that lasts."""
    return next(one for one in read_jobs(desk).jobs if one.answer is None)


def nothing(*_: object) -> None:
    """A use case that does nothing."""


FORMS: dict[str, Opening] = {
    "add_entry_form": lambda desk: add_entry_form(todo(desk), "a task"),
    "attach_form": lambda desk: attach_form(here(desk), "10001"),
    "answer_form": lambda desk: answer_form(a_job(desk)),
    "BeginningForm": lambda _: BeginningForm(),
    "BeforeListing": lambda desk: BeforeListing(ListingFirst("Not yet.", unit_id=here(desk), matters=("x",))),
    "buy_form": lambda desk: buy_form(an_id(desk, "SELECT id FROM offer WHERE state = 'open'")),
    "caption_form": lambda _: caption_form(PHOTOGRAPH, "10001"),
    "shows_form": lambda desk: shows_form(PHOTOGRAPH, here(desk), "10001"),
    "CellDialog": cell,
    "complain_form": lambda desk: complain_form(an_order(desk)),
    "channel_form": lambda _: channel_form("EUR"),
    "consumable_form": lambda _: consumable_form(),
    "CorrectEntry": lambda desk: CorrectEntry(
        an_id(desk, "SELECT id FROM time_entry WHERE stopped_us IS NOT NULL")
    ),
    "count_form": lambda desk: count_form(read_stock(desk).lines[0].consumable_id),
    "DonorForm": lambda desk: DonorForm(here(desk)),
    "drive_form": lambda desk: drive_form(here(desk)),
    "edit_order_form": lambda desk: edit_order_form(an_order(desk), "EUR"),
    "edit_part_form": edit_part,
    "DroppedForm": lambda _: DroppedForm([Path("/phone/front.jpg")]),
    "belongs_form": lambda desk: belongs_form(a_fault(desk)),
    "fault_form": lambda desk: fault_form(a_fault(desk)),
    "fault_line_form": lambda desk: fault_line_form(here(desk), "10001"),
    "outcome_form": lambda desk: outcome_form(here(desk), "10001", "soak"),
    "expense_form": lambda _: expense_form(),
    "FileLostDialog": lambda _: FileLostDialog(FileLost("It is gone."), "/tmp/copy.bench"),
    "FinishDialog": lambda desk: FinishDialog(an_id(desk, "SELECT task_id FROM task_use")),
    "fit_part_form": lambda desk: fit_part_form(here(desk), "10001"),
    "ForgottenDialog": forgotten,
    "give_form": lambda desk: give_form(a_job(desk)),
    "grade_form": a_grade,
    "hold_form": lambda desk: hold_form(here(desk), "10001"),
    "job_form": lambda desk: job_form(here(desk), "10001"),
    "leave_form": lambda desk: leave_form(here(desk), "10001"),
    "line_form": lambda desk: line_form(a_job(desk)),
    "LotForm": lambda _: LotForm(),
    "listing_form": lambda desk: listing_form(read_listing(desk, here(desk))),
    "listing_words_form": lambda desk: listing_words_form(read_trade(desk)),
    "move_drive_form": lambda desk: move_drive_form(a_drive(desk)),
    "name_form": lambda _: name_form("New person", nothing, draft="person new"),
    "OfferForm": lambda _: OfferForm(),
    "power_form": lambda desk: power_form(read_trade(desk)),
    "order_consumable_form": lambda _: order_consumable_form(),
    "order_instead_form": lambda desk: order_instead_form(an_order(desk)),
    "order_part_form": lambda desk: order_part_form(here(desk), "10001"),
    "place_part_form": lambda desk: place_part_form(read_shelf(desk).lines[0]),
    "purchase_form": lambda desk: purchase_form(here(desk)),
    "intake_form": lambda _: intake_form(),
    "specification_form": lambda desk: specification_form(here(desk), "10001"),
    "reading_file_form": lambda desk: reading_file_form(here(desk), "10001"),
    "ReadingForm": lambda desk: ReadingForm(here(desk), "battery", "10001"),
    "ReasonDialog": lambda _: ReasonDialog("Skip it", "Why", draft="skip 1"),
    "repair_terms_form": lambda desk: repair_terms_form(read_trade(desk)),
    "refund_form": lambda desk: refund_form(an_order(desk)),
    "StocktakeForm": lambda _: StocktakeForm(),
    "grade_rest_form": lambda desk: grade_rest_form(
        here(desk), read_grades(desk, here(desk)).scale, read_grades(desk, here(desk)).lines
    ),
    "restock_form": lambda desk: restock_form(read_stock(desk).lines[0].consumable_id),
    "return_form": lambda desk: return_form(an_id(desk, "SELECT unit_id FROM sale"), "10001"),
    "route_task_form": lambda desk: route_task_form(an_id(desk, "SELECT id FROM route")),
    "SafetyListDialog": lambda desk: SafetyListDialog(here(desk), OPENING),
    "save_papers_form": lambda desk: save_papers_form((here(desk),), "1 unit"),
    "save_document_form": lambda _: save_document_form("a sheet", None, {"txt": str}, "sheet.txt"),
    "sell_part_form": lambda desk: sell_part_form(read_shelf(desk).lines[0]),
    "sell_form": lambda desk: sell_form(here(desk), "10001"),
    "ShareForm": lambda desk: ShareForm(open_lot(desk)),
    "shop_form": lambda _: shop_form(),
    "step_form": lambda _: step_form("appearance"),
    "swap_parts_form": lambda desk: swap_parts_form(here(desk), "10001"),
    "take_in_form": lambda desk: take_in_form(an_order(desk)),
    "take_part_form": lambda desk: take_part_form(here(desk), "10001", into=True),
    "task_form": lambda desk: task_form(here(desk)),
    "task_watts_form": lambda _: task_watts_form(TaskWatts("", 0)),
    "trade_form": lambda _: trade_form(),
    "unit_form": lambda _: unit_form(),
    "model_page_form": lambda _: model_page_form("Maker", "M"),
    "model_step_form": lambda _: model_step_form("Maker", "M"),
    "model_screw_form": lambda _: model_screw_form("Maker", "M"),
    "share_page_form": lambda desk: share_page_form(read_model_page(desk, "Maker", "M")),
    "take_page_form": lambda _: take_page_form(),
    "way_form": lambda desk: way_form(here(desk), AS_IS),
    "use_form": lambda _: use_form("a task", nothing, {}, draft="takes 1"),
    "verify_form": lambda desk: verify_form(a_drive(desk), a_drive(desk).wipes[0]),
    "wait_form": lambda desk: wait_form(an_order(desk), here(desk)),
    "WeighBattery": lambda desk: WeighBattery(here(desk), "EUR"),
    "WipeForm": lambda desk: WipeForm(a_drive(desk)),
}
