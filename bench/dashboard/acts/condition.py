"""A unit's condition and grade: what was measured, and how each part works and looks."""

from __future__ import annotations

from bench.dashboard.acts import places
from bench.dashboard.acts.act import UNIT, Act, on, opens, runs
from bench.dashboard.acts.common import BACK, UNDO, enter

BUYER_SHEET = "Buyer's sheet"  # the paper's name
STOPPED = "bench.dashboard.screens.condition:ConditionScreen.stopped"

CONDITION = on(
    "condition",
    Act("add_reading", "n,enter", "read", "Type in what was measured", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.condition_forms:ReadingForm",
            "unit.unit_id",
            "subject",
            "unit.tag",
            then=STOPPED,
        )
    ),
    Act("read_file", "f", "from a file", "Read a file that was made on the unit", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.condition_forms:reading_file_form",
            "unit.unit_id",
            "unit.tag",
            then=STOPPED,
        )
    ),
    Act("weigh", "w", "weigh battery", "Keep, sell as it is or replace, by cost", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.condition_forms:WeighBattery",
            "battery_unit.unit_id",
            "battery_unit.currency",
        ),
        "No battery was read yet: read its file, or type its figures in.",
    ),
    Act("remove", "x", "remove", "Take a reading off, with a reason", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.pick:choose_reading",
            "readings",
            "unit.zone",
            then="bench.dashboard.screens.condition:ConditionScreen.ask_why_removed",
        ),
        "There is no reading under the cursor.",
    ),
    UNDO,
    BACK,
)
GRADING = on(
    "grading",
    enter("grade", "Say how the part works and looks"),
    Act("rest", "a", "all work", "Grade alike the parts that are marked, or all without a grade", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.condition_forms:grade_rest_form",
            "unit.unit_id",
            "unit.scale",
            "marked_parts",
            then="bench.dashboard.screens.grading:GradingScreen.graded",
            marked=True,
        ),
        opens(
            "bench.dashboard.screens.dialogs.condition_forms:grade_rest_form",
            "unit.unit_id",
            "unit.scale",
            "not_graded",
        ),
        "Every part is graded: Enter grades one again.",
    ),
    Act("remove", "x", "remove", "Say nothing of the part any more", UNIT).by(
        runs(
            "bench.work.grades:remove_grade",
            "unit.unit_id",
            "line.part",
            says="{line.label}: taken off. It can be undone.",
        )
    ),
    Act("sheet", "b", "buyer's sheet", "What a buyer is told, shown and saved", UNIT).by(
        opens(places.PAPERS, "unit.unit_id", begin=BUYER_SHEET)
    ),
    UNDO,
    BACK,
)
