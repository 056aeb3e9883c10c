"""Drive wear: what was written, what is left, and for how long at the shop's own pace.

Source of the fields: NVMe base specification, health log 02h. A data unit is 1000 blocks of 512 bytes;
percentage used is the maker's estimate in whole percent, may pass 100 and stops at 255.
"""

from __future__ import annotations

from typing import NamedTuple

from bench.domain.calculators.measures import not_negative, positive
from bench.domain.calculators.shape import Answer, Calculator, Figures, Given, Sum
from bench.domain.limits.media import LIMITS
from bench.domain.limits.record import COMMON_PRACTICE
from bench.errors import BadInput

DATA_UNIT_BYTES = LIMITS["drive.data_unit_bytes"].whole
TERABYTE = 10**12
DAYS_A_YEAR = 365
MOST_PERCENT_USED = LIMITS["drive.most_percent_used"].whole
WORN_OUT_PERCENT = LIMITS["drive.worn_out_percent"].whole
MOST_YEARS = LIMITS["drive.most_years"].whole

CAUTION_BACKUP = (
    "Wear is not the only way a drive fails: no figure here says that data on it will last. "
    "Wipe what was on it before it is sold, and say what was done."
)


def bytes_written(data_units: int) -> int:
    """Bytes the host has written, exactly: data units × 512,000."""
    if data_units < 0:
        raise BadInput(f"{data_units} data units cannot be.", "Copy the figure from the drive's health log.")
    return data_units * DATA_UNIT_BYTES


def terabytes_written(data_units: int) -> float:
    """The same in decimal terabytes."""
    return bytes_written(data_units) / TERABYTE


def percent_left(percentage_used: int) -> int:
    """What the maker's estimate leaves, in percent, 0 from 100 used on; BadInput outside 0 to 255."""
    if not 0 <= percentage_used <= MOST_PERCENT_USED:
        raise BadInput(f"{percentage_used} % used cannot be.", f"The log gives 0 to {MOST_PERCENT_USED}.")
    return max(0, WORN_OUT_PERCENT - percentage_used)


class Years(NamedTuple):
    """Years left, between a low and a high estimate; `high` None where nothing bounds it."""

    low: float
    high: float | None


def years_by_wear(terabytes: float, percentage_used: int, gigabytes_day: float) -> Years | None:
    """Years until 100 % used, if each further percent costs as many bytes as so far. None at 0 % used.

    Percentage used is whole: the truth may lie up to one percent to either side, which gives the span.
    """
    if percentage_used <= 0:
        return None
    terabytes_year = positive(gigabytes_day, "The writes a day") / 1000 * DAYS_A_YEAR
    written = not_negative(terabytes, "What was written")

    def years(used: float) -> float:
        return max(0.0, WORN_OUT_PERCENT - used) * written / used / terabytes_year

    return Years(years(percentage_used + 1), years(percentage_used - 1) if percentage_used > 1 else None)


def years_by_rating(rated_tb: float, terabytes: float, gigabytes_day: float) -> float:
    """Years until the rated terabytes are written at so many gigabytes a day; 0 once they are."""
    left_gb = (positive(rated_tb, "The rating") - not_negative(terabytes, "What was written")) * 1000
    return max(0.0, left_gb) / positive(gigabytes_day, "The writes a day") / DAYS_A_YEAR


def drive_writes_a_day(rated_tb: float, capacity_tb: float, warranty_years: float) -> float:
    """Full drive writes a day that the rating allows over the warranty: TBW / (capacity × 365 × years)."""
    days = positive(warranty_years, "The warranty") * DAYS_A_YEAR
    return positive(rated_tb, "The rating") / positive(capacity_tb, "The capacity") / days


def _written(figures: Figures) -> tuple[Answer, ...]:
    written = terabytes_written(int(figures["units"]))
    based_on = f"exact, {DATA_UNIT_BYTES:,} bytes a unit"
    return (Answer("written", "Written by the host", written, "TB", 2, based_on, noted=True),)


def _wear(figures: Figures) -> tuple[Answer, ...]:
    used = int(figures["used"])
    gone = used >= WORN_OUT_PERCENT
    based_on = "PAST the maker's estimate: replace it" if gone else "the maker's estimate, whole percent"
    return (Answer("left", "Life left", float(percent_left(used)), "%", 0, based_on, alert=gone, noted=True),)


def _years(figures: Figures) -> tuple[Answer, ...]:
    written, used = terabytes_written(int(figures["units"])), int(figures["used"])
    years = years_by_wear(written, used, figures["pace"])
    based_on = "span of the whole percents; same work as before"
    if years is None:
        return (Answer("years_low", "Left by wear", None, words="no wear to calculate from yet"),)
    return (
        _capped("years_low", "Left by wear, at least", years.low, based_on, noted=True),
        _capped("years_high", "and at most", years.high, based_on),
    )


def _rating(figures: Figures) -> tuple[Answer, ...]:
    years = years_by_rating(figures["rated"], terabytes_written(int(figures["units"])), figures["pace"])
    based_on = "the maker's warranty figure, not a lifetime"
    return (_capped("years_rated", "To the rated writes", years, based_on),)


def _capped(name: str, label: str, years: float | None, based_on: str, *, noted: bool = False) -> Answer:
    """Years left; past the cap only that it is more: everything else on a drive ages too."""
    if years is not None and years > MOST_YEARS:
        return Answer(name, label, f"more than {MOST_YEARS}", "years", 0, based_on, noted=noted)
    return Answer(name, label, years, "years", 1, based_on, noted=noted, words="not known at 1 % used")


def _daily(figures: Figures) -> tuple[Answer, ...]:
    writes = drive_writes_a_day(figures["rated"], figures["capacity"], figures["warranty"])
    return (Answer("dwpd", "Rated full writes a day", writes, "", 2, "over the warranty"),)


DRIVE = Calculator(
    name="drive",
    title="Drive wear",
    line="Bytes written, life left, years left at the shop's own pace",
    givens=(
        Given("units", "Data units written", "", 0, 10**12, whole=True),
        Given("used", "Percentage used", "%", 0, MOST_PERCENT_USED, whole=True),
        Given("pace", "Writes a day, as measured", "GB/day", 0.01, 1_000_000),
        Given("rated", "Rated writes (TBW)", "TB", 1, 1_000_000),
        Given("capacity", "Capacity", "TB", 0.01, 1000),
        Given("warranty", "Warranty", "years", 0.5, 20, LIMITS["drive.warranty_years"].typed),
    ),
    sums=(
        Sum("Written", ("units",), _written),
        Sum("Wear", ("used",), _wear),
        Sum("Years left by wear", ("units", "used", "pace"), _years),
        Sum("Years left by rating", ("units", "rated", "pace"), _rating),
        Sum("Rating", ("rated", "capacity", "warranty"), _daily),
    ),
    formulas=(
        f"TB written = data units × {DATA_UNIT_BYTES:,} bytes",
        "years by wear = (100 − used) × TB written ÷ used ÷ TB a year, for used ± 1",
        "years by rating = (TBW − TB written) ÷ TB a year; writes a day = TBW ÷ (capacity × 365 × warranty)",
    ),
    sources=(
        "NVMe base specification, health log 02h: data units written (bytes 48-63), percentage used (byte 5)",
        "TBW = writes a day × capacity × 365 × warranty years: makers' definition",
        f"Same bytes a percent as so far; more than {MOST_YEARS} years are not told: {COMMON_PRACTICE}",
    ),
    cautions=(CAUTION_BACKUP,),
)
