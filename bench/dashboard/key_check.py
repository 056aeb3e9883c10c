"""Every key there is, and whether a person's own can be used: known names, keys that every terminal sends."""

from __future__ import annotations

import re
from collections.abc import Mapping

from bench.dashboard.acts.act import Act
from bench.dashboard.keys import TABLES, acts_on
from bench.domain.text import quoted
from bench.errors import BadInput

APP = acts_on("app")
SCREEN_KEYS = {screen: acts_on(screen) for screen in TABLES if screen != "app"}


def keys_of(screen: str) -> tuple[Act, ...]:
    """The acts of a screen in the order of its key bar, those of the whole app last."""
    return (*SCREEN_KEYS[screen], *APP)


_USABLE = re.compile(
    r"[a-zA-Z0-9]|f([1-9]|10)|ctrl\+[a-gk-ln-z]|up|down|left|right|pageup|pagedown|home|end|enter|escape|tab"
    r"|space|backspace|delete|question_mark|slash|comma|full_stop|vertical_line|plus|minus|left_square_bracket"
    r"|right_square_bracket"
)


def check_keys(keys: Mapping[str, str]) -> None:
    """Pass a remapping of ids to keys.

    BadInput for an unknown id, a key that some terminal swallows, a digit on the first screen (there it
    begins a tag), or a key that would mean two things on one screen.
    """
    known = {key.id for table in (APP, *SCREEN_KEYS.values()) for key in table}
    for key_id, typed in keys.items():
        if key_id not in known:
            raise BadInput(f"{quoted(key_id)} is not a key's name.", _nearest(key_id, known))
        for one in single_keys(typed):
            _check_one(key_id, one)
    for screen in SCREEN_KEYS:
        _check_apart(screen, keys)


def single_keys(typed: str) -> list[str]:
    """The keys in a text such as "f1,question_mark"."""
    return [one.strip() for one in typed.split(",")]


def _check_one(key_id: str, key: str) -> None:
    if not _USABLE.fullmatch(key):
        raise BadInput(
            f"{quoted(key)} cannot be used for {key_id}: not every terminal sends it.",
            "Use a letter, a digit, f1 to f10, ctrl and a letter but h, i, j, m, or an arrow.",
        )
    if key.isdigit() and key_id.startswith("first."):
        raise BadInput(f"{key} cannot be used for {key_id}: there a digit begins a tag.", "Use a letter.")


def _check_apart(screen: str, own: Mapping[str, str]) -> None:
    meant: dict[str, str] = {}
    for key in keys_of(screen):
        for one in single_keys(own.get(key.id, key.keys)):
            if one in meant and (key.id in own or meant[one] in own):
                raise BadInput(
                    f"{one} would mean both {meant[one]} and {key.id}.", "Give one of them another key."
                )
            meant[one] = key.id


def _nearest(key_id: str, known: set[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(key_id, sorted(known), n=1)
    return f"The nearest is {near[0]}." if near else "They look like first.start_stop: screen, dot, action."
