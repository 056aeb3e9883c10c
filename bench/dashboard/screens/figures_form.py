"""The figures of one calculator to type in, kept while they are not sent."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widget import Widget

from bench.dashboard.acts.act import call
from bench.dashboard.doing import Doing
from bench.dashboard.presenters.pieces import Part
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.field import Field
from bench.dashboard.screens.dialogs.text_fields import FIGURE, NumberField
from bench.dashboard.widgets.steady import Stacked
from bench.domain.calculators.registry import CALCULATORS
from bench.domain.calculators.shape import Calculator, Given

DIGITS_OR_NOTHING = ("", *"0123456789.,")


class FiguresPanel(VerticalScroll, can_focus=False, inherit_bindings=False):
    """Where the form is scrolled as the focus moves; the arrows go from figure to figure."""

    BORDER_TITLE = "Figures"

    def on_descendant_focus(self) -> None:
        """Show that the keys go into it; from figure to figure nothing of it changes."""
        self.call_later(self._look)

    def on_descendant_blur(self) -> None:
        """Show that they go elsewhere."""
        self.call_later(self._look)

    def _look(self) -> None:
        self.set_class(self.has_focus_within, "-within")


class FiguresForm(Stacked):
    """A field for each figure, begun with its default. `values`: what was typed here before."""

    def __init__(self, calculator: Calculator, values: Mapping[str, str]) -> None:
        super().__init__()
        self.calculator = calculator
        self.fields = {given.name: _field(given, values) for given in calculator.givens}
        self._told: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        """The fields in order."""
        yield from self.fields.values()

    @property
    def typed(self) -> dict[str, str]:
        """What stands in the fields, by name."""
        return {name: field.value for name, field in self.fields.items()}

    def put(self, values: Mapping[str, str]) -> None:
        """Put these values into their fields."""
        for name, value in values.items():
            self.fields[name].put(value)

    def restore(self, values: Mapping[str, str]) -> None:
        """Put these values into the fields in which nobody has typed yet."""
        for given in self.calculator.givens:
            if given.name in values and self.fields[given.name].value == given.default:
                self.fields[given.name].put(values[given.name])

    def empty(self) -> None:
        """Put every default back."""
        self.put({given.name: given.default for given in self.calculator.givens})

    def show(self, wrong: Mapping[str, str]) -> None:
        """Put the sentence under each figure that cannot be used, and the unit behind those without one."""
        for given in self.calculator.givens:
            field, sentence = self.fields[given.name], wrong.get(given.name, "")
            if field.said != sentence:
                field.say(sentence)
            unit = given.unit if field.value.strip()[-1:] in DIGITS_OR_NOTHING else ""
            if self._told.get(given.name) != unit:
                self._told[given.name] = unit
                field.tell(Part(unit))

    def name_of(self, widget: Widget) -> str | None:
        """The name of the figure whose field this widget is in."""
        return next(
            (name for name, field in self.fields.items() if field in widget.ancestors_with_self), None
        )

    def take_focus(self) -> None:
        """Have the next key go to the first field."""
        next(iter(self.fields.values())).take_focus()


def _field(given: Given, values: Mapping[str, str]) -> Field:
    value = values.get(given.name, given.default)
    if given.choices:
        choices = [(choice, choice) for choice in given.choices]
        return ChoiceField(given.name, given.label, choices, none=None, value=value)
    return NumberField(given.name, given.label, like=FIGURE, hint=given.limits(), value=value)


Typed = Mapping[str, Mapping[str, str]]


class FiguresKept:
    """The figures typed for one unit, by calculator and name; those that are as they began are not kept."""

    def __init__(self, screen: Doing, unit_id: int | None) -> None:
        self._screen = screen
        self._draft = "calculators" if unit_id is None else f"calculators {unit_id}"
        self._kept: dict[str, str] = {}

    def read(self, then: Callable[[Typed], None]) -> None:
        """Hand over what was kept, once it is read."""

        def read(kept: dict[str, str]) -> None:
            self._kept = kept
            then(_by_calculator(kept))

        self._screen.do(partial(call, "bench.views.shop:read_draft", self._screen.desk, self._draft), read)

    def keep(self, typed: Typed) -> None:
        """Keep these figures, if they are others than those kept."""
        values = _flat(typed)
        if values == self._kept:
            return
        self._kept = values
        self._screen.run_use_case("bench.work.drafts:save_draft", self._draft, values)


def _flat(typed: Typed) -> dict[str, str]:
    return {
        f"{calculator.name}.{given.name}": typed[calculator.name][given.name]
        for calculator in CALCULATORS
        for given in calculator.givens
        if typed.get(calculator.name, {}).get(given.name, given.default) != given.default
    }


def _by_calculator(kept: Mapping[str, str]) -> dict[str, dict[str, str]]:
    figures: dict[str, dict[str, str]] = {}
    for name, value in kept.items():
        calculator, _, given = name.partition(".")
        figures.setdefault(calculator, {})[given] = value
    return figures
