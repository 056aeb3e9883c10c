"""What a terminal sends, made fit for the framework: no broken byte ends a session, no paste presses keys."""

from __future__ import annotations

import re
from codecs import getincrementaldecoder
from dataclasses import dataclass

PASTE_BEGINS = b"\x1b[200~"
PASTE_ENDS = b"\x1b[201~"
LONGEST_PASTE = 1_000_000  # bytes; a paste whose end never comes is handed on when it is as long as this

# Mouse reports of the oldest form: three bytes of any value, which are no text past column 95, and past
# column 223 no number. The newer forms are asked for; a terminal that knows only this one has no mouse.
_OLD_MOUSE = re.compile(rb"\x1b\[M[\x00-\xff]{3}")
_BEGUN = re.compile(rb"\x1b\[(?:M[\x00-\xff]{0,2}|20{0,2})\Z")  # of such a report, or of a paste
_SEQUENCE = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[\]P^_][^\x07\x1b]*(?:\x07|\x1b\\)?|[^\x1b])?", re.DOTALL)
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")


@dataclass(frozen=True, slots=True)
class Typed:
    """Keys and reports, as they came."""

    text: str


@dataclass(frozen=True, slots=True)
class Pasted:
    """One paste, without what is no text."""

    text: str


class TerminalInput:
    """Cuts the bytes that a terminal sends into what was typed and what was pasted."""

    def __init__(self) -> None:
        self._held = b""
        self._paste: bytearray | None = None
        self._decode = getincrementaldecoder("utf-8")(errors="ignore").decode

    def feed(self, data: bytes) -> list[Typed | Pasted]:
        """What has come whole with these bytes; the beginning of a report waits for its end."""
        found: list[Typed | Pasted] = []
        data, self._held = self._held + data, b""
        while data:
            data = self._typed(data, found) if self._paste is None else self._pasted(data, found)
        return found

    def _typed(self, data: bytes, found: list[Typed | Pasted]) -> bytes:
        keys, begins, rest = _OLD_MOUSE.sub(b"", data).partition(PASTE_BEGINS)
        if begins:
            self._paste = bytearray()
        else:
            keys, self._held = _without_begun(keys)
        text = self._decode(keys)
        if text:
            found.append(Typed(text))
        return rest

    def _pasted(self, data: bytes, found: list[Typed | Pasted]) -> bytes:
        assert self._paste is not None
        # The end may come in two reads: it is looked for where the last read left off.
        seen = max(0, len(self._paste) - len(PASTE_ENDS) + 1)
        self._paste += data
        end = self._paste.find(PASTE_ENDS, seen)
        if end < 0 and len(self._paste) < LONGEST_PASTE:
            return b""
        body, rest = (
            (self._paste[:end], bytes(self._paste[end + len(PASTE_ENDS) :]))
            if end >= 0
            else (self._paste, b"")
        )
        found.append(Pasted(plain_text(body.decode("utf-8", errors="ignore"))))
        self._paste = None
        return rest


def plain_text(text: str) -> str:
    """Pasted text without escape sequences and control characters; tabs and line ends stay."""
    return _CONTROL.sub("", _SEQUENCE.sub("", text))


def _without_begun(keys: bytes) -> tuple[bytes, bytes]:
    begun = _BEGUN.search(keys)
    if begun is None:
        return keys, b""
    return keys[: begun.start()], keys[begun.start() :]
