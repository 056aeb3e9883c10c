"""Every JSON document: its name, its record, and its keys, told from that record's fields and annotations."""

from __future__ import annotations

from collections.abc import Iterable
from importlib import import_module
from typing import NamedTuple

from bench import reports
from bench.reports import SHAPE, SHAPES
from bench.reports.record_keys import hint_words, keys_of, records_in


class Document(NamedTuple):
    """A document's name and its record, as module:Name.

    `under`: the key of a list of such records, where it is of several. `more`: keys that it has besides, each
    with what stands under it, the record's own key before a dot where they are deeper.
    """

    name: str
    record: str
    under: str = ""
    more: tuple[tuple[str, str], ...] = ()


# Told in words by the modules that make them.
MADE_BY_HAND = (
    "error",
    "export",
    "listing",
    "calculation",
    "calculators",
    "part_cost",
    "table",
)

RULES = (reports.__doc__ or "").strip()

DOCUMENTS = (
    # what is seen
    Document("queue", "views.queue:QueueView"),
    Document("due_dates", "views.due_dates:DueDates"),
    Document("unit", "views.unit:UnitSheet"),
    Document("found", "views.finding_texts:FoundLine", under="found"),
    Document("safety", "views.safety:SafetyView"),
    Document("specification", "views.specification:SpecificationSheet"),
    Document("people", "views.shop:PersonLine", under="people"),
    Document("forgotten", "views.timers:Running", under="forgotten"),
    Document("journal", "views.journal:JournalPage", more=(("lines.changes", "list of objects"),)),
    Document("stock", "views.stock:StockBook"),
    Document("consumable", "views.stock:ConsumableHistory"),
    Document(
        "week",
        "views.week:WeekSheet",
        more=(("entries.in_week_us", "whole number"), ("entries.in_week_minutes", "whole number")),
    ),
    Document("month", "views.months:MonthSheet"),
    Document("year", "views.months:MonthSheet"),
    Document("next", "domain.next_up:NextUp"),
    Document("forecast", "domain.forecast_sheet:Forecast"),
    Document("condition", "views.condition:ConditionSheet"),
    Document("batteries", "domain.condition.battery_choice:BatteryChoice", under="batteries"),
    Document("drives", "views.drives:DriveSheet"),
    Document(
        "certificate", "views.certificate:Certificate", more=(("fields", "list of part, label and value"),)
    ),
    Document("grades", "views.grades:GradeSheet"),
    Document("scale", "domain.grading:Step", under="scale"),
    Document("buyer_sheet", "views.buyer_sheet:BuyerSheet"),
    Document("hand_over", "views.hand_over:HandOver"),
    Document("unit_faults", "views.faults:UnitFaults"),
    Document("faults", "views.faults:FaultList"),
    Document("fault", "views.fault_costs:FaultSheet"),
    Document("fault_report", "views.fault_costs:FaultReport"),
    Document("rates", "views.rates:RateSheet"),
    Document("offers", "views.offers:Offer", under="offers"),
    Document("offer", "views.offers:Offer", more=(("price", "PriceSheet"),)),
    Document("most_to_pay", "domain.price_sheet:PriceSheet"),
    Document("price_rows", "domain.price_sheet:PriceRows"),
    Document("purchase", "views.purchase:UnitPurchase"),
    Document("lots", "views.lots:LotBook"),
    Document("lot", "views.lots:LotSheet", more=(("total", "LotTotal"),)),
    Document("parts", "views.parts:UnitParts"),
    Document("shelf", "views.parts:Shelf"),
    Document("gone_parts", "views.gone_parts:GoneParts"),
    Document("photographs", "views.photographs:UnitPhotographs"),
    Document("orders", "views.orders:OrderBook"),
    Document("suppliers", "views.suppliers:SupplierBook"),
    Document("unit_money", "domain.unit_money:UnitMoney"),
    Document("models", "views.model_page:ModelLine", under="models"),
    Document("model_page", "domain.model_page:ModelPageSheet"),
    Document("three_ways", "domain.three_ways:ThreeWays"),
    Document("own_prices", "domain.own_prices:OwnPrices"),
    Document("money_rows", "views.money_rows:MoneyRows"),
    Document("register", "views.register:Register"),
    Document("parties", "views.parties:PartyLine", under="parties"),
    Document("owner", "domain.party:Whose"),
    Document("job", "views.repair_jobs:JobSheet"),
    Document("jobs", "views.repair_jobs:JobBook"),
    Document("quote", "views.repair_papers:RepairPaper"),
    Document("bill", "views.repair_papers:RepairPaper"),
    Document("hand_back", "views.repair_papers:RepairPaper"),
    Document("expenses", "views.expenses:ExpenseBook"),
    Document(
        "postings", "views.postings:PostingBook", more=(("accounts", "list of account, debit and credit"),)
    ),
    Document("task_watts", "views.machine_power:TaskWatts", under="task_watts"),
    Document("trade", "views.trade:TradeSettings"),
    Document("channels", "views.trade:ChannelLine", under="channels"),
    Document("check", "work.check:FileCheck"),
    Document("copies", "domain.copies:Copies"),
    # what was done
    Document("added", "work.units:UnitAdded"),
    Document("bought", "work.units:UnitAdded"),
    Document("taken_in", "work.intake:TakenIn"),
    Document("specification_kept", "work.specification:SpecificationKept"),
    Document("moved", "work.moves:Moved"),
    Document("started", "work.timers:Started"),
    Document("imported", "domain.importing:Imported"),
    Document("stopped", "work.timers:Stopped"),
    Document("done", "work.timers:Finished"),
    Document("fault_kept", "work.faults:FaultKept"),
    Document("test_ended", "work.outcomes:Ended"),
    Document("readings", "work.readings:ReadingAdded", under="readings"),
    Document("wipe", "work.wipes:WipeKept"),
    Document("grade", "views.grades:GradeLine"),
    Document("restocked", "domain.stock_levels:Restocked"),
    Document("counted", "domain.stock_levels:Counted"),
    Document("lot_bought", "domain.lots:LotBought"),
    Document("lot_shared", "domain.lots:LotReshared"),
    Document("donor", "domain.lots:DonorMade"),
    Document("part_moved", "domain.parts:PartMoved"),
    Document("order", "domain.orders:OrderTold"),
    Document("part_gone", "domain.orders:PartGone"),
    Document("swapped", "domain.parts:Swapped"),
    Document("photographs_kept", "domain.photographs:PhotographsKept"),
    Document("photograph_erased", "domain.photographs:PhotographErased"),
    Document("sold", "domain.selling:Sold"),
    Document("returned", "domain.selling:Returned"),
    Document("quoted", "work.quotes:Quoted"),
    Document("access", "domain.repair_jobs:AccessTold"),
    Document("expense_kept", "domain.expenses:ExpenseKept"),
    Document("left", "domain.ways_out:Left"),
    Document("erased", "domain.party:Erased"),
    Document("undone", "work.undo:Undone"),
    Document("redone", "work.undo:Undone"),
    Document("copy_made", "work.copies:CopyMade"),
    Document("restored", "work.copies:Restored"),
    Document("booked_already", "views.journal:BookedLine"),
)


