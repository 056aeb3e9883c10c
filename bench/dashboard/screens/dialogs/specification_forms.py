"""The forms of what a unit is made of: its machine's own file taken in, and the specification typed."""

from __future__ import annotations

from pathlib import Path

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField
from bench.dashboard.screens.dialogs.condition_forms import MOMENT_CHOICES, added_words
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.field import TAG, Field
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.dashboard.screens.dialogs.unit_forms import route_choices, usual_route
from bench.domain.condition.fields import BEFORE
from bench.domain.specification import Specification
from bench.domain.specification_typed import FIELDS, SpecificationField, typed_of
from bench.errors import BadInput, KnownAlready
from bench.views.routes import read_routes
from bench.views.specification import SpecificationSheet, read_specification

HOW = "`bench collector > collect.sh` gives the script; run it on the machine, as root, from a boot stick."
NOT_HERE = "Drives are recorded under Drives and wipes."


@form
def intake_form(tag: str = "") -> FormOf[int]:
    """A collector's file taken in: it makes a unit or fills one; answers the unit's number."""

    def take(filled: Filled) -> tuple[str, int]:
        typed = filled.typed
        path = typed.pop("path").strip()
        if not path:
            raise BadInput("The file is not named.", "Type where it lies.", field="path")
        route_id = typed.pop("route")
        taken = use_cases.intake.take_in(
            filled.desk, path=Path(path).expanduser(), route_id=route_id, **typed
        )
        words = "Added" if taken.new_unit else "Filled"
        changed = "; ".join(change.words for change in taken.changes)
        if not taken.first and not changed:
            changed = "nothing changed since the last one"
        told = (f"{words} unit {taken.tag}{f': {changed}' if changed else ''}.", *taken.told)
        said = added_words((one.verdicts for one in taken.readings), told)
        return said.removesuffix(" Kept."), taken.unit_id

    return FormOf(
        heading="Take in a machine's own file",
        draft=f"intake {tag}".rstrip(),
        fields=(
            TextField("path", "File", hint="such as /media/stick/machine.txt"),
            TextField(
                "tag_text",
                "Unit",
                takes=TAG,
                value=tag,
                hint="empty: by its serial number, or new",
            ),
            ChoiceField("route", "Route, if new", none="no route: no tasks", ids=True),
            ChoiceField("moment", "Readings", MOMENT_CHOICES, none=None, value=BEFORE),
        ),
        send="Take it in",
        enter=True,
        known=HOW,
        reads=read_routes,
        begins=lambda routes: Begun(
            choices={"route": route_choices(routes)}, values={"route": usual_route(routes)}
        ),
        does=take,
        asks=(KnownAlready,),
        says=lambda taken: str(taken[0]),
        answers=lambda taken: int(taken[1]),
    )


@form
def specification_form(unit_id: int, tag: str) -> FormOf[bool]:
    """What a unit is made of, typed: begun with what is known; an emptied field is not known any more."""

    def keep(filled: Filled) -> object:
        begun = _begun(filled.facts)
        changed = {name: text for name, text in filled.typed.items() if text.strip() != begun[name]}
        return use_cases.specification.set_specification(filled.desk, unit_id, changed or filled.typed)

    return FormOf(
        heading=f"Specification of {tag}",
        draft=f"specification {unit_id}",
        fields=tuple(map(_field, FIELDS.values())),
        known=NOT_HERE,
        reads=lambda desk: read_specification(desk, unit_id),
        begins=lambda sheet: Begun(values=_begun(sheet)),
        does=keep,
    )


def _begun(sheet: SpecificationSheet) -> dict[str, str]:
    return typed_of(sheet.newest.machine if sheet.newest is not None else Specification())


def _field(field: SpecificationField) -> Field:
    if field.choices:
        choices = [(one, one) for one in field.choices]
        return ChoiceField(field.name, field.label, choices, none="not looked at")
    return TextField(field.name, field.label, hint=field.hint)
