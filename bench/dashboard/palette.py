"""The command palette: everything that the keys of the open screen do, found by its words."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from textual.command import DiscoveryHit, Hit, Hits, Provider

from bench.dashboard.acts.act import Act
from bench.dashboard.key_check import APP, SCREEN_KEYS
from bench.dashboard.keys import run_by


class BenchCommands(Provider):
    """What can be done on the screen under the palette."""

    async def discover(self) -> Hits:
        """Everything, while nothing is typed."""
        for one in self._acts():
            yield DiscoveryHit(f"{one.label} ({one.tooltip})", self._run(one))

    async def search(self, query: str) -> Hits:
        """What matches the words typed."""
        matcher = self.matcher(query)
        for one in self._acts():
            words = f"{one.label} ({one.tooltip})"
            score = matcher.match(words)
            if score > 0:
                yield Hit(score, matcher.highlight(words), self._run(one))

    def _acts(self) -> list[Act]:
        bound = {active.binding.id for active in self.screen.active_bindings.values()}
        tables = (*SCREEN_KEYS.values(), APP)
        return [one for table in tables for one in table if one.id in bound and one.footer]

    def _run(self, one: Act) -> Callable[[], Any]:
        return partial(self.screen.run_action, run_by(one))
