"""What a document shows: its blocks of code by language, its links, the commands that it names."""

from __future__ import annotations

import re

CODE = re.compile(r"^```(\w+)\n(.*?)^```", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
COMMAND = re.compile(r"`bench ([a-z][a-z-]*)")


def blocks(text: str, language: str) -> list[str]:
    """The blocks of code in this language."""
    return [code for name, code in CODE.findall(text) if name == language]


def examples(text: str) -> list[str]:
    """The lines of its shell blocks that run bench."""
    lines = [line for block in blocks(text, "sh") for line in block.splitlines()]
    return [line for line in lines if line.startswith("bench ")]


def links(text: str) -> list[str]:
    """Where its links lead, those to the web apart."""
    return [link for link in LINK.findall(text) if "://" not in link]


def named_commands(text: str) -> list[str]:
    """The commands of bench that stand in its sentences."""
    return COMMAND.findall(text)
