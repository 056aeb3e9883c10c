"""The page for `man`: what the commands say of themselves, and the manual's pages."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from bench import __version__
from bench.manual.pages import TOPICS, read_page
from bench.manual.roff import head, line_of, literal, roff_of, section, term

# Told by the commands themselves, or too long for a page that is read from its top.
LEFT_OUT = ("keys", "commands")
SUMMARY = r"refurbishing bench: a dashboard for people who put second\-hand laptops in order"


def man_page(group: Any, today: date) -> str:
    """The whole page, as roff. `group`: the program with all of its commands."""
    return "".join(
        (
            head("bench", today.isoformat(), f"bench {__version__}"),
            section("Name", f"bench \\- {SUMMARY}\n"),
            section("Synopsis", ".B bench\n.RI [ options ]\n.RI [ command\n.RI [ arguments ]]\n"),
            section("Description", "".join(f"{line_of(text)}\n" for text in (group.help, group.epilog))),
            section("Options", "".join(_options(group))),
            section("Commands", "".join(_command(name, one) for name, one in _shown(group))),
            *(roff_of(read_page(topic).blocks) for topic in TOPICS if topic not in LEFT_OUT),
        )
    )


def _shown(group: Any) -> Iterator[tuple[str, Any]]:
    return ((name, one) for name, one in group.commands.items() if not one.hidden)


def _command(name: str, command: Any) -> str:
    arguments = " ".join(_named(one) for one in command.params if one.param_type_name == "argument")
    paragraphs = (" ".join(part.split()) for part in (command.help or "").split("\n\n"))
    told = ".PP\n".join(f"{line_of(part)}\n" for part in paragraphs if part)
    return f".SS bench {literal(f'{name} {arguments}'.strip())}\n{told}{''.join(_options(command))}"


def _options(command: Any) -> Iterator[str]:
    for one in command.params:
        if one.param_type_name == "option" and not one.hidden and one.help:
            names = ", ".join((*one.opts, *one.secondary_opts))
            yield term(f"{names} {one.metavar}" if one.metavar else names, one.help)


def _named(argument: Any) -> str:
    name = argument.metavar or argument.name.upper()
    return name if argument.required else f"[{name}]"
