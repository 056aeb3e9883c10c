"""A unit's faults and the attempts at its tests; and those of the shop, with what they cost."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.widget import Widget

from bench.dashboard.acts import places
from bench.dashboard.acts.faults import FAULT_FORM, FORMS
from bench.dashboard.keys import key_shown
from bench.dashboard.presenters.fault_rows import (
    fault_detail,
    faults_head,
    outcome_detail,
    rate_lines,
    shop_faults_head,
)
from bench.dashboard.presenters.rows import not_known_rows
from bench.dashboard.screens.sheet import Sheet
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.row_table import RowTable
from bench.dashboard.widgets.steady import Stacked
from bench.domain.outcomes import KINDS
from bench.views.fault_costs import FaultReport, read_fault_report
from bench.views.faults import FaultLine, FaultList, UnitFaults, read_faults, read_unit_faults
from bench.views.kinds import context_of
from bench.views.outcomes import OutcomeLine
from bench.views.rates import RateSheet, read_rates
from bench.views.tables.faults import FAULT_GROUPS, FAULTS, OPEN_FAULTS
from bench.views.tables.outcomes import OUTCOMES

WAYS = ("place", "model", "origin", "fault")


class FaultsScreen(Sheet[UnitFaults]):
    """Faults above, attempts at tests below, what is known of the one under the cursor beneath."""

    keys = "faults"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "faults.tcss"]

    def __init__(self, unit_id: int) -> None:
        super().__init__()
        self.unit_id = unit_id

    def panels(self) -> Iterable[Widget]:
        """Faults, tests, and the detail."""
        own = self.bench.own_keys
        none = f"No fault is recorded. {key_shown('faults.add', own)} records one."
        untested = f"No test has ended yet. {key_shown('faults.test', own)} says how one did."
        yield RowTable(replace(FAULTS, empty=none), stays_lit=True, id="faults")
        yield RowTable(replace(OUTCOMES, empty=untested), stays_lit=True, id="outcomes")
        yield LinesPanel(title="The fault", id="detail")

    def read(self) -> Callable[[], UnitFaults]:
        """The unit's faults and tests."""
        desk, unit_id = self.desk, self.unit_id

        return lambda: read_unit_faults(desk, unit_id)

    def show(self, facts: UnitFaults) -> None:
        """Both tables; the detail follows the cursor."""
        self.query_one("#head", LinesPanel).show(lambda width: faults_head(facts, width))
        self.table("faults").fill(facts.faults, context_of(facts))
        self.table("outcomes").fill(facts.outcomes, context_of(facts))
        self._show_detail()

    def unit_here(self) -> UnitFaults | None:
        """The unit."""
        return self.facts

    def fault_here(self) -> FaultLine | None:
        """The fault under the cursor."""
        key = self.table("faults").key
        faults = self.facts.faults if self.facts else ()
        return next((one for one in faults if one.fault_id == key), None)

    def focused_outcome_here(self) -> OutcomeLine | None:
        """The attempt under the cursor, while the next key goes to the attempts."""
        table = self.table("outcomes")
        outcomes = self.facts.outcomes if self.facts and table.is_current else ()
        return next((one for one in outcomes if one.test_id == table.key), None)

    def open_row(self) -> None:
        """Say more of the fault; from an attempt, of the fault that it showed."""
        outcome, fault = self.focused_outcome_here(), self.fault_here()
        if outcome is not None and self.facts is not None:
            fault = next((one for one in self.facts.faults if one.fault_id == outcome.fault_id), None)
        if fault is not None:
            self.open_screen(FAULT_FORM, fault)

    def end_test(self, number: int) -> None:
        """Ask how a test of the kind that was chosen ended."""
        if self.facts is not None:
            kind = tuple(KINDS)[number]
            self.open_screen(f"{FORMS}:outcome_form", self.unit_id, self.facts.tag, kind)

    def on_descendant_focus(self) -> None:
        """The detail is of what has the focus."""
        super().on_descendant_focus()
        self._show_detail()

    @on(LineList.Moved)
    def _moved(self) -> None:
        self._show_detail()

    def _show_detail(self) -> None:
        if self.facts is None:
            return
        context, fault, outcome = self.context_for(self.facts), self.fault_here(), self.focused_outcome_here()
        detail = self.query_one("#detail", LinesPanel)
        if outcome is not None:
            detail.show(lambda width: outcome_detail(outcome, width))
        else:
            detail.show(lambda width: fault_detail(fault, context, width))
        detail.display = outcome is not None or fault is not None


@dataclass(frozen=True, slots=True)
class ShopFaults:
    """What the shop's screen shows: the faults at once, behind them what all of them cost and the rates."""

    listed: FaultList
    sums: tuple[FaultReport, RateSheet] | None


class ShopFaultsScreen(Sheet[ShopFaults]):
    """The faults of the shop on the left, what faults cost and how sure the rates are on the right."""

    keys = "shop_faults"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["sheet.tcss", "faults.tcss"]

    def __init__(self) -> None:
        super().__init__()
        self.every = False
        self.by = WAYS[0]

    def panels(self) -> Iterable[Widget]:
        """The list; the sums and the rates."""
        yield RowTable(OPEN_FAULTS, stays_lit=True, id="listed")
        with Stacked(id="costs"):
            yield RowTable(FAULT_GROUPS, id="groups")
            yield LinesPanel(title="Returns and failed tests", id="rates")

    def read(self) -> Callable[[], ShopFaults]:
        """The faults; from the second time on their costs and the rates too."""
        desk, every, by, begins = self.desk, self.every, self.by, self.facts is None

        def work() -> ShopFaults:
            listed = read_faults(desk, closed=every)
            return ShopFaults(listed, None if begins else (read_fault_report(desk, by), read_rates(desk)))

        return work

    def goes_on(self, facts: ShopFaults) -> bool:
        """With the sums."""
        return facts.sums is None

    def show(self, facts: ShopFaults) -> None:
        """All that is known."""
        self.query_one("#head", LinesPanel).show(lambda width: shop_faults_head(facts.listed, width))
        self.table("listed").fill(facts.listed.faults, context_of(facts.listed))
        groups = self.table("groups")
        groups.title = f"What faults cost, by {'whose' if self.by == 'origin' else self.by}"
        if facts.sums is None:
            groups.show(not_known_rows())
            return
        report, rates = facts.sums
        groups.fill(report.groups, context_of(report))
        self.query_one("#rates", LinesPanel).show(lambda width: rate_lines(rates, width))

    def unit_here(self) -> FaultLine | None:
        """The fault under the cursor, which names its unit."""
        key = self.table("listed").key
        faults = self.facts.listed.faults if self.facts else ()
        return next((one for one in faults if one.fault_id == key), None)

    def open_row(self) -> None:
        """Open the unit's faults."""
        fault = self.unit_here()
        if fault is not None and self.table("listed").is_current:
            self.open_screen(places.FAULTS, fault.unit_id)

    def action_by(self) -> None:
        """Sum by the next way."""
        self.by = WAYS[(WAYS.index(self.by) + 1) % len(WAYS)]
        self.ask()

    def action_all(self) -> None:
        """Show those that are closed too, or no longer."""
        self.every = not self.every
        self.ask()
