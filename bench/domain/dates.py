"""Days as a person types them."""

from __future__ import annotations

import re
from datetime import date, timedelta

from bench.domain.text import quoted
from bench.errors import BadInput

# The words that a day may be typed as: days from today, and weekdays by their place in the week.
DAY_WORDS = {"today": 0, "tomorrow": 1, "yesterday": -1}
WEEKDAY_WORDS = {
    word: place
    for place, words in enumerate(
        (
            ("mon", "monday"),
            ("tue", "tues", "tuesday"),
            ("wed", "wednesday"),
            ("thu", "thurs", "thursday"),
            ("fri", "friday"),
            ("sat", "saturday"),
            ("sun", "sunday"),
        )
    )
    for word in words
}

_DAYS_ON = re.compile(r"\+(\d{1,4})")
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}")


def read_day(text: str, today: date, what: str) -> date | None:
    """The day typed: 2026-11-30, today, tomorrow, or +14 for days from today; None for nothing typed.

    `what` names the field in the sentence of a BadInput.
    """
    word = text.strip().casefold()
    if not word:
        return None
    if word in DAY_WORDS:
        return today + timedelta(days=DAY_WORDS[word])
    days_on = _DAYS_ON.fullmatch(word)
    if days_on:
        return today + timedelta(days=int(days_on[1]))
    try:
        if not (word.isascii() and _ISO.fullmatch(word)):
            raise ValueError(word)
        return date.fromisoformat(word)
    except ValueError:
        raise BadInput(
            f"{what} {quoted(text)} is not a day.", "Type it as 2026-11-30, today, tomorrow or +14."
        ) from None
