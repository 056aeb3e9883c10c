"""The forms of photographs: kept by path or from the watched folder, captioned, erased."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from bench.dashboard import use_cases
from bench.dashboard.doing import say
from bench.dashboard.presenters.photograph_rows import erased_words, kept_words
from bench.dashboard.screens.dialogs.choice_fields import ChoiceField, MarkField
from bench.dashboard.screens.dialogs.described import Begun, Filled, FormOf
from bench.dashboard.screens.dialogs.dialog import Dialog
from bench.dashboard.screens.dialogs.field import TAG
from bench.dashboard.screens.dialogs.form import Form, form
from bench.dashboard.screens.dialogs.text_fields import TextField
from bench.domain.photographs import CAPTION_DRAFT, PhotographsKept
from bench.domain.text import for_display
from bench.views.particulars import unit_by_tag
from bench.views.photographs import PhotographLine, read_tag_at_hand
from bench.views.unit import UnitSheet, read_unit

MOST_NAMED = 5
IN_PAPERS = "goes into papers"


@form
def attach_form(unit_id: int, tag: str) -> FormOf[bool]:
    """A picture kept of a unit; the place where it was taken is not."""

    def keep(filled: Filled) -> PhotographsKept:
        typed = dict(filled.typed)
        paths = [typed.pop("path")]
        return use_cases.photographs.attach_photographs(filled.desk, unit_id, paths, **typed)

    def begin(sheet: UnitSheet) -> Begun:
        return Begun(choices={"task_id": [(str(one.task_id), one.name) for one in sheet.tasks]})

    return FormOf(
        heading=f"New photograph of {tag}",
        draft=f"photograph {unit_id}",
        fields=(
            TextField("path", "File", hint="its path: JPEG, PNG or WebP"),
            TextField("caption", "Caption"),
            ChoiceField("task_id", "Shows task", none="the unit as a whole", ids=True),
            MarkField("shown", "", IN_PAPERS),
        ),
        reads=lambda desk: read_unit(desk, unit_id),
        begins=begin,
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
        yield Static(Content(for_display(words)), id="known")

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
