"""The drives and parts of a unit: recorded, wiped, verified, certified, moved, fitted, taken out."""

from __future__ import annotations

from bench.dashboard.acts import places
from bench.dashboard.acts.act import SAFETY, THIS, UNIT, Act, asks_why, on, opens, runs
from bench.dashboard.acts.buying import DONOR
from bench.dashboard.acts.common import BACK, NEXT_PANEL, SAVES, UNDO, enter

NO_DRIVE = "There is no drive under the cursor."
NO_PART = "There is no part under the cursor."
TAKE_PART = "bench.dashboard.screens.dialogs.part_forms:take_part_form"

VERIFY = (
    opens("bench.dashboard.screens.dialogs.drive_forms:verify_form", "drive", "wipe_to_verify"),
    "No wipe of {drive.name} waits to be verified.",
    NO_DRIVE,
)
CERTIFICATE = opens("bench.dashboard.screens.papers:CertificateScreen", "wipe.wipe_id")

WIPING = on(
    "wiping",
    enter("open", "Go to the drive's wipes; verify or certify one"),
    NEXT_PANEL,
    Act("add_drive", "n", "new drive", "Record a drive that is in the unit", UNIT).by(
        opens(places.DRIVE_FORM, "unit.unit_id")
    ),
    Act("record", "w", "wiped", "Record that the drive was wiped", UNIT).by(
        opens("bench.dashboard.screens.dialogs.drive_forms:WipeForm", "drive"), NO_DRIVE
    ),
    Act("verify", "v", "verify", "Record how the wipe was verified, and the result", UNIT).by(*VERIFY),
    Act("certificate", "c", "certificate", "The certificate of sanitization, to save", UNIT).by(
        CERTIFICATE, "There is no wipe under the cursor."
    ),
    Act("edit_drive", "e", "edit", "Set the drive's particulars right", UNIT).by(
        opens(places.DRIVE_FORM, "unit.unit_id", "drive"), NO_DRIVE
    ),
    Act("none_in_it", "l", "none in it", "Say that you looked and no drive is in the unit", UNIT).by(
        runs("bench.work.waivers:no_drive_in_it", "unit.unit_id", says="Kept: you looked, no drive is in it.")
    ),
    Act("move_drive", "m", "move", "Put the drive into another unit or on the shelf", UNIT).by(
        opens("bench.dashboard.screens.dialogs.drive_forms:move_drive_form", "drive"), NO_DRIVE
    ),
    Act("without", "o", "go on without", "List the unit without a wipe, with a reason", SAFETY).by(
        asks_why(
            "List it without a passed wipe",
            "bench.work.waivers:list_without",
            "unit.unit_id",
            draft="no wipe {unit.unit_id}",
        )
    ),
    Act("remove", "x", "remove", "Take the drive or the wipe off the records", UNIT).by(
        asks_why(
            "Take the wipe off the records",
            "bench.work.wipes:remove_wipe",
            "focused_wipe.wipe_id",
            draft="wipe off {focused_wipe.wipe_id}",
        ),
        asks_why(
            "Take {drive.name} off the records",
            "bench.work.drives:remove_drive",
            "drive.drive_id",
            draft="drive off {drive.drive_id}",
        ),
        NO_DRIVE,
    ),
    UNDO,
    BACK,
)
PARTS = on(
    "parts",
    enter("edit", "Correct the part"),
    NEXT_PANEL,
    Act("fit", "n", "bought part", "Fit a part that was bought for the unit", UNIT).by(
        opens("bench.dashboard.screens.dialogs.part_forms:fit_part_form", "unit.unit_id", "unit.tag")
    ),
    Act("take_in", "t", "from a unit", "Fit a part out of another unit or a donor", UNIT).by(
        opens(TAKE_PART, "unit.unit_id", "unit.tag", into=True)
    ),
    Act("give", "g", "take out", "Take a part out, for another unit or the shelf", UNIT).by(
        opens(TAKE_PART, "unit.unit_id", "unit.tag", into=False)
    ),
    Act("swap", "w", "swap", "Change a like part with another unit", UNIT).by(
        opens("bench.dashboard.screens.dialogs.part_forms:swap_parts_form", "unit.unit_id", "unit.tag")
    ),
    Act("from_shelf", "s", "from shelf", "Fit a part that lies on the shelf", UNIT).by(
        opens(
            "bench.dashboard.screens.dialogs.pick:choose_from_shelf",
            then="bench.dashboard.screens.parts:PartsScreen.fit",
        )
    ),
    Act("orders", "o", "on order", "What is on order for the unit", UNIT).by(
        opens(places.ORDERS, "unit.unit_id", "unit.tag")
    ),
    Act("label", "l", "label", "Save the label of the part, to print", THIS).by(SAVES, NO_PART),
    DONOR,
    UNDO,
    BACK,
)
