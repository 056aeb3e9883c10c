"""Faults and tests: those of a unit, and those of the shop with what they cost."""

from __future__ import annotations

from bench.dashboard.acts import places
from bench.dashboard.acts.act import THIS, UNIT, Act, asks_why, on, opens
from bench.dashboard.acts.common import BACK, NEXT_PANEL, UNDO, enter

FORMS = "bench.dashboard.screens.dialogs.fault_forms"
NO_FAULT = "There is no fault under the cursor."
FAULT_FORM = f"{FORMS}:fault_form"
NO_UNIT = "There is no unit under the cursor."

ADD_FAULT = Act("add_fault", "i", "fault", "Record a fault of the unit in a line", UNIT, footer=False).by(
    opens(f"{FORMS}:fault_line_form", "unit.unit_id", "unit.tag"), NO_UNIT
)
FAULTS = on(
    "faults",
    enter("open", "Say more of the fault, and what became of it"),
    NEXT_PANEL,
    Act("add", "n", "new fault", "Record a fault of the unit in a line", UNIT).by(
        opens(f"{FORMS}:fault_line_form", "unit.unit_id", "unit.tag")
    ),
    Act("test", "t", "test", "Say how a test ended", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.pick:choose_test",
            then="bench.dashboard.screens.faults:FaultsScreen.end_test",
        )
    ),
    Act("belongs", "b", "belongs to it", "A task, time, part or return that is for the fault", UNIT).by(
        opens(f"{FORMS}:belongs_form", "fault"), NO_FAULT
    ),
    Act("picture", "p", "picture", "Keep a picture that shows the fault", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.photograph_forms:attach_form",
            "unit.unit_id",
            "unit.tag",
            "fault",
        ),
        NO_FAULT,
    ),
    Act("photographs", "o", "photographs", "The unit's photographs", UNIT, footer=False).by(
        opens(places.PHOTOGRAPHS, "unit.unit_id")
    ),
    Act("remove", "x", "remove", "Take the fault or the attempt off the records, with a reason", UNIT).by(
        asks_why(
            "Take the test off the records",
            "bench.work.outcomes:remove_test",
            "focused_outcome.test_id",
            draft="test off {focused_outcome.test_id}",
        ),
        asks_why(
            "Take the fault off the records",
            "bench.work.faults:remove_fault",
            "fault.fault_id",
            draft="fault off {fault.fault_id}",
        ),
        NO_FAULT,
    ),
    UNDO,
    BACK,
)
SHOP_FAULTS = on(
    "shop_faults",
    enter("open", "Open the faults of the unit"),
    NEXT_PANEL,
    Act("by", "v", "by place/model/whose", "Group what faults cost another way", THIS),
    Act("all", "a", "open/all", "Show the open faults only, or all", THIS),
    UNDO,
    BACK,
)
