"""The photographs of a unit: kept, captioned, in papers or not, removed, erased."""

from __future__ import annotations

from bench.dashboard.acts.act import THIS, UNIT, Act, calls, on, opens, runs
from bench.dashboard.acts.common import BACK, UNDO, enter

NO_PHOTOGRAPH = "There is no photograph under the cursor."
FORMS = "bench.dashboard.screens.dialogs.photograph_forms"
SHOW = "bench.work.photographs:show_photograph"
CAPTION = opens(f"{FORMS}:caption_form", "photograph", "unit.tag")

PHOTOGRAPHS = on(
    "photographs",
    enter("caption", "Say something else under the photograph"),
    Act("attach", "n", "new", "Keep a photograph of the unit, without the place where it was taken", UNIT).by(
        opens(f"{FORMS}:attach_form", "unit.unit_id", "unit.tag")
    ),
    Act("show", "s", "in papers", "Have it go into papers, or into none", UNIT).by(
        runs(SHOW, "shown_photograph.photograph_id", shown=False),
        runs(SHOW, "photograph.photograph_id", shown=True),
        NO_PHOTOGRAPH,
    ),
    Act("shows", "b", "what it shows", "Say what it shows: a fault, a task, a step of its model", UNIT).by(
        opens(f"{FORMS}:shows_form", "photograph", "unit.unit_id", "unit.tag"), NO_PHOTOGRAPH
    ),
    Act("remove", "x", "remove", "Take it off the unit; its file stays for undo", UNIT).by(
        runs(
            "bench.work.photographs:remove_photograph",
            "photograph.photograph_id",
            says="Removed photograph {photograph.photograph_id}. Its file stays until it is erased.",
        ),
        NO_PHOTOGRAPH,
    ),
    Act("erase", "e", "erase", "Delete its file and caption for good", UNIT).by(
        opens(f"{FORMS}:AskErase", "photograph", "unit.tag"), NO_PHOTOGRAPH
    ),
    Act("folder", "o", "open folder", "Open the unit's folder of photographs", THIS).by(
        calls("bench.dashboard.folder_opening:open_folder", "unit.folder")
    ),
    UNDO,
    BACK,
)