def record_of(document: Document) -> type:
    """The record that a document is of."""
    module, _, name = document.record.partition(":")
    record: type = getattr(import_module(f"bench.{module}"), name)
    return record


def keys_text() -> str:
    """Each document with its shape number and its keys, then each record that stands within them."""
    lines = [RULES, *(_document(document) for document in DOCUMENTS)]
    inner = sorted(_within(map(record_of, DOCUMENTS)), key=lambda record: record.__name__)
    lines += ["Records within the documents", *(_record(record) for record in inner)]
    return "\n\n".join(lines) + "\n"


def _document(document: Document) -> str:
    record = record_of(document)
    head = f"{document.name}, shape {SHAPES.get(document.name, SHAPE)}"
    more = [f"  {key}: {words}" for key, words in document.more]
    if document.under:
        return "\n".join([f"{head}", f"  {document.under}: list of {record.__name__}", *more])
    return "\n".join([head, *_keys(record), *more])


def _record(record: type) -> str:
    return "\n".join([record.__name__, *_keys(record)])


def _keys(record: type) -> list[str]:
    return [f"  {key.name}: {hint_words(key.hint)}" for key in keys_of(record)]


def _within(records: Iterable[type]) -> set[type]:
    found: set[type] = set()
    waiting = [one for record in records for key in keys_of(record) for one in records_in(key.hint)]
    while waiting:
        record = waiting.pop()
        if record not in found:
            found.add(record)
            waiting += [one for key in keys_of(record) for one in records_in(key.hint)]
    return found
