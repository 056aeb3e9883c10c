"""The command palette: everything that the keys of the open screen do, found by its words."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from textual.command import DiscoveryHit, Hit, Hits, Provider

from bench.dashboard.keys import APP, SCREEN_KEYS
from bench.dashboard.one_key import Key


class BenchCommands(Provider):
    """What can be done on the screen under the palette."""

    async def discover(self) -> Hits:
        """Everything, while nothing is typed."""
        for key in self._keys():
            yield DiscoveryHit(f"{key.label} ({key.tooltip})", self._run(key))

    async def search(self, query: str) -> Hits:
        """What matches the words typed."""
        matcher = self.matcher(query)
        for key in self._keys():
            words = f"{key.label} ({key.tooltip})"
            score = matcher.match(words)
            if score > 0:
                yield Hit(score, matcher.highlight(words), self._run(key))

    def _keys(self) -> list[Key]:
        bound = {active.binding.id for active in self.screen.active_bindings.values()}
        tables = (*SCREEN_KEYS.values(), APP)
        return [key for table in tables for key in table if key.id in bound and key.footer]

    def _run(self, key: Key) -> Callable[[], Any]:
        where = "app." if key in APP else ""
        return partial(self.screen.run_action, where + key.action)
