"""Owners' machines: the repair of one, its quote and bill; all of them; and general expenses."""

from __future__ import annotations

from bench.dashboard.acts import places
from bench.dashboard.acts.act import THIS, UNIT, Act, on, opens, runs
from bench.dashboard.acts.common import BACK, NEXT_PANEL, UNDO, enter

NO_JOB = "No repair is taken in yet."
NO_LINE = "There is no line under the cursor."

JOB = on(
    "job",
    enter("edit", "Correct the line under the cursor"),
    NEXT_PANEL,
    Act(
        "take_in", "n", "take in, note", "Take the repair in; note its complaint, state and diagnosis", UNIT
    ).by(
        opens(
            "bench.dashboard.screens.dialogs.repair_forms:job_form", "unit.unit_id", "unit.tag", "lasting_job"
        ),
        opens("bench.dashboard.screens.dialogs.repair_forms:job_form", "unit.unit_id", "unit.tag"),
    ),
    Act("add_line", "l", "line", "One more line of the quote, or beyond it once it is answered", UNIT).by(
        opens("bench.dashboard.screens.dialogs.repair_forms:line_form", "job"), NO_JOB
    ),
    Act("remove_line", "x", "remove line", "Take the line out of the quote", UNIT).by(
        runs("bench.work.quotes:remove_line", "line.line_id", says="Removed. It can be undone."), NO_LINE
    ),
    Act("give", "g", "quote given", "Note that the quote was given, and until when it holds", UNIT).by(
        opens("bench.dashboard.screens.dialogs.repair_forms:give_form", "job"), NO_JOB
    ),
    Act("answer", "a", "answer", "What the owner said to the quote, on which day and how", UNIT).by(
        opens("bench.dashboard.screens.dialogs.repair_forms:answer_form", "job"), NO_JOB
    ),
    Act("ready", "r", "ready", "The owner was told today that it is ready", UNIT).by(
        runs("bench.work.repair_jobs:tell_ready", "job.job_id", says="Ready; its owner was told today."),
        NO_JOB,
    ),
    Act("hand_back", "h", "hand back", "Hand the machine back; the bill is its price", UNIT).by(
        opens(places.LEAVE_FORM, "unit.unit_id", "unit.tag")
    ),
    Act("papers", "p", "papers", "Quote, bill and hand-back note, to save", UNIT).by(
        opens("bench.dashboard.screens.repair_papers:RepairPapersScreen", "job.unit_id"), NO_JOB
    ),
    Act(
        "keep_word", "w", "access word", "Keep the word that opens the machine, apart from all else", UNIT
    ).by(opens("bench.dashboard.screens.dialogs.access_word:AccessWordDialog", "job.job_id"), NO_JOB),
    Act("show_word", "s", "show word", "Show the access word; the journal says that you did", UNIT).by(
        runs("bench.work.unlocking:show_access_word", "job.job_id", says="{answer}"), NO_JOB
    ),
    Act("erase_word", "e", "erase word", "Erase the access word for good", UNIT).by(
        runs(
            "bench.work.unlocking:erase_access_word", "job.job_id", says="The access word is erased. {answer}"
        ),
        NO_JOB,
    ),
    UNDO,
    BACK,
)
JOBS = on(
    "jobs",
    enter("open", "Open the repair"),
    Act("all", "a", "here/all", "Those that are here only, or all", THIS),
    Act("unit", "o", "unit", "Open the machine itself", UNIT).by(
        opens(places.UNIT, "job.unit_id"), "There is no machine under the cursor."
    ),
    BACK,
)
EXPENSES = on(
    "expenses",
    enter("edit", "Correct the line; of a category, show its lines alone"),
    NEXT_PANEL,
    Act("add", "n", "new", "Keep an expense or income that belongs to no unit", THIS).by(
        opens("bench.dashboard.screens.dialogs.expense_forms:expense_form")
    ),
    Act("remove", "x", "remove", "Take the line off the records", THIS).by(
        runs(
            "bench.work.expenses:remove_expense",
            "expense.expense_id",
            says="Removed {expense.side} {expense.expense_id}, {expense.category}. It can be undone.",
        ),
        NO_LINE,
    ),
    Act("every", "c", "every category", "Show the lines of every category again", THIS),
    Act("earlier", "left,left_square_bracket", "earlier", "The month or year before", THIS),
    Act("later", "right,right_square_bracket", "later", "The month or year after", THIS),
    Act("span", "m", "month/year", "Months or whole years", THIS),
    UNDO,
    BACK,
)
