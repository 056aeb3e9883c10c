"""What a new shop begins with: its stages, its consumables at zero stock, and its routes.

Each stage is named for what has been done. Estimates and amounts of the routes are `common practice, no
source`, meant to be changed: a shop's own times and use come first.
"""

from __future__ import annotations

from dataclasses import dataclass

from bench.domain.amounts import Thousandths


@dataclass(frozen=True, slots=True)
class StageAtStart:
    """A stage of a new shop."""

    name: str
    lid_off: bool = False
    final: bool = False
    lists: bool = False
    sells: bool = False


STAGES_AT_START = (
    StageAtStart("received"),
    StageAtStart("inspected"),
    StageAtStart("opened", lid_off=True),
    StageAtStart("cleaned", lid_off=True),
    StageAtStart("refitted", lid_off=True),
    StageAtStart("closed"),
    StageAtStart("tested"),
    StageAtStart("graded"),
    StageAtStart("listed", lists=True),
    StageAtStart("sold", final=True, sells=True),
)


@dataclass(frozen=True, slots=True)
class ConsumableAtStart:
    """A consumable of a new shop, at zero stock. `pack` in thousandths of the base unit."""

    name: str
    base_unit: str
    pack: Thousandths
    lead_days: int
    shelf_life_days: int | None = None
    hazard: str = ""


@dataclass(frozen=True, slots=True)
class RouteTaskAtStart:
    """A task of a starting route. `stage`: where the unit stands while it is done. `uses` in thousandths.

    `opens`: it takes the cover off. `hazard`: what can hurt, where what it takes does not say it. `test`: the
    kind of `domain.outcomes` with whose outcome it ends. `public`: a listing may name it.
    """

    stage: str
    name: str
    estimate_minutes: int
    unattended: bool = False
    lid_off: bool = False
    uses: tuple[tuple[str, int], ...] = ()
    opens: bool = False
    hazard: str = ""
    test: str = ""
    public: bool = False


ISOPROPYL = "isopropyl 99 %"
PASTE = "thermal paste"
WIPES = "lint-free wipes"
SWABS = "foam swabs"
TUBING = "heat-shrink tubing 6 mm 3:1"
STRIPS = "battery adhesive strips"

CONSUMABLES_AT_START = (
    ConsumableAtStart(
        ISOPROPYL, "ml", 1_000_000, 5, 1095, "Flammable liquid and vapour: air the room; no flame or sparks."
    ),
    ConsumableAtStart(PASTE, "g", 4_000, 5, 730, "Keep off skin and eyes; read the maker's sheet."),
    ConsumableAtStart(WIPES, "piece", 100_000, 5),
    ConsumableAtStart(SWABS, "piece", 100_000, 5),
    ConsumableAtStart(
        TUBING, "m", 5_000, 7, None, "Shrinks with hot air: never near solvent vapour, a cell or a live lead."
    ),
    ConsumableAtStart(STRIPS, "piece", 20_000, 10, 365),
)

_LOOK_OVER = RouteTaskAtStart("received", "look over and note faults", 15)
_OPEN = RouteTaskAtStart("inspected", "cover off, disconnect the battery", 10, lid_off=True, opens=True)
_WIPE = RouteTaskAtStart("inspected", "wipe the drive, keep the record", 120, unattended=True, public=True)
_DUST = RouteTaskAtStart("opened", "brush out dust", 10, lid_off=True, public=True)
_PASTE = RouteTaskAtStart(
    "cleaned",
    "renew thermal paste",
    20,
    lid_off=True,
    hazard="solvent",
    uses=((PASTE, 300), (ISOPROPYL, 5_000), (WIPES, 2_000)),
    public=True,
)
_CHECK_BACK = RouteTaskAtStart("refitted", "check gasket, shields, antenna leads", 5, lid_off=True)
_CLOSE = RouteTaskAtStart("refitted", "reconnect the battery, cover on", 10, lid_off=True)
_READINGS = RouteTaskAtStart("tested", "readings after, and grade", 20)
_LISTING = RouteTaskAtStart("graded", "photographs and listing text", 25)
_HAND_OVER = RouteTaskAtStart("listed", "pack and hand over", 15)

