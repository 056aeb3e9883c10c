"""Keys as they come from a terminal, each with its instant: a scanner's burst, a fast typist's line."""

from __future__ import annotations

from textual import events
from textual.app import App
from textual.pilot import Pilot

from tests.screen.host import settled

NAMED = {
    "\r": "enter",
    "\t": "tab",
    "\x1b": "escape",
    "\x15": "ctrl+u",
    "\x7f": "backspace",
    "↓": "down",
    "↑": "up",
}


def key_event(character: str) -> events.Key:
    """The event of one key."""
    name = NAMED.get(character)
    if name is not None:
        return events.Key(name, character if name in ("enter", "tab") else None)
    return events.Key("space" if character == " " else character, character)


def send(app: App[int], text: str, gap: float) -> None:
    """Put keys into the app's queue, all before any of them is looked at; `gap`: seconds between them."""
    first: float | None = None
    for place, character in enumerate(text):
        event = key_event(character)
        first = event.time if first is None else first
        event.time = first + place * gap
        event.set_sender(app)
        app.post_message(event)


async def scan(pilot: Pilot[int], text: str, gap: float = 0.005) -> None:
    """Scan a text and wait for what follows."""
    send(pilot.app, text + "\r", gap)
    await settled(pilot)
