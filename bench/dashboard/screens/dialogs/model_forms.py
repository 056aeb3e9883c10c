"""The forms of a model's page: what it takes, a step of taking it apart, its screws, a page taken over."""

from __future__ import annotations

from bench.dashboard import use_cases
from bench.dashboard.screens.dialogs.choice_fields import MarkField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.form import form
from bench.dashboard.screens.dialogs.text_fields import FIGURE, WHOLE, NoteField, NumberField, TextField
from bench.domain.model_page import LABELS, WRITTEN, ModelPageSheet, ModelStepLine, ScrewLine
from bench.reports.saving import save_new
from bench.views.model_page import read_model_page


@form
def model_page_form(maker: str, model: str) -> FormOf[bool]:
    """What a model takes, and what is to be minded of it."""
    lines = tuple(TextField(name, LABELS[name].capitalize()) for name in WRITTEN[:-2])

    def begin(page: ModelPageSheet) -> Begun:
        return Begun(values={name: getattr(page, name) for name in WRITTEN})

    return FormOf(
        heading=f"The page of {maker} {model}".replace("  ", " "),
        draft=f"model page {maker} {model}",
        fields=(*lines, *(NoteField(name, LABELS[name].capitalize()) for name in WRITTEN[-2:])),
        reads=lambda desk: read_model_page(desk, maker, model),
        begins=begin,
        does=lambda filled: use_cases.model_pages.edit_model_page(filled.desk, maker, model, **filled.typed),
    )


@form
def model_step_form(maker: str, model: str, step: ModelStepLine | None = None) -> FormOf[bool]:
    """A step of taking such a machine apart; without `step` it is a new one, last."""

    def write(filled: Filled) -> None:
        if step is None:
            use_cases.model_pages.add_model_step(filled.desk, maker, model, **filled.typed)
        else:
            use_cases.model_pages.edit_model_step(filled.desk, step.step_id, **filled.typed)

    return FormOf(
        heading="One more step" if step is None else f"Step {step.position}",
        draft=f"model step {step.step_id if step else f'{maker} {model}'}",
        fields=(TextField("words", "Step", hint="such as: lift the edge at the hinge first"),),
        enter=True,
        begins=lambda _: Begun(values={"words": "" if step is None else step.words}),
        does=write,
    )


@form
def model_screw_form(maker: str, model: str, screw: ScrewLine | None = None) -> FormOf[bool]:
    """Screws of one kind at one place; without `screw` they are new."""

    def write(filled: Filled) -> None:
        if screw is None:
            use_cases.model_pages.add_model_screw(filled.desk, maker, model, **filled.typed)
        else:
            use_cases.model_pages.edit_model_screw(filled.desk, screw.screw_id, **filled.typed)

    def begin(_: object) -> Begun:
        if screw is None:
            return Begun()
        torque = "" if screw.torque_mnm is None else f"{screw.torque_mnm} mNm"
        return Begun(
            values={
                "place": screw.place,
                "size": screw.size,
                "count_text": str(screw.count),
                "torque_text": torque,
                "note": screw.note,
            }
        )

    return FormOf(
        heading="Screws",
        draft=f"model screw {screw.screw_id if screw else f'{maker} {model}'}",
        fields=(
            TextField("place", "Where", hint="such as bottom cover"),
            NumberField("count_text", "How many", like=WHOLE),
            TextField("size", "Size", hint="such as M2 x 4"),
            NumberField("torque_text", "Torque", like=FIGURE, hint="such as 0.2 Nm; empty: not known"),
            TextField("note", "Note"),
        ),
        begins=begin,
        does=write,
    )


@form
def share_page_form(page: ModelPageSheet) -> FormOf[bool]:
    """The page saved as one file for another shop."""

    def save(filled: Filled) -> object:
        from bench.domain.model_sharing import shared_text
        from bench.reports.saving import new_path

        return save_new(shared_text(page), new_path(filled.typed["path"], (".json", ".txt")))

    name = "-".join(page.name.casefold().split())
    return FormOf(
        heading="Share this page",
        draft=f"share {page.name}",
        above="It tells what was written here, nothing of units, people or money.",
        fields=(TextField("path", "File", value=f"{name}.json"),),
        enter=True,
        does=save,
        says=lambda path: f"Saved {path}",
    )


@form
def take_page_form() -> FormOf[bool]:
    """A page that another shop wrote, taken over."""
    return FormOf(
        heading="Take over a shared page",
        draft="take page",
        fields=(
            TextField("path", "File"),
            MarkField("instead", "", "in place of what is written on our page"),
        ),
        does=lambda filled: use_cases.model_pages.take_shared_page(
            filled.desk, filled.typed["path"], instead=filled.typed["instead"]
        ),
        says=lambda name: f"Took over the page of {name}.",
        answers=lambda _: True,
    )
