"""What the shop writes down of a model: its page, the steps of taking it apart, its screws."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from sqlmodel import col, func, select

from bench.desk import Desk
from bench.domain.model_page import LABELS, MOST_SCREWS, MOST_STEP, WRITTEN, read_torque
from bench.domain.model_sharing import SharedPage, read_shared
from bench.domain.text import clean_line, clean_note
from bench.domain.typed import TypedFields, read_field, read_whole
from bench.errors import BadInput, Refused
from bench.store.tables import ModelPage, ModelScrew, ModelStep
from bench.work.change import Change, change
from bench.work.names import tells_if_changed
from bench.work.ordering import shift
from bench.work.readings import bytes_of_file

MOST_BYTES = 1_000_000


def edit_model_page(desk: Desk, maker: str, model: str, **written: str) -> None:
    """Write what a model takes and what is to be minded of it; the page is made where there is none.

    `written`: by the names of WRITTEN; what is not given stays.
    """
    with change(desk, "model page") as made:
        fields = TypedFields()
        told = {name: fields.read(name, clean_note, text, LABELS[name]) for name, text in written.items()}
        fields.check()
        page = page_of(made, maker, model)
        for name, text in told.items():
            setattr(page, name, text)
        tells_if_changed(made, f"Wrote on the page of {_name(page)}")


def add_model_step(desk: Desk, maker: str, model: str, *, words: str) -> int:
    """One more step of taking such a machine apart, last; answers its number."""
    with change(desk, "model step") as made:
        typed = read_field("words", clean_line, words, "The step", MOST_STEP)
        page = page_of(made, maker, model)
        last = select(func.max(col(ModelStep.position))).where(ModelStep.page_id == page.id)
        position = (made.session.exec(last).one() or 0) + 1
        assert page.id is not None
        step = made.add(ModelStep(page_id=page.id, position=position, words=typed))
        made.tells(f"Added step {position} to the page of {_name(page)}")
        assert step.id is not None
        return step.id


def edit_model_step(desk: Desk, step_id: int, *, words: str) -> None:
    """Set the words of a step right."""
    with change(desk, "model step") as made:
        step = made.get(ModelStep, step_id, "step")
        step.words = read_field("words", clean_line, words, "The step", MOST_STEP)
        tells_if_changed(made, f"Edited a step on the page of {_name_of(made, step.page_id)}")


def reorder_model_step(desk: Desk, step_id: int, steps: int) -> None:
    """Move a step up (below 0) or down, no further than the ends."""
    with change(desk, "model step") as made:
        step = made.get(ModelStep, step_id, "step")
        statement = select(ModelStep).where(ModelStep.page_id == step.page_id, ModelStep.removed == 0)
        rows = list(made.session.exec(statement.order_by(col(ModelStep.position), col(ModelStep.id))))
        if shift(rows, step, steps):
            made.tells(f"Moved a step on the page of {_name_of(made, step.page_id)}")


def remove_model_step(desk: Desk, step_id: int) -> None:
    """Take a step off the page."""
    with change(desk, "model step") as made:
        step = made.get(ModelStep, step_id, "step")
        step.removed = 1
        made.tells(f"Removed a step from the page of {_name_of(made, step.page_id)}")


def add_model_screw(
    desk: Desk,
    maker: str,
    model: str,
    *,
    place: str,
    size: str,
    count_text: str,
    torque_text: str = "",
    note: str = "",
) -> int:
    """Screws of one kind at one place; answers their number. An empty torque is not known."""
    with change(desk, "model screw") as made:
        screw = _screw(ModelScrew(page_id=0, place="", count=1), place, size, count_text, torque_text, note)
        page = page_of(made, maker, model)
        assert page.id is not None
        screw.page_id = page.id
        made.add(screw)
        made.tells(f"Added screws to the page of {_name(page)}")
        assert screw.id is not None
        return screw.id


def edit_model_screw(
    desk: Desk,
    screw_id: int,
    *,
    place: str,
    size: str,
    count_text: str,
    torque_text: str = "",
    note: str = "",
) -> None:
    """Correct what is known of some screws."""
    with change(desk, "model screw") as made:
        screw = made.get(ModelScrew, screw_id, "screw")
        _screw(screw, place, size, count_text, torque_text, note)
        tells_if_changed(made, f"Edited screws on the page of {_name_of(made, screw.page_id)}")


def remove_model_screw(desk: Desk, screw_id: int) -> None:
    """Take some screws off the page."""
    with change(desk, "model screw") as made:
        screw = made.get(ModelScrew, screw_id, "screw")
        screw.removed = 1
        made.tells(f"Removed screws from the page of {_name_of(made, screw.page_id)}")


def take_shared_page(desk: Desk, path_text: str, *, instead: bool = False) -> str:
    """Take over a page that another shop wrote; answers the model's name.

    `instead`: what is on the shop's own page goes; without it Refused where anything is. BadInput for a file
    that cannot be read or is no such page. All of it or nothing.
    """
    shared = read_field("path", _shared_at, path_text)
    with change(desk, "model page") as made:
        page = page_of(made, shared.maker, shared.model)
        kept = _kept(made, page)
        if (kept or any(getattr(page, name) for name in WRITTEN)) and not instead:
            raise Refused(
                f"The page of {_name(page)} is written on already.",
                "Say that the shared one is taken instead.",
            )
        for row in kept:
            row.removed = 1
        for name, text in shared.written.items():
            setattr(page, name, text)
        assert page.id is not None
        for position, words in enumerate(shared.steps, start=1):
            made.session.add(ModelStep(page_id=page.id, position=position, words=words))
        for one in shared.screws:
            made.session.add(ModelScrew(page_id=page.id, **asdict(one)))
        made.tells(f"Took over a shared page of {_name(page)}")
        return _name(page)


def _shared_at(path_text: str) -> SharedPage:
    if not path_text.strip():
        raise BadInput("The file is not named.", "Type the path of a shared page.")
    path = Path(path_text.strip()).expanduser()
    content = bytes_of_file(path, "Name a shared page.", MOST_BYTES)
    if len(content) > MOST_BYTES:
        raise BadInput(f"{path} is larger than any shared page.", "Name another file.")
    return read_shared(content.decode("utf-8", "replace"))


def _screw(
    screw: ModelScrew, place: str, size: str, count_text: str, torque_text: str, note: str
) -> ModelScrew:
    fields, torque = TypedFields(), torque_text.strip()
    screw.place = fields.read("place", clean_line, place, "Where they go")
    screw.size = fields.read("size", clean_line, size, "Their size", allow_empty=True)
    screw.count = fields.read("count_text", read_whole, count_text, "The number of screws", 1, MOST_SCREWS)
    screw.torque_mnm = fields.read("torque_text", read_torque, torque) if torque else None
    screw.note = fields.read("note", clean_line, note, "The note", allow_empty=True)
    fields.check()
    return screw


def page_of(made: Change, maker: str, model: str) -> ModelPage:
    """The page of a model, made where there is none."""
    name = read_field("model", clean_line, model, "The model")
    of = read_field("maker", clean_line, maker, "The maker", allow_empty=True)
    statement = select(ModelPage).where(
        col(ModelPage.model).collate("NOCASE") == name,
        col(ModelPage.maker).collate("NOCASE") == of,
        ModelPage.removed == 0,
    )
    return made.session.exec(statement).first() or made.add(ModelPage(maker=of, model=name))


def _kept(made: Change, page: ModelPage) -> list[ModelStep | ModelScrew]:
    """All that stands on a page in rows of its own."""
    steps = select(ModelStep).where(ModelStep.page_id == page.id, ModelStep.removed == 0)
    screws = select(ModelScrew).where(ModelScrew.page_id == page.id, ModelScrew.removed == 0)
    return [*made.session.exec(steps), *made.session.exec(screws)]


def _name_of(made: Change, page_id: int) -> str:
    return _name(made.get(ModelPage, page_id, "page"))


def _name(page: ModelPage) -> str:
    return f"{page.maker} {page.model}".strip()
