"""How the shop is set up: its people and stages, how it trades, and its routes."""

from __future__ import annotations

from bench.dashboard.acts import places
from bench.dashboard.acts.act import SAFETY, SCREENS, STOCK, THIS, Act, asks_name, calls, on, opens, runs
from bench.dashboard.acts.common import BACK, NEXT_PANEL, UNDO, enter
from bench.dashboard.acts.timers import NO_TASK

NO_STAGE = "Put the cursor on a stage first."
NO_STEP = "Put the cursor on a step of the scale first."
REORDER_ROUTE_TASK = "bench.work.route_tasks:reorder_route_task"
REORDER_STAGE = "bench.work.shop:reorder_stage"
REORDER_STEP = "bench.work.grades:reorder_step"

EDIT_SETTING = (
    asks_name(
        "Rename {person.name}",
        "bench.work.shop:rename_person",
        "person.person_id",
        draft="person {person.person_id}",
        name="{person.name}",
    ),
    asks_name(
        "Rename {stage.name}",
        "bench.work.shop:rename_stage",
        "stage.stage_id",
        draft="stage {stage.stage_id}",
        name="{stage.name}",
    ),
    opens("bench.dashboard.screens.dialogs.settings_forms:shop_form"),
)
COPY_NOW = runs("bench.work.copies:back_up", says="Copied to {answer.path}, verified.")

BEGINNING = on(
    "beginning",
    Act("demo", "f2", "demo", "Look at a made-up workshop first; leaving it leads back here", SCREENS),
)
SETTINGS = on(
    "settings",
    Act("edit", "e,enter", "edit", "Change the line under the cursor", THIS),
    Act("add", "n", "new", "Add a person or a stage", THIS).by(
        asks_name(
            "New stage after {stage.name}",
            "bench.dashboard.screens.settings:add_stage_after",
            "stage.stage_id",
            draft="stage after {stage.stage_id}",
        ),
        asks_name("New person", "bench.work.shop:add_person", draft="person new"),
    ),
    Act("cover", "l", "cover on/off", "Say whether the cover is off at the stage", SAFETY).by(
        calls("bench.dashboard.screens.settings:SettingsScreen.turn_cover", "stage"), NO_STAGE
    ),
    Act("sale", "s", "lists, sells", "Say whether units are listed or sold at the stage", THIS).by(
        calls("bench.dashboard.screens.settings:SettingsScreen.turn_sale", "stage"), NO_STAGE
    ),
    Act("earlier", "minus", "up", "Move the stage one place up", THIS).by(
        runs(REORDER_STAGE, "stage.stage_id", steps=-1), NO_STAGE
    ),
    Act("later", "plus", "down", "Move the stage one place down", THIS).by(
        runs(REORDER_STAGE, "stage.stage_id", steps=1), NO_STAGE
    ),
    Act("remove", "x", "remove", "Remove the line under the cursor", THIS).by(
        runs(
            "bench.work.shop:remove_person",
            "person.person_id",
            says="Removed {person.name}. It can be undone.",
        ),
        runs(
            "bench.work.shop:remove_stage", "stage.stage_id", says="Removed {stage.name}. It can be undone."
        ),
    ),
    UNDO,
    BACK,
)
TRADE = on(
    "trade",
    Act("edit", "e,enter", "edit", "Change the line under the cursor", THIS).by(
        opens(places.CHANNEL_FORM, "currency", "channel"),
        opens(places.STEP_FORM, "step.side", "step"),
        opens("bench.dashboard.screens.dialogs.repair_forms:repair_terms_form", "repair_terms"),
        opens("bench.dashboard.screens.dialogs.expense_forms:power_form", "electricity"),
        opens("bench.dashboard.screens.dialogs.expense_forms:task_watts_form", "task_watts"),
        opens(places.LISTING_WORDS_FORM, "listing_words"),
        opens("bench.dashboard.screens.dialogs.settings_forms:trade_form"),
    ),
    Act("add", "n", "new", "Add a channel, a step of the scale, a task's watts", THIS).by(
        opens(places.STEP_FORM, "step.side"),
        opens("bench.dashboard.screens.dialogs.expense_forms:task_watts_form", "new_task_watts"),
        opens(places.CHANNEL_FORM, "currency"),
    ),
    Act("earlier", "minus", "up", "Move the step one place up", THIS).by(
        runs(REORDER_STEP, "step.step_id", steps=-1), NO_STEP
    ),
    Act("later", "plus", "down", "Move the step one place down", THIS).by(
        runs(REORDER_STEP, "step.step_id", steps=1), NO_STEP
    ),
    Act("remove", "x", "remove", "Remove the line under the cursor", THIS).by(
        runs(
            "bench.work.trade:remove_channel",
            "channel.channel_id",
            says="Removed {channel.name}. It can be undone.",
        ),
        runs("bench.work.grades:remove_step", "step.step_id", says="Removed {step.name}. It can be undone."),
        "Put the cursor on a channel or a step first.",
    ),
    UNDO,
    BACK,
)
ROUTES = on(
    "routes",
    enter("open", "Open the line under the cursor"),
    NEXT_PANEL,
    Act("add", "n", "new", "Add a route, or a task to the route", THIS).by(
        opens(places.ROUTE_TASK_FORM, "opened_route.route_id"),
        asks_name("New route", "bench.work.route_tasks:add_route", draft="route new"),
    ),
    Act("edit", "e", "edit", "Change the line under the cursor", THIS).by(
        opens(places.ROUTE_TASK_FORM, "opened_route.route_id", "task.route_task_id"),
        asks_name(
            "Rename the route",
            "bench.work.route_tasks:rename_route",
            "focused_route.route_id",
            draft="route {focused_route.route_id}",
            name="{focused_route.name}",
        ),
    ),
    Act("set_consumables", "t", "consumables", "Say which consumables the task uses up", STOCK).by(
        calls("bench.dashboard.screens.uses:ask_route_use", "task"), NO_TASK
    ),
    Act("copy", "c", "copy", "Copy the route under a new name", THIS).by(
        asks_name(
            "Copy {route.name}",
            "bench.work.route_tasks:copy_route",
            "route.route_id",
            draft="route copy {route.route_id}",
            name="{route.name} 2",
        )
    ),
    Act("earlier", "minus", "up", "Move the task one place up", THIS).by(
        runs(REORDER_ROUTE_TASK, "task.route_task_id", steps=-1)
    ),
    Act("later", "plus", "down", "Move the task one place down", THIS).by(
        runs(REORDER_ROUTE_TASK, "task.route_task_id", steps=1)
    ),
    Act("remove", "x", "remove", "Remove the line under the cursor", THIS).by(
        runs(
            "bench.work.route_tasks:remove_route_task",
            "focused_task.route_task_id",
            says="Removed {focused_task.name}. It can be undone.",
        ),
        runs(
            "bench.work.route_tasks:remove_route",
            "focused_route.route_id",
            says="Removed {focused_route.name}. It can be undone.",
        ),
    ),
    UNDO,
    BACK,
)
