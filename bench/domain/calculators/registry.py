"""All calculators, in the order they are offered."""

from __future__ import annotations

from bench.domain.calculators.battery import BATTERY
from bench.domain.calculators.charger import CHARGER
from bench.domain.calculators.drive_wear import DRIVE
from bench.domain.calculators.paste import PASTE
from bench.domain.calculators.screen_area import SCREEN
from bench.domain.calculators.shape import Calculator
from bench.domain.calculators.solvent_air import SOLVENT_AIR
from bench.domain.calculators.stock_figures import STOCK
from bench.domain.calculators.touch import TOUCH
from bench.domain.calculators.tubing import TUBING

CALCULATORS: tuple[Calculator, ...] = (
    TUBING,
    PASTE,
    SOLVENT_AIR,
    BATTERY,
    DRIVE,
    CHARGER,
    SCREEN,
    STOCK,
    TOUCH,
)
