"""The forms of photographs: kept by path or from the watched folder, captioned, erased."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from textual.content import Content
from textual.widget import Widget

from bench.dashboard import use_cases
from bench.dashboard.doing import say
from bench.dashboard.presenters.photograph_rows import erased_words, kept_words
from bench.dashboard.screens.dialogs.choice_fields import YES, ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Choices, Filled, FormOf, Typed
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.field import TAG, Field
from bench.dashboard.screens.dialogs.form import Form, form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.dashboard.widgets.steady import Words
from bench.desk import Desk
from bench.domain.photographs import CAPTION_DRAFT, PhotographsKept
from bench.domain.text import for_display
from bench.views.faults import FaultLine, read_unit_faults
from bench.views.model_page import read_written_page
from bench.views.particulars import unit_by_tag
from bench.views.photographs import PhotographLine, read_tag_at_hand
from bench.views.unit import read_unit

MOST_NAMED = 5
IN_PAPERS = "goes into papers"


@form
def attach_form(unit_id: int, tag: str, fault: FaultLine | None = None) -> FormOf[bool]:
    """A picture kept of a unit, or of a fault of it; the place where it was taken is not."""

    def keep(filled: Filled) -> PhotographsKept:
        typed = dict(filled.typed)
        paths = [typed.pop("path")]
        typed = _subject(typed)
        return use_cases.photographs.attach_photographs(filled.desk, unit_id, paths, **typed)

    number = "" if fault is None else str(fault.fault_id)
    return FormOf(
        heading=f"New photograph of {tag}" if fault is None else f"New photograph of f{number} of {tag}",
        draft=f"photograph {unit_id} {number}".rstrip(),
        fields=(
            TextField("path", "File", hint="its path: JPEG, PNG or WebP"),
            TextField("caption", "Caption"),
            *_subject_fields(),
            MarkField("shown", "", IN_PAPERS),
        ),
        reads=lambda desk: _may_show(desk, unit_id),
        begins=lambda choices: Begun(choices=choices, values={"fault_id": number}),
        send="Keep",
        does=keep,
        says=kept_words,
    )


@form
def caption_form(line: PhotographLine, tag: str) -> FormOf[bool]:
    """What is said under a photograph; empty for nothing."""

    def caption(filled: Filled) -> None:
        use_cases.photographs.say_of_photograph(filled.desk, line.photograph_id, **filled.typed)

    return FormOf(
        heading=f"Photograph {line.photograph_id} of {tag}: {line.name}",
        draft=f"{CAPTION_DRAFT} {line.photograph_id}",
        fields=(TextField("caption", "Caption", value=line.caption),),
        enter=True,
        does=caption,
    )


@form
def shows_form(line: PhotographLine, unit_id: int, tag: str) -> FormOf[bool]:
    """What a photograph shows besides its unit."""

    def begin(choices: Mapping[str, Choices]) -> Begun:
        shown = {name: getattr(line, name) for name in choices}
        return Begun(choices=choices, values={name: str(one or "") for name, one in shown.items()})

    return FormOf(
        heading=f"Photograph {line.photograph_id} of {tag} shows",
        draft=f"photograph shows {line.photograph_id}",
        fields=_subject_fields(on_page=line.model),
        reads=lambda desk: _may_show(desk, unit_id),
        begins=begin,
        does=lambda filled: use_cases.photographs.point_photograph(
            filled.desk, line.photograph_id, **_subject(filled.typed)
        ),
    )


def _subject_fields(*, on_page: bool = False) -> tuple[Field, ...]:
    return (
        ChoiceField("fault_id", "Fault", none="none of them", ids=True),
        ChoiceField("task_id", "Task", none="the unit as a whole", ids=True),
        ChoiceField("model_step_id", "Step of its model", none="no step", ids=True),
        MarkField("model", "", "stands on its model's page", value=YES if on_page else ""),
    )


def _subject(typed: Typed) -> dict[str, Any]:
    """What was chosen; one that shows a step stands on the page in any case."""
    return {**typed, "model": typed["model"] or typed["model_step_id"] is not None}


def _may_show(desk: Desk, unit_id: int) -> dict[str, Choices]:
    """The faults and tasks of a unit, and the steps of its model's page, to choose from."""
    page = read_written_page(desk, unit_id)
    steps = () if page is None else page.steps
    faults = read_unit_faults(desk, unit_id).faults
    return {
        "fault_id": tuple((str(one.fault_id), f"f{one.fault_id} {one.symptom}") for one in faults),
        "task_id": tuple((str(one.task_id), one.name) for one in read_unit(desk, unit_id).tasks),
        "model_step_id": tuple((str(one.step_id), f"{one.position} {one.words}") for one in steps),
    }


class DroppedForm(Form[bool]):
    """Asks which unit pictures are of that came into the watched folder; Esc leaves them there.

    It begins with the unit that the acting person's timer runs on.
    """

    cancel_label = "Leave it"

    def __init__(self, paths: Sequence[Path]) -> None:
        names = [path.name for path in paths[:MOST_NAMED]]
        more = f" and {len(paths) - MOST_NAMED} more" if len(paths) > MOST_NAMED else ""
        what = "a photograph" if len(paths) == 1 else f"{len(paths)} photographs"
        super().__init__(
            FormOf(
                heading=f"The watched folder has {what}",
                draft=f"dropped {names[0][:60] if names else ''}",
                above=for_display(f"{', '.join(names)}{more}. Attach to which unit?"),
                fields=(
                    TextField("caption", "Caption"),
                    TextField("tag_text", "Unit", takes=TAG, hint="its tag"),
                    MarkField("shown", "", IN_PAPERS),
                    MarkField("move", "", "delete the original in the watched folder"),
                ),
                reads=read_tag_at_hand,
                begins=lambda tag: Begun(values={"tag_text": tag}),
                send="Attach",
                does=lambda filled: _attach([str(path) for path in paths], filled),
                says=kept_words,
            )
        )

    def typed_before(self, facts: Any) -> dict[str, str]:
        """Never an earlier unit: its tag is that of the one on the bench now."""
        return {name: text for name, text in super().typed_before(facts).items() if name != "tag_text"}


class AskErase(Dialog[bool]):
    """Asked before a photograph is erased, which cannot be undone."""

    AUTO_FOCUS = "#do-cancel"
    send_label = "Erase it"

    def __init__(self, line: PhotographLine, tag: str) -> None:
        super().__init__(f"Erase photograph {line.photograph_id} of {tag}?")
        self.line = line

    def body(self) -> Iterable[Widget]:
        """What would be gone."""
        words = f"{self.line.name}: its file and caption are deleted for good. This cannot be undone."
        yield Words(Content(for_display(words)), id="known")

    def work(self) -> Callable[[], Any]:
        """Erase it."""
        desk, number = self.desk, self.line.photograph_id
        return lambda: use_cases.photograph_erasing.erase_photograph(desk, number)

    def sent(self, result: Any) -> None:
        """Say what was erased."""
        say(self.app, erased_words(result))
        super().sent(result)


def _attach(paths: Sequence[str], filled: Filled) -> PhotographsKept:
    typed = dict(filled.typed)
    unit_id = unit_by_tag(filled.desk, typed.pop("tag_text"))
    return use_cases.photographs.attach_photographs(filled.desk, unit_id, paths, **typed)
