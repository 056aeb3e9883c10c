"""A screen as pyte draws it, with the two things that fill a frame done quickly: looks and text."""

from __future__ import annotations

import re
from codecs import getincrementaldecoder

import pyte
from pyte.screens import Char, wcwidth

_LOOK = re.compile(r"\x1b\[([0-9;]*)m")
_CONTROLS = re.compile(r"[\x00-\x1f\x7f-\x9f]")
# pyte would print the ends of these: kitty keyboard requests, and asking whether a mode is known.
_UNKNOWN_TO_PYTE = re.compile(rb"\x1b\[[<>=][0-9;:]*u|\x1b\[\?[0-9;]*\$p")
_UNFINISHED = re.compile(rb"\x1b(\[[0-?]*[ -/]*)?\Z")


class QuickScreen(pyte.Screen):
    """Remembers what a change of look comes to, and writes narrow text that fits its line cell by cell."""

    def __init__(self, columns: int, rows: int) -> None:
        self._looks: dict[tuple[Char, str], Char] = {}
        self._cells: dict[Char, dict[str, Char]] = {}
        super().__init__(columns, rows)

    def look(self, parameters: str) -> None:
        """Change the look of what is drawn from now on."""
        before = self.cursor.attrs
        known = self._looks.get((before, parameters))
        if known is None:
            self.select_graphic_rendition(*(int(one or 0) for one in parameters.split(";")))
            self._looks[before, parameters] = self.cursor.attrs
        else:
            self.cursor.attrs = known

    def draw(self, data: str) -> None:
        """Write text at the cursor."""
        cursor = self.cursor
        cells = self._cells.setdefault(cursor.attrs, {})
        for char in set(data).difference(cells):
            if wcwidth(char) == 1:
                cells[char] = cursor.attrs._replace(data=char)
        if cursor.x + len(data) > self.columns or not all(char in cells for char in data):
            super().draw(data)
            return
        line = self.buffer[cursor.y]
        for column, char in enumerate(data, cursor.x):
            line[column] = cells[char]
        cursor.x += len(data)
        self.dirty.add(cursor.y)


class Drawing:
    """Draws on a screen what a program sends, however it is cut into reads."""

    def __init__(self, screen: QuickScreen) -> None:
        self._screen = screen
        self._stream = pyte.Stream(screen)
        self._decode = getincrementaldecoder("utf-8")().decode
        self._held_back = b""

    def feed(self, data: bytes) -> None:
        """Draw it, but for a sequence whose end has not come."""
        data = self._held_back + data
        unfinished = _UNFINISHED.search(data)
        end = unfinished.start() if unfinished else len(data)
        self._held_back = data[end:]
        text = self._decode(_UNKNOWN_TO_PYTE.sub(b"", data[:end]))
        at = 0
        for found in _LOOK.finditer(text):
            self._between(text[at : found.start()])
            self._screen.look(found[1])
            at = found.end()
        self._between(text[at:])

    def _between(self, text: str) -> None:
        if not text:
            return
        if _CONTROLS.search(text):
            self._stream.feed(text)
        else:
            self._screen.draw(text)
