"""Units: the first screen, a unit's own, the list of all else, and what is done to a unit on both."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.acts import places
from bench.dashboard.acts.act import (
    FIND,
    SAFETY,
    SCREENS,
    STOCK,
    THIS,
    TIME,
    UNIT,
    Act,
    asks_why,
    calls,
    on,
    opens,
    runs,
)
from bench.dashboard.acts.common import BACK, NEXT_PANEL, UNDO, enter
from bench.dashboard.acts.faults import ADD_FAULT
from bench.dashboard.acts.stock import COUNT, RESTOCK
from bench.dashboard.acts.tables import COPY, MARK, REPEAT
from bench.dashboard.acts.timers import (
    DONE,
    NO_TASK,
    NO_UNIT,
    START,
    START_STOP,
    START_STOP_NEXT,
    START_STOP_TASK,
    WHO,
)
from bench.domain.safety import CLOSING, OPENING

SEVERAL = "bench.work.several"
OPEN_CHOSEN = "bench.dashboard.screens.dialogs.more_menu:open_chosen"
SAVE_PAPERS = "bench.dashboard.screens.dialogs.several_papers:save_papers_form"
REORDER_TASK = "bench.work.tasks:reorder_task"

MOVE_ON = Act("move_on", "m", "move on", "Move the unit to the next stage", UNIT).by(
    calls("bench.dashboard.screens.moving:move_marked_on", "marked_units.ids"),
    calls("bench.dashboard.screens.moving:move_on", "unit.unit_id", "unit.tag"),
    NO_UNIT,
)
MOVE_BACK = Act("move_back", "b", "back", "Move the unit back one stage", UNIT).by(
    calls("bench.dashboard.screens.moving:move_marked_back", "marked_units.ids"),
    calls("bench.dashboard.screens.moving:move_back", "unit.unit_id", "unit.tag"),
    NO_UNIT,
)
GO_TO = Act("go_to", "g", "go to stage", "Move the unit to any stage", UNIT).by(
    opens(
        "bench.dashboard.screens.dialogs.pick:choose_stage_of_all",
        "marked_units.ids",
        then="bench.dashboard.screens.moving:move_marked_to",
    ),
    opens(
        "bench.dashboard.screens.dialogs.pick:choose_stage",
        "unit.unit_id",
        then="bench.dashboard.screens.moving:move_to",
    ),
    NO_UNIT,
)
HOLD = Act("hold", "h", "hold", "Hold the unit with a reason, or release it", UNIT).by(
    runs(f"{SEVERAL}:release_units", "marked_on_hold.ids", says="Released {answer.named}."),
    asks_why(
        "Hold {marked_units.words}",
        f"{SEVERAL}:hold_units",
        "marked_units.ids",
        draft="hold several",
        says="On hold: {answer.named}.",
    ),
    runs("bench.work.moves:release_unit", "held_unit.unit_id", says="{held_unit.tag} is released."),
    opens("bench.dashboard.screens.dialogs.unit_forms:hold_form", "unit.unit_id", "unit.tag"),
    NO_UNIT,
)
EDIT_UNIT = Act("edit_unit", "e", "edit", "Change the unit's particulars", UNIT).by(
    opens(places.UNIT_FORM, "unit.unit_id"), NO_UNIT
)
OPENING_CHECKLIST = Act(
    "opening_checklist",
    "o",
    "opening checklist",
    "Tick the opening checklist, before the cover comes off",
    SAFETY,
).by(opens(places.SAFETY_LIST, "unit.unit_id", which=OPENING), NO_UNIT)
CLOSING_CHECKLIST = Act(
    "closing_checklist",
    "c",
    "closing checklist",
    "Tick the closing checklist, before the cover goes on",
    SAFETY,
).by(opens(places.SAFETY_LIST, "unit.unit_id", which=CLOSING), NO_UNIT)
BAD_CELL = Act("bad_cell", "x", "bad cell", "Report a swollen, punctured or wet cell", SAFETY).by(
    opens(places.CELL, "unit.unit_id"), NO_UNIT
)
CALCULATE = Act("calculators", "l", "calculators", "The calculators, with the unit at hand", SCREENS).by(
    opens(places.CALCULATORS, "unit.unit_id", "unit.tag"), opens(places.CALCULATORS)
)
MORE = Act("more", "f", "more", "Buying, register, months; the unit's other sheets", SCREENS).by(
    opens(places.MORE_MENU, "unit", then=OPEN_CHOSEN), opens(places.MORE_MENU, then=OPEN_CHOSEN)
)
UNDO_UNIT = replace(UNDO, group=UNIT)

SPECIFY = opens(places.SPECIFICATION_FORM, "unit.unit_id", "unit.tag")
NEXT_UP = opens("bench.dashboard.screens.next_up:NextUpScreen")
BUYING = opens(places.BUYING)
LOTS = opens(places.LOTS)
REGISTER = opens(places.REGISTER)
MONTHS = opens("bench.dashboard.screens.months:MonthsScreen")

FIRST = on(
    "first",
    Act("open_unit", "enter", "open", "Open the unit under the cursor", UNIT).by(
        calls(START_STOP, "task"), opens(places.CONSUMABLE, "consumable"), opens(places.UNIT, "unit.unit_id")
    ),
    Act("add_unit", "n", "new unit", "Put a new unit on the bench", UNIT).by(
        opens(places.UNIT_FORM, then="bench.dashboard.screens.first:FirstScreen.go_to_unit")
    ),
    START_STOP_NEXT,
    DONE,
    MOVE_ON,
    Act("filter", "slash", "filter", "Show only what you type: tag, model, task, stage, reason", FIND),
    Act("columns", "vertical_line", "sort", "Sort the units of each stage by a column", FIND, footer=False),
    MORE,
    UNDO_UNIT,
    RESTOCK,
    HOLD,
    MOVE_BACK,
    OPENING_CHECKLIST,
    CLOSING_CHECKLIST,
    BAD_CELL,
    ADD_FAULT,
    GO_TO,
    EDIT_UNIT,
    COUNT,
    WHO,
    Act("week", "w", "week", "Hours of the week, and corrections", SCREENS).by(
        opens("bench.dashboard.screens.week:WeekScreen")
    ),
    Act("stock", "t", "stock", "Every consumable, its level and history", SCREENS).by(
        opens("bench.dashboard.screens.stock:StockScreen")
    ),
    Act("journal", "j", "journal", "Who did what, and when", SCREENS).by(opens(places.JOURNAL)),
    Act("routes", "v", "routes", "The tasks that each kind of job needs", SCREENS).by(opens(places.ROUTES)),
    Act("next_up", "f2", "what next", "Which unit earns most for the time it takes", SCREENS).by(NEXT_UP),
    Act("buying", "f3", "buying", "The most to pay, and open offers", SCREENS).by(BUYING),
    Act("lots", "f4", "lots", "Units bought together for one price", SCREENS).by(LOTS),
    Act("register", "f5", "register", "What was bought from whom and sold to whom", SCREENS).by(REGISTER),
    Act("months", "f6", "month and year", "What the months and years have earned", SCREENS).by(MONTHS),
    CALCULATE,
    Act("settings", "comma", "settings", "The shop, its people and its stages", SCREENS).by(
        opens(places.SETTINGS)
    ),
    MARK,
    COPY,
    REPEAT,
    replace(NEXT_PANEL, footer=False),
    Act("clear", "escape", "clear", "Show every unit again, or take the marks off", FIND, footer=False),
    Act("leave", "q", "quit", "Leave; running timers go on", SCREENS),
)

UNIT_SHEET = on(
    "unit",
    enter("open", "Open the line under the cursor"),
    replace(NEXT_PANEL, footer=False),
    START_STOP_TASK,
    DONE,
    replace(MORE, tooltip="Its condition, drives, parts, grade, money and sale"),
    Act("skip", "z", "skip", "Skip the task with a reason", TIME).by(
        asks_why(
            "Skip {marked_tasks.words}",
            f"{SEVERAL}:skip_tasks",
            "marked_tasks.ids",
            draft="skip several",
            says="Skipped {answer.named}.",
        ),
        asks_why(
            "Skip {task.name}", "bench.work.timers:skip_task", "task.task_id", draft="skip {task.task_id}"
        ),
        NO_TASK,
    ),
    Act("reopen", "Z", "reopen", "Take up a finished or skipped task again", TIME).by(
        runs(f"{SEVERAL}:reopen_tasks", "marked_tasks.ids", says="Reopened {answer.named}."),
        runs("bench.work.timers:reopen_task", "task.task_id"),
        NO_TASK,
    ),
    Act("earlier", "minus", "up", "Move the task one place up at its stage", THIS, footer=False).by(
        runs(REORDER_TASK, "task.task_id", steps=-1), NO_TASK
    ),
    Act("later", "plus", "down", "Move the task one place down at its stage", THIS, footer=False).by(
        runs(REORDER_TASK, "task.task_id", steps=1), NO_TASK
    ),
    Act("rename_task", "r", "rename", "Give the task another name or estimate", THIS).by(
        opens(places.TASK_FORM, "unit.unit_id", "task.task_id"), NO_TASK
    ),
    Act("set_consumables", "t", "consumables", "Say which consumables the task uses up", STOCK).by(
        calls("bench.dashboard.screens.uses:ask_task_use", "task"), NO_TASK
    ),
    Act("add_time", "a", "add time", "Add time that was worked but not timed", TIME).by(
        opens(places.ADD_ENTRY, "task.task_id", "task.name"), NO_TASK
    ),
    Act("add_task", "n", "new task", "Add a task to this unit", THIS).by(
        opens(places.TASK_FORM, "unit.unit_id")
    ),
    MOVE_ON,
    replace(MOVE_BACK, label="back a stage"),
    GO_TO,
    HOLD,
    EDIT_UNIT,
    OPENING_CHECKLIST,
    CLOSING_CHECKLIST,
    BAD_CELL,
    ADD_FAULT,
    replace(CALCULATE, tooltip="The calculators, with this unit"),
    Act("journal", "j", "journal", "What was done to this unit", SCREENS).by(
        opens(places.JOURNAL, "unit.unit_id")
    ),
    UNDO_UNIT,
    BACK,
)

BENCH_VIEW = on(
    "bench_view",
    Act(
        "go_on", "enter,space", "go on", "Finish what runs, else start what comes next, else move on", UNIT
    ).by(opens(places.FINISH, "timed_task"), calls(START, "unit.next_task_id"), *MOVE_ON.ways),
    replace(START_STOP_NEXT, ways=START_STOP_NEXT.ways[1:]),
    MOVE_ON,
    OPENING_CHECKLIST,
    CLOSING_CHECKLIST,
    BAD_CELL,
    ADD_FAULT,
    UNDO_UNIT,
    BACK,
)

OF_THE_SHOP = on(
    "more",
    Act("next_up", "n", "What next", "which unit earns most for its time", SCREENS).by(NEXT_UP),
    Act("buying", "b", "Buying", "the most to pay, offers", SCREENS).by(BUYING),
    Act("lots", "l", "Lots", "units bought together, donors", SCREENS).by(LOTS),
    Act("orders", "q", "Orders", "parts on order, suppliers", SCREENS).by(opens(places.ORDERS)),
    Act("parts_shelf", "v", "Shelf of parts", "what lies there, to fit or sell", SCREENS).by(
        opens(places.PARTS_SHELF)
    ),
    Act("register", "r", "Register", "bought from whom, sold to whom", SCREENS).by(REGISTER),
    Act("months", "y", "Month and year", "earned per hands-on hour", SCREENS).by(MONTHS),
    Act("models", "a", "Models", "what the shop knows of each", SCREENS).by(
        opens("bench.dashboard.screens.models:ModelsScreen")
    ),
    Act("shop_faults", "1", "Faults", "open ones, what they cost, returns", SCREENS).by(
        opens("bench.dashboard.screens.faults:ShopFaultsScreen")
    ),
    Act("jobs", "2", "Owners' machines", "repairs, quotes, not collected", SCREENS).by(
        opens("bench.dashboard.screens.repair_jobs:JobsScreen")
    ),
    Act("expenses", "3", "General expenses", "rent, tools, teaching: of no unit", SCREENS).by(
        opens(places.EXPENSES)
    ),
    Act("trade", "t", "Trading settings", "margin, tax, channels, grades", SCREENS).by(opens(places.TRADE)),
    Act("cards", "4", "Action cards", "scanned at the bench, as PDF", SCREENS).by(
        calls("bench.dashboard.screens.papers:save_cards")
    ),
    Act("begin", "5", "Begin", "a new file's shop, people, shelf", SCREENS).by(
        calls("bench.dashboard.screens.first_minutes:begin")
    ),
    Act("demo", "6", "Demo workshop", "made up; q there comes back", SCREENS).by(
        calls("bench.dashboard.screens.first_minutes:open_demo")
    ),
    Act("intake", "i", "Machine's file", "makes a unit, or fills it", SCREENS).by(
        calls("bench.dashboard.screens.taking_in:take_in_file")
    ),
)
OF_A_UNIT = on(
    "more",
    Act("condition", "c", "Condition", "readings before and after", UNIT).by(
        opens("bench.dashboard.screens.condition:ConditionScreen", "unit.unit_id")
    ),
    Act("wiping", "d", "Drives and wipes", "records and certificates", UNIT).by(
        opens(places.WIPING, "unit.unit_id")
    ),
    Act("faults", "f", "Faults and tests", "what is wrong, how tests ended", UNIT).by(
        opens(places.FAULTS, "unit.unit_id")
    ),
    Act("parts", "p", "Parts", "fitted, taken out, swapped", UNIT).by(opens(places.PARTS, "unit.unit_id")),
    Act("specification", "e", "Specification", "what it is made of", UNIT).by(SPECIFY),
    Act("unit_orders", "z", "Parts on order", "wanted, ordered, sent back", UNIT).by(
        opens(places.ORDERS, "unit.unit_id", "unit.tag")
    ),
    Act("grading", "g", "Grade", "how each part works and looks", UNIT).by(
        opens("bench.dashboard.screens.grading:GradingScreen", "unit.unit_id")
    ),
    Act("photographs", "o", "Photographs", "kept, captioned, in papers", UNIT).by(
        opens(places.PHOTOGRAPHS, "unit.unit_id")
    ),
    Act("money", "m", "Money", "cost so far and proceeds", UNIT).by(opens(places.MONEY, "unit.unit_id")),
    Act("model_page", "u", "Model", "how it comes apart, its past", UNIT).by(
        opens(places.MODEL_PAGE, "unit.unit_id")
    ),
    Act("compare", "w", "Repair or not", "repair, sell as is, or part out", UNIT).by(
        opens("bench.dashboard.screens.three_ways:ThreeWaysScreen", "unit.unit_id")
    ),
    Act("sell", "s", "Sell", "to whom, for how much", UNIT).by(
        opens(places.SELL_FORM, "unit.unit_id", "unit.tag")
    ),
    Act("take_return", "k", "Came back", "a return after the sale", UNIT).by(
        opens("bench.dashboard.screens.dialogs.selling_forms:return_form", "unit.unit_id", "unit.tag")
    ),
    Act("leave", "x", "Leaves, not sold", "handed back, kept or scrapped", UNIT).by(
        opens(places.LEAVE_FORM, "unit.unit_id", "unit.tag")
    ),
    Act("job", "j", "Owner's repair", "quote, bill, hand-back", UNIT).by(opens(places.JOB, "unit.unit_id")),
    Act("papers", "h", "Papers", "listing, hand-over, label", UNIT).by(
        opens(SAVE_PAPERS, "marked_units.ids", "marked_units.words"),
        opens(places.PAPERS, "unit.unit_id"),
    ),
)

ALL_ELSE = (*OF_THE_SHOP, *OF_A_UNIT)

CELL = on(
    "cell",
    Act("swollen", "1", "swollen", "Report a swollen cell", SAFETY),
    Act("punctured", "2", "punctured", "Report a punctured cell", SAFETY),
    Act("wet", "3", "wet", "Report a wet cell", SAFETY),
)
OPEN_TASKS = on(
    "open_tasks",
    Act("mark_done", "d", "mark done", "Mark these tasks done, and move", UNIT),
    Act("skip", "z", "skip", "Skip these tasks with a reason, and move", UNIT),
)
DONE_TASKS = on(
    "done_tasks",
    Act("reopen", "o", "to do again", "Reopen these tasks, and move", UNIT),
    Act("keep", "k", "keep as done", "Leave these tasks as they are, and move", UNIT),
)
