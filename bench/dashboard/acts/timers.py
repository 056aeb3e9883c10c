"""Time: starting, stopping and finishing tasks, who acts, entries, and the week that sums them up."""

from __future__ import annotations

from dataclasses import replace

from bench.dashboard.acts import places
from bench.dashboard.acts.act import STOCK, THIS, TIME, Act, calls, on, opens, runs
from bench.dashboard.acts.common import BACK, NEXT_PANEL, SAVES, UNDO, enter

NO_ENTRY = "There is no entry under the cursor."
NO_TASK = "There is no task under the cursor."
NO_UNIT = "There is no unit under the cursor."
START = "bench.dashboard.screens.starting:start"
START_STOP = "bench.dashboard.screens.starting:start_stop"
STOP = "bench.dashboard.screens.starting:stop"
NOTHING_TO_START = "{unit.tag} has no task left to start."

START_STOP_NEXT = Act(
    "start_stop", "s", "start/stop", "Start the unit's next task, or stop the one that runs", TIME
).by(
    calls(START_STOP, "task"),
    calls(STOP, "timer"),
    calls(START, "unit.next_task_id"),
    NOTHING_TO_START,
    NO_UNIT,
)
START_STOP_TASK = Act(
    "start_stop", "s", "start/stop", "Start the task under the cursor, or stop it", TIME
).by(calls(START_STOP, "task"), NOTHING_TO_START, NO_UNIT)
DONE = Act("finish", "d", "done", "Finish the task: issue its consumables, say how a test ended", TIME).by(
    runs("bench.work.several:finish_tasks", "marked_tasks.ids", says="Finished {answer.named}."),
    opens(places.FINISH, "to_finish"),
    "{unit.tag} has no task left to finish.",
    NO_UNIT,
)
WHO = Act("person", "p", "person", "Choose who is working", TIME).by(
    opens(
        "bench.dashboard.screens.dialogs.pick:choose_person",
        then="bench.dashboard.screens.first:FirstScreen.act_as",
    )
)

WEEK = on(
    "week",
    enter("open", "Open the line under the cursor"),
    NEXT_PANEL,
    Act("earlier", "left,left_square_bracket", "earlier", "The week before", THIS),
    Act("later", "right,right_square_bracket", "later", "The week after", THIS),
    Act("this_week", "t", "this week", "Back to the week we are in", THIS),
    Act("correct", "e", "correct", "Correct the time entry under the cursor", TIME).by(
        opens(places.CORRECT_ENTRY, "entry.entry_id"), NO_ENTRY
    ),
    Act("add_time", "n", "add time", "Add time to the task of the entry under the cursor", TIME).by(
        opens(places.ADD_ENTRY, "entry.task_id", "entry_words"), NO_ENTRY
    ),
    Act("save", "s", "save", "Save the sheet as text, CSV or JSON", THIS).by(SAVES),
    Act("take_estimates", "a", "take estimates", "Make what was measured the new estimate", TIME).by(
        opens(
            "bench.dashboard.screens.dialogs.pick:choose_estimate",
            "estimate",
            then="bench.dashboard.screens.week:WeekScreen.take_estimate",
        ),
        "There is no task under the cursor of the estimates.",
    ),
    replace(UNDO, group=TIME),
    BACK,
)
FORGOTTEN = on(
    "forgotten",
    Act("keep", "f2", "keep", "Let the timer run on", TIME),
    Act("drop", "f4", "drop", "Drop the timer as if it had not been started", TIME),
)
CORRECT_ENTRY = on(
    "correct_entry", Act("remove", "f4", "remove", "Remove the entry, for the reason typed", TIME)
)
FINISH = on("finish", Act("count", "f2", "count", "Count what is short", STOCK))