ROUTES_AT_START: dict[str, tuple[RouteTaskAtStart, ...]] = {
    "full refurbish": (
        _LOOK_OVER,
        _WIPE,
        _OPEN,
        _DUST,
        RouteTaskAtStart(
            "opened",
            "clean with isopropyl",
            20,
            lid_off=True,
            hazard="solvent",
            uses=((ISOPROPYL, 20_000), (WIPES, 4_000), (SWABS, 4_000)),
            public=True,
        ),
        _PASTE,
        RouteTaskAtStart("cleaned", "fit the drive", 10, lid_off=True, public=True),
        _CHECK_BACK,
        _CLOSE,
        RouteTaskAtStart("closed", "soak test", 240, unattended=True, test="soak", public=True),
        _READINGS,
        _LISTING,
        _HAND_OVER,
    ),
    "clean and re-paste only": (
        _LOOK_OVER,
        _OPEN,
        _DUST,
        _PASTE,
        _CHECK_BACK,
        _CLOSE,
        RouteTaskAtStart("closed", "soak test", 60, unattended=True, test="soak", public=True),
        RouteTaskAtStart("tested", "readings after", 10),
        _HAND_OVER,
    ),
    "drive swap": (
        _LOOK_OVER,
        _WIPE,
        _OPEN,
        RouteTaskAtStart("opened", "take the old drive out, mark it", 5, lid_off=True),
        RouteTaskAtStart("cleaned", "fit the drive", 10, lid_off=True, public=True),
        _CHECK_BACK,
        _CLOSE,
        RouteTaskAtStart("closed", "install and start up", 60, unattended=True, public=True),
        RouteTaskAtStart("tested", "readings after", 10),
        _HAND_OVER,
    ),
    "battery swap": (
        _LOOK_OVER,
        _OPEN,
        RouteTaskAtStart(
            "opened",
            "glued battery pack out, store it apart",
            20,
            lid_off=True,
            uses=((WIPES, 1_000),),
            hazard="glued_cell",
        ),
        RouteTaskAtStart(
            "cleaned",
            "new battery pack in, still unplugged",
            10,
            lid_off=True,
            uses=((STRIPS, 2_000),),
            hazard="glued_cell",
        ),
        _CHECK_BACK,
        _CLOSE,
        RouteTaskAtStart(
            "closed",
            "charge and run down once, with someone near",
            300,
            unattended=True,
            test="battery rundown",
        ),
        RouteTaskAtStart("tested", "readings after", 10),
        _HAND_OVER,
    ),
    "charger lead": (
        RouteTaskAtStart("received", "look over charger and lead, unplugged", 10, hazard="mains"),
        RouteTaskAtStart(
            "inspected",
            "new low-voltage lead end, tubing over the joints",
            30,
            uses=((TUBING, 120),),
            hazard="hot_air",
            public=True,
        ),
        RouteTaskAtStart(
            "closed",
            "charger under load, with someone near",
            60,
            unattended=True,
            hazard="mains",
            test="charger under load",
        ),
        _HAND_OVER,
    ),
    "donor strip": (
        _LOOK_OVER,
        _WIPE,
        _OPEN,
        RouteTaskAtStart(
            "opened", "take the battery out, store it apart", 15, lid_off=True, hazard="glued_cell"
        ),
        RouteTaskAtStart("opened", "take out drive, memory and cards", 15, lid_off=True),
        RouteTaskAtStart("opened", "take out screen, keyboard and boards", 40, lid_off=True),
        RouteTaskAtStart(
            "opened",
            "clean, label the parts",
            20,
            uses=((ISOPROPYL, 10_000), (WIPES, 4_000)),
            hazard="solvent",
        ),
    ),
}
