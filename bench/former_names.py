"""Names of before this release that are still taken, with a sentence: commands, their options, keys."""

from __future__ import annotations

from collections.abc import Mapping

COMMANDS = {
    "take-back": "undo",
    "price": "most-to-pay",
    "ordered": "order-sent",
    "complain": "wrong-part",
    "cancel": "cancel-order",
    "fetched": "past-prices",
    "ways": "compare",
    "faults": "fault",
    "rates": "return-rates",
    "sum": "calc",
}
# By the command of today.
OPTIONS: dict[str, dict[str, str]] = {
    "offer": {"--firm": "--business", "--paper": "--id-seen", "--leave": "--decline"},
    "buy-lot": {"--firm": "--business", "--paper": "--id-seen"},
    "bought": {"--firm": "--business", "--paper": "--id-seen"},
    "sell": {"--firm": "--business"},
    "done": {"--use": "--used"},
    "compare": {"--takes": "--time"},
    "trade": {"--hold": "--waiting"},
}
# The names by which keys are changed in the settings.
KEYS = {
    "first.opening_list": "first.opening_checklist",
    "first.close_up_list": "first.closing_checklist",
    "unit.opening_list": "unit.opening_checklist",
    "unit.close_up_list": "unit.closing_checklist",
    "unit.set_use": "unit.set_consumables",
    "routes.set_use": "routes.set_consumables",
    "settings.lid": "settings.cover",
    "buying.leave": "buying.decline",
    "more.ways": "more.compare",
}


def _sentence(old: str, now: str) -> str:
    return f"`{old}` is now `{now}`; the old name goes with the next release."


def options_of_today(command: str, arguments: list[str]) -> tuple[list[str], list[str]]:
    """The arguments after a command with the options of today, and a sentence for each that was renamed."""
    former = OPTIONS.get(COMMANDS.get(command, command), {})
    told: list[str] = []
    sentences: list[str] = []
    for at, text in enumerate(arguments):
        if text == "--":
            return [*told, *arguments[at:]], sentences
        option, equals, value = text.partition("=")
        now = former.get(option, option)
        told.append(f"{now}{equals}{value}")
        if now != option:
            sentences.append(_sentence(option, now))
    return told, sentences


def command_sentence(command: str) -> str:
    """What a command that was called by its former name is called now; empty for one of today."""
    now = COMMANDS.get(command)
    return _sentence(f"bench {command}", f"bench {now}") if now else ""


def keys_of_today(keys: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """A person's own keys by the names of today, and a sentence for each that was renamed.

    Where both names are given, that of today counts.
    """
    told = {KEYS[old]: key for old, key in keys.items() if old in KEYS}
    told |= {name: key for name, key in keys.items() if name not in KEYS}
    return told, [_sentence(old, KEYS[old]) for old in keys if old in KEYS]
