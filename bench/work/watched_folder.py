"""The folder into which a phone or camera drops pictures, looked at again and again."""

from __future__ import annotations

from pathlib import Path

from bench.domain.dropped import Seen, Stamp, come_to_rest
from bench.store.photographs import pictures_in


class WatchedFolder:
    """What came into a folder since the first look. What was there then is left alone."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._known: dict[str, Stamp] | None = None
        self._before: Seen = {}

    def look(self) -> tuple[Path, ...]:
        """Each picture that is new and there to its end, once. StoreError where it cannot be read."""
        now = pictures_in(self.folder)
        if self._known is None:
            self._known = dict(now)
        new = come_to_rest(self._before, now, self._known)
        self._before = now
        for name in new:
            self._known[name] = now[name]
        return tuple(self.folder / name for name in new)
