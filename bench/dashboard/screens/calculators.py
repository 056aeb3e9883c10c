"""The bench calculators: one to choose, its figures to type, its answers as one types."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.timer import Timer
from textual.widgets import Input

from bench.dashboard.doing import Doing, say, show_error
from bench.dashboard.keys import bindings_for, hints_for, key_shown
from bench.dashboard.presenters.calculator_lines import (
    caution_lines,
    head_lines,
    lines_of_figure,
    sheet_lines,
)
from bench.dashboard.presenters.pieces import Line, Part, clip
from bench.dashboard.scan_taking import ReceivesScans
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.drawing import SparingScreen
from bench.dashboard.screens.figures_form import FiguresForm, FiguresKept, FiguresPanel, Typed
from bench.dashboard.widgets.key_bar import KeyBar
from bench.dashboard.widgets.line_list import LineList
from bench.dashboard.widgets.lines_panel import LinesPanel
from bench.dashboard.widgets.lines_scroll import LinesScroll
from bench.dashboard.widgets.steady import SideBySide, Stacked
from bench.domain.calculators.registry import CALCULATORS
from bench.domain.calculators.shape import Calculator
from bench.domain.calculators.worked import Sheet, work
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.work.notes import ResultPut


class CalculatorList(LineList[Calculator]):
    """One line a calculator; the one chosen stays marked while its figures are typed."""

    BORDER_TITLE = "Calculators"
    cursor_stays_lit = True

    def line_of(self, item: Calculator, width: int) -> Line:
        """Its title."""
        return (Part(clip(item.title, width - 2)),)


REST_SECONDS = 0.1
QUIET_SECONDS = 0.4
CHOOSE_PLACE = "bench.dashboard.screens.dialogs.pick:choose_place"
PANELS = ("#list", "#figures", "#answers")


class CalculatorsScreen(ReceivesScans, Doing, SparingScreen[None]):
    """All calculators. With a unit, a result can be put on it or on one of its tasks.

    `begin_with`: the name of the one to begin with.
    """

    CSS_PATH = "calculators.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings_for("calculators")
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [  # type: ignore[misc]
        (0, "-narrow"),
        (112, "-normal"),
        (180, "-wide"),
    ]
    AUTO_FOCUS = "#list"
    label_cells = 30
    tail_cells = 7

    form: FiguresForm

    def __init__(self, unit_id: int | None = None, tag: str = "", *, begin_with: str = "") -> None:
        super().__init__()
        self.begin_with = begin_with
        self.unit_id, self.tag = unit_id, tag
        self._typed: dict[str, Mapping[str, str]] = {}
        self._kept = FiguresKept(self, unit_id)
        self._form_soon: Timer | None = None
        self._keep_soon: Timer | None = None

    def compose(self) -> ComposeResult:
        """The list, and beside it cautions, figures and answers of the one chosen."""
        yield LinesPanel(id="head")
        with SideBySide(id="body"):
            yield CalculatorList(id="list")
            with Stacked(id="one"):
                yield LinesPanel(id="cautions")
                with Stacked(id="halves"):
                    with FiguresPanel(id="figures"):
                        self.form = FiguresForm(CALCULATORS[0], {})
                        yield self.form
                    yield LinesScroll(title="Answers", id="answers")
        yield KeyBar(*hints_for("calculators", self.bench.own_keys))

    def on_mount(self) -> None:
        """Show the one to begin with, else the first."""
        first = next((at for at, one in enumerate(CALCULATORS) if one.name == self.begin_with), 0)
        self.query_one(CalculatorList).show(CALCULATORS, first)
        self._kept.read(self._restore)

    @property
    def calculator(self) -> Calculator:
        """The calculator under the cursor."""
        return self.query_one(CalculatorList).current or CALCULATORS[0]

    @property
    def typed(self) -> Mapping[str, str]:
        """What is typed into it."""
        if self.form.calculator is self.calculator:
            return self.form.typed
        return self._typed.get(self.calculator.name, {})

    @property
    def sheet(self) -> Sheet:
        """What the figures give as they stand."""
        return work(self.calculator, self.typed)

    def action_figures(self) -> None:
        """Go to the figures of the calculator under the cursor, or on to the next figure."""
        if self.query_one(CalculatorList).has_focus:
            self._go_to_figures()
        else:
            self.focus_next(".control")

    def action_next_field(self) -> None:
        """Go to the next figure."""
        self.focus_next(".control")

    def action_previous_field(self) -> None:
        """Go to the figure before."""
        self.focus_previous(".control")

    def action_next_panel(self) -> None:
        """From the list to the figures, to the answers, and round again."""
        at = next((n for n, panel in enumerate(PANELS) if self._is_in(panel)), len(PANELS) - 1)
        following = PANELS[(at + 1) % len(PANELS)]
        if following == "#figures":
            self._go_to_figures()
        else:
            self.set_focus(self.query_one(following))

    def action_empty(self) -> None:
        """Put every figure back to what it began with."""
        self._put_form()
        self.form.empty()

    def action_put(self) -> None:
        """Put the result on the unit, or on one of its tasks."""
        try:
            words = self.sheet.note()
        except BadInput as error:
            show_error(self.app, error)
            return
        unit_id = self.unit_id
        if unit_id is None:
            key = key_shown("first.calculators", self.bench.own_keys)
            say(self.app, f"There is no unit to put it on: press {key} with the cursor on one.")
            return
        then = partial(self._put, unit_id, words)
        self.open_screen(CHOOSE_PLACE, unit_id, self.tag, words, then=then)

    def action_back(self) -> None:
        """Back to where one came from; what is typed is kept for this unit."""
        self._keep()
        self.dismiss(None)

    @on(LineList.Moved, "#list")
    def _chosen(self) -> None:
        calculator = self.calculator
        self.query_one("#head", LinesPanel).show(lambda width: head_lines(calculator, self.tag, width))
        self.query_one("#cautions", LinesPanel).show(lambda width: caution_lines(calculator, width))
        self._calculate()
        self.query_one(LinesScroll).bring_into_view(range(1))
        # A form is many widgets: it waits until the cursor rests, so that every key is answered at once.
        if self._form_soon is not None:
            self._form_soon.stop()
        self._form_soon = self.set_timer(REST_SECONDS, self._put_form)

    @on(LineList.Chosen, "#list")
    def _opened(self) -> None:
        self._go_to_figures()

    @on(Input.Submitted)
    @on(ChoiceField.Made)
    def _went_on(self, event: Input.Submitted | ChoiceField.Made) -> None:
        event.stop()
        self.action_next_field()

    @on(Input.Changed)
    @on(ChoiceField.Changed)
    def _changed(self, event: Input.Changed | ChoiceField.Changed) -> None:
        name = self.form.name_of(event.control)
        if name is None:  # from a form that is gone already
            return
        sheet = self._calculate()
        if event.control is self.focused:
            answers = self.query_one(LinesScroll)
            answers.bring_into_view(lines_of_figure(sheet, name, answers.line_width))
        if self._keep_soon is not None:
            self._keep_soon.stop()
        self._keep_soon = self.set_timer(QUIET_SECONDS, self._keep)

    def _calculate(self) -> Sheet:
        sheet = self.sheet
        if self.form.calculator is sheet.calculator:
            self.form.show(sheet.wrong)
        self.query_one(LinesScroll).show(lambda width: sheet_lines(sheet, width))
        return sheet

    def _keep(self) -> None:
        self._kept.keep({**self._typed, self.form.calculator.name: self.form.typed})

    def _restore(self, kept: Typed) -> None:
        self._typed = {**kept, **self._typed}
        self.form.restore(kept.get(self.form.calculator.name, {}))
        self._calculate()

    def _put_form(self) -> None:
        calculator, before = self.calculator, self.form
        if before.calculator is calculator:
            return
        self._typed[before.calculator.name] = before.typed
        self.form = FiguresForm(calculator, self._typed.get(calculator.name, {}))
        before.remove()
        self.query_one("#figures").mount(self.form)
        self._calculate()

    def _go_to_figures(self) -> None:
        self._put_form()
        self.form.call_after_refresh(self.form.take_focus)

    def _is_in(self, panel: str) -> bool:
        widget = self.query_one(panel)
        return self.focused is not None and (self.focused is widget or widget in self.focused.ancestors)

    def _put(self, unit_id: int, words: str, task_id: int) -> None:
        def then(put: ResultPut) -> None:
            say(self.app, f"Put on {put.tag}: {put.line}")

        self.run_use_case("bench.work.notes:put_result", unit_id, task_id or None, words, then=then)
