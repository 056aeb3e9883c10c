"""People and firms traded with: as they are typed, and from when the data of a private one may go."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class PartyTyped:
    """What was typed of a person or firm. `identity_seen`: which paper was looked at, where a code asks it.

    `private`: a private person, whose data are erased when the law's time is over.
    """

    name: str
    address: str = ""
    contact: str = ""
    identity_seen: str = ""
    private: bool = True


@dataclass(frozen=True, slots=True)
class Whose:
    """Whose a unit is; an empty owner: the shop's own."""

    unit_id: int
    tag: str
    owner: str
    owner_contact: str


ERASED = "erased"


@dataclass(frozen=True, slots=True)
class Erased:
    """What an erasing did. `left_in`: where else in the file the erased words still stand, typed by hand.

    `not_rewritten`: why the file could not be rewritten at once, so that old bytes may be left in it.
    `photographs`: how many were erased; `photographs_left`: files of theirs that could not be deleted.
    `copies`: how many copies of the file, made before, still hold them, in `copies_folder`.
    """

    party_ids: tuple[int, ...]
    left_in: tuple[str, ...]
    not_rewritten: str
    copies: int = 0
    copies_folder: str = ""
    photographs: int = 0
    photographs_left: tuple[str, ...] = ()

    @property
    def in_copies(self) -> str:
        """Where else the erased data lie until those copies are given up."""
        if not self.copies:
            return ""
        return f"{self.copies} cop{'y' if self.copies == 1 else 'ies'} of the file in {self.copies_folder}"


def years_after(day: date, years: int) -> date:
    """The same day so many years later; for 29 February where there is none, 1 March."""
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return date(day.year + years, 3, 1)


def erase_from(last_on: date | None, years: int, warranty_until: date | None, today: date) -> date:
    """The first day on which data may be erased: so many years after the last business, warranties over.

    Without any business left (it was taken back) that is today.
    """
    over = today if last_on is None else years_after(last_on, years)
    return over if warranty_until is None else max(over, warranty_until)
