"""Who carries out the acts: a screen that is asked what is there, and does the first way that it can."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from operator import attrgetter
from typing import Any, ClassVar

from bench.dashboard.acts import places
from bench.dashboard.acts.act import AsksName, AsksWhy, Calls, Opens, Runs, Way, call, gives, needs
from bench.dashboard.doing import Doing, say
from bench.dashboard.keys import act_on, bindings_for
from bench.dashboard.presenters.choices import Marked
from bench.desk import Desk


class Acting(Doing):
    """Mix in first. `keys`: its acts in keys.py, of which its bindings are made.

    What is there is told by methods such as `unit_here`.
    """

    keys: ClassVar[str]

    def __init_subclass__(cls, **arguments: Any) -> None:
        """Bind the keys of a screen that names its acts."""
        if "keys" in vars(cls):
            cls.BINDINGS = bindings_for(cls.keys)
        super().__init_subclass__(**arguments)

    def here(self, what: str) -> Any:
        """What is there by that name, such as the unit under the cursor; None where there is none."""
        return getattr(self, f"{what}_here")()

    def marked_units_here(self) -> Marked | None:
        """The units that are marked; None where none is."""
        return None

    def marked_on_hold_here(self) -> Marked | None:
        """The same where all of them are on hold."""
        return None

    def marked_tasks_here(self) -> Marked | None:
        """The tasks that are marked; None where none is."""
        return None

    def unmark(self) -> None:
        """Take the marks off what was done with."""

    def action_act(self, name: str) -> None:
        """Do what the act of that name says."""
        act = act_on(self.keys, name)
        self.bench.repeating.begin(act)
        self.carry_out(*act.ways)

    def carry_out(self, *ways: Way) -> None:
        """Do the first of these for which all that it needs is there; nothing where that is none of them."""
        for way in ways:
            here = {what: self.here(what) for what in needs(way)}
            if any(one is None for one in here.values()):
                continue
            given = [_value(path, here) for path in gives(way)]
            if all(one is not None for one in given):
                self._do_way(way, here, given)
                return

    def ask_why(
        self,
        heading: str,
        use_case: str,
        *given: object,
        draft: str,
        then: Callable[[Any], None] | None = None,
    ) -> None:
        """Ask for a reason, then run a use case of (desk, *given, reason)."""

        def answered(reason: str) -> None:
            self.run_use_case(use_case, *given, reason, then=then)

        self.open_screen(places.REASON, heading, "Why", then=answered, draft=draft)

    def _do_way(self, way: Way, here: Mapping[str, Any], given: Sequence[object]) -> None:
        match way:
            case str():
                say(self.app, way.format(**here))
            case Opens():
                then = partial(self._go_on, way.then, given) if way.then else None
                self.open_screen(way.target, *given, then=then, **way.also)
            case Runs():
                told = partial(self._tell, way.says, here)
                work = partial(call, way.target, self.desk, *given, **way.also)
                self.change(work, told)
            case AsksWhy():
                heading, draft = way.heading.format(**here), way.draft.format(**here)
                told = partial(self._tell, way.says, here)
                self.ask_why(heading, way.target, *given, draft=draft, then=told)
            case AsksName():
                heading, draft = way.heading.format(**here), way.draft.format(**here)
                use_case = partial(_with_name, way.target, given)
                self.open_screen(places.NAME_FORM, heading, use_case, way.name.format(**here), draft=draft)
            case Calls():
                call(way.target, self, *given)

    def _go_on(self, then: str, given: Sequence[object], answer: object) -> None:
        call(then, self, answer, *given)

    def _tell(self, says: str, here: Mapping[str, Any], answer: object) -> None:
        self.bench.repeating.wrote()
        if any(isinstance(one, Marked) for one in here.values()):
            self.unmark()
        if says:
            say(self.app, says.format(answer=answer, **here))


def _value(path: str, here: Mapping[str, Any]) -> Any:
    what, _, name = path.partition(".")
    return attrgetter(name)(here[what]) if name else here[what]


def _with_name(use_case: str, given: Sequence[object], desk: Desk, name: str) -> Any:
    return call(use_case, desk, *given, name)
