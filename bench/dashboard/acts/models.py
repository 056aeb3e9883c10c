"""Models: the list of them, and what is written on the page of one."""

from __future__ import annotations

from bench.dashboard.acts import places
from bench.dashboard.acts.act import THIS, Act, on, opens, runs
from bench.dashboard.acts.common import BACK, NEXT_PANEL, UNDO, enter

FORMS = "bench.dashboard.screens.dialogs.model_forms"
STEP_FORM, SCREW_FORM = f"{FORMS}:model_step_form", f"{FORMS}:model_screw_form"
REORDER = "bench.work.model_pages:reorder_model_step"
NO_LINE = "Put the cursor on a step or on screws first."
NO_STEP = "Put the cursor on a step first."

TAKE = Act("take_page", "i", "take over", "Take over a page that another shop wrote", THIS).by(
    opens(f"{FORMS}:take_page_form")
)
MODELS = on("models", enter("open", "Open the model's page"), TAKE, UNDO, BACK)
MODEL_PAGE = on(
    "model_page",
    enter("edit", "Correct what is under the cursor, or open the unit it is of").by(
        opens(STEP_FORM, "page.maker", "page.model", "step"),
        opens(SCREW_FORM, "page.maker", "page.model", "screw"),
        opens(places.FAULTS, "known_fault.unit_id"),
        opens(places.PHOTOGRAPHS, "model_photograph.unit_id"),
        opens(f"{FORMS}:model_page_form", "page.maker", "page.model"),
    ),
    NEXT_PANEL,
    Act("add_step", "n", "new step", "Add a step of taking it apart", THIS).by(
        opens(STEP_FORM, "page.maker", "page.model")
    ),
    Act("add_screws", "c", "screws", "Add screws of one kind at one place", THIS).by(
        opens(SCREW_FORM, "page.maker", "page.model")
    ),
    Act("write", "e", "what it takes", "Write what it takes, its traps and a note", THIS).by(
        opens(f"{FORMS}:model_page_form", "page.maker", "page.model")
    ),
    Act("earlier", "minus", "up", "Move the step one place up", THIS, footer=False).by(
        runs(REORDER, "step.step_id", steps=-1), NO_STEP
    ),
    Act("later", "plus", "down", "Move the step one place down", THIS, footer=False).by(
        runs(REORDER, "step.step_id", steps=1), NO_STEP
    ),
    Act("remove", "x", "remove", "Remove the step or the screws under the cursor", THIS).by(
        runs(
            "bench.work.model_pages:remove_model_step",
            "step.step_id",
            says="Removed step {step.position}. It can be undone.",
        ),
        runs(
            "bench.work.model_pages:remove_model_screw",
            "screw.screw_id",
            says="Removed the screws at {screw.place}. It can be undone.",
        ),
        NO_LINE,
    ),
    Act("share", "s", "share", "Save the page as a file for another shop", THIS).by(
        opens(f"{FORMS}:share_page_form", "page")
    ),
    TAKE,
    UNDO,
    BACK,
)
